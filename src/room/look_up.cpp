#include "room/look_up.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <set>

#include "core/letters.h"
#include "species/food_ids.h"

namespace warmside::room {
namespace {

template <class Record>
Result<const Record*> find_named(const std::vector<Record>& records, std::string_view wanted) {
  if (const auto* record = find(records, decltype(Record::id)::trusted(std::string(wanted)))) {
    return record;
  }
  const Record* match = nullptr;
  int matches = 0;
  std::string known;
  for (const Record& record : records) {
    if (lower(record.name) == lower(wanted) && !record.name.empty()) {
      match = &record;
      ++matches;
    }
    if (known.size() < 300) known += (known.empty() ? "" : ", ") + record.id.text();
  }
  if (matches == 1) return match;
  return Problem{ProblemCode::unknown_name,
                 matches == 0
                     ? fmt::format("no {} of this name", Record::kWord)
                     : fmt::format("more than one {} of this name; use its id", Record::kWord),
                 {},
                 known.empty() ? "(the book has none yet)" : "one of " + known,
                 shown(wanted)};
}

/// Wide bounds of our own, meant to catch slips of units.
constexpr double kMostOfVitamin_iu_per_g = 100'000;
constexpr double kMostInFood_per_kg = 1'000'000;
constexpr double kMostEnergy_kcal_per_100g = 900;  // pure fat

/// Collects what is wrong with one record after the other.
class Inspector {
 public:
  Inspector(const Room& room, std::vector<RecordProblem>& found) : room_(room), found_(found) {}

  template <class Record>
  void inspect_all(const std::vector<Record>& records) {
    const Record* last = nullptr;
    for (const Record& record : records) {
      kind_ = Record::kWord;
      id_ = record.id.text();
      if (!is_id_text(id_)) report("id", bad_id_text(id_));
      if (last != nullptr && last->id == record.id) {
        refuse("id", ProblemCode::duplicate, "this id is used twice", "an id of its own");
      }
      last = &record;
      Record::describe(record, *this);
      inspect(record);
    }
  }

  /// The visitor of describe(): references must lead somewhere.
  template <class T>
  void operator()(const char* name, Need need, const T& field, const char*) {
    if constexpr (std::is_same_v<T, std::string>) {
      if (need == Need::must && field.empty()) {
        refuse(name, ProblemCode::missing, "must not be empty");
      }
      if (field.size() > kLongestNote) refuse(name, ProblemCode::bad_value, "too long");
    } else if constexpr (std::is_same_v<T, species::SpeciesId>) {
      species::Profile own;
      if (!field.empty() && find_species(room_, field, own) == nullptr) {
        refuse(name, ProblemCode::unknown_name, "no such species",
               "an id from `warmside species`, or of your own [[species]]", field.text());
      } else if (field.empty() && need == Need::must) {
        refuse(name, ProblemCode::missing, "must be given");
      }
    } else {
      reference(name, field);
    }
  }

  void inspect_room() {
    kind_ = RoomInfo::kWord;
    id_.clear();
    const RoomInfo& info = room_.info;
    if (info.name.empty()) refuse("name", ProblemCode::missing, "must not be empty");
    if (const auto zone = Zone::named(info.zone); !zone) report("zone", zone.problem());
    const auto degrees = [&](const char* field, std::optional<double> value, double most) {
      if (value && !(*value >= -most && *value <= most)) {
        refuse(field, ProblemCode::out_of_range, "not on this earth",
               fmt::format("-{0} to {0}", most), fmt::format("{}", *value));
      }
    };
    degrees("latitude", info.latitude_deg, 90);
    degrees("longitude", info.longitude_deg, 180);
    const auto capital = [](char c) { return c >= 'A' && c <= 'Z'; };
    if (!info.country.empty() &&
        !(info.country.size() == 2 && capital(info.country[0]) && capital(info.country[1]))) {
      refuse("country", ProblemCode::bad_value, "not the sign of a country",
             "two capital letters, such as NO", shown(info.country));
    }
  }

 private:
  void report(const char* field, Problem problem) {
    found_.push_back({kind_, id_, field, std::move(problem)});
  }
  void refuse(const char* field, ProblemCode code, std::string what, std::string expected = "",
              std::string found = "") {
    report(field, Problem{code, std::move(what), {}, std::move(expected), std::move(found)});
  }

  template <class T>
  void reference(const char*, const T&) {}
  void reference(const char* name, const FoodId& id) {
    constexpr std::size_t kMostNamed = 6;
    if (id.empty() || species::is_food_id(id.text()) || find(room_.own_foods, id)) return;
    const auto like = species::food_ids_like(id.text(), kMostNamed);
    refuse(name, ProblemCode::unknown_name, "no food of this id",
           like.empty() ? "an id from `warmside foods`, or of your own [[food]]"
                        : fmt::format("an id from `warmside foods` (such as {}), or of your own "
                                      "[[food]]",
                                      fmt::join(like, ", ")),
           id.text());
  }
  template <class Tag>
  void reference(const char* name, const Id<Tag>& id) {
    if (id.empty()) return;
    bool there = false;
    Room::for_each_kind(room_, [&](const auto& records) {
      using Record = typename std::remove_cvref_t<decltype(records)>::value_type;
      if constexpr (std::is_same_v<Record, Tag>) there = find(records, id) != nullptr;
    });
    if (!there) {
      refuse(name, ProblemCode::unknown_name,
             fmt::format("the room has no {} of this id", Tag::kWord),
             fmt::format("the id of a [[{}]]", Tag::kWord), id.text());
    }
  }

  // What only one kind of record has to keep to.
  template <class Record>
  void inspect(const Record&) {}
  void inspect(const OwnSpecies& own) {
    if (species::built_in().find(own.id) != nullptr) {
      refuse("id", ProblemCode::conflict, "the program knows this species already",
             "an id of its own; to change values, use [[override]]", own.id.text());
    }
  }
  void inspect(const Enclosure& enclosure) {
    const auto dimension = [&](const char* field, const std::optional<Length>& length) {
      if (length && !(*length > Length::metres(0))) {
        refuse(field, ProblemCode::out_of_range, "an enclosure of no size", "more than 0cm");
      }
    };
    dimension("length", enclosure.length);
    dimension("width", enclosure.width);
    dimension("height", enclosure.height);
    at_most_whole("lid_covered", enclosure.lid_covered, "more than the whole lid");
    at_most_whole("mesh_open", enclosure.mesh_open, "more open than a hole");
  }
  void at_most_whole(const char* field, const std::optional<Percentage>& share, const char* what) {
    if (share && share->share() > 1) {
      refuse(field, ProblemCode::out_of_range, what, "0% to 100%", to_text(*share));
    }
  }
  void inspect(const Socket& socket) {
    if (socket.plugged_into.empty()) return;
    if (!socket.circuit.empty()) {
      refuse("circuit", ProblemCode::bad_value, "give either a circuit or plugged_into",
             "one of them", socket.circuit.text());
    }
    // Each further step goes to another socket, unless they go round.
    const Socket* at = &socket;
    for (std::size_t steps = 0; at != nullptr && !at->plugged_into.empty(); ++steps) {
      if (steps > room_.sockets.size()) {
        refuse("plugged_into", ProblemCode::conflict, "strips that are plugged into each other",
               "a socket that leads to a wall", socket.plugged_into.text());
        return;
      }
      at = find(room_.sockets, at->plugged_into);
    }
  }
  void inspect(const Lamp& lamp) {
    if (lamp.beam_deg && !(*lamp.beam_deg >= 1 && *lamp.beam_deg <= 180)) {
      refuse("beam_deg", ProblemCode::out_of_range, "no angle of a beam", "1 to 180 degrees",
             fmt::format("{}", *lamp.beam_deg));
    }
  }
  void inspect(const Appliance& appliance) {
    at_most_whole("running", appliance.running, "more than all the time");
  }
  /// Not below nothing nor above what any can hold: a slip of units shows here.
  template <class Record>
  void inspect_amounts(const Record& record, double most) {
    Record::describe(record, [&](const char* name, Need, const auto& field, const char*) {
      if constexpr (std::is_same_v<std::remove_cvref_t<decltype(field)>, std::optional<double>>) {
        if (field && !(*field >= 0 && *field <= most)) {
          refuse(name, ProblemCode::out_of_range, "no such amount",
                 fmt::format("0 to {:.0f}, in the unit at the end of the name", most),
                 fmt::format("{}", *field));
        }
      } else if constexpr (std::is_same_v<std::remove_cvref_t<decltype(field)>,
                                          std::optional<Percentage>>) {
        if (field && field->share() > 1) {
          refuse(name, ProblemCode::out_of_range, "more than the whole", "0% to 100%",
                 to_text(*field));
        }
      }
    });
  }
  void inspect_piece(const std::optional<Mass>& mass) {
    if (mass && !(*mass > Mass::grams(0))) {
      refuse("piece_mass", ProblemCode::out_of_range, "a piece of no mass", "more than 0g");
    }
  }
  void inspect(const Jar& jar) { inspect_amounts(jar, kMostOfVitamin_iu_per_g); }
  void inspect(const OwnFood& food) {
    inspect_amounts(food, kMostInFood_per_kg);
    inspect_piece(food.piece_mass);
    const auto share = [&](const char* field, const std::optional<double>& grams) {
      if (grams && *grams > 100) {
        refuse(field, ProblemCode::out_of_range, "more than the whole", "0 to 100",
               fmt::format("{}", *grams));
      }
    };
    share("oxalic_acid_g_per_100g", food.oxalic_acid_g_per_100g);
    if (food.energy_kcal_per_100g && *food.energy_kcal_per_100g > kMostEnergy_kcal_per_100g) {
      refuse("energy_kcal_per_100g", ProblemCode::out_of_range, "more than fat holds", "0 to 900",
             fmt::format("{}", *food.energy_kcal_per_100g));
    }
  }
  void inspect(const Supply& supply) {
    inspect_piece(supply.piece_mass);
    if (supply.count && *supply.count < 0) {
      refuse("count", ProblemCode::out_of_range, "less than nothing", "0 or more",
             std::to_string(*supply.count));
    }
  }
  void inspect(const Animal& animal) {
    if (animal.count < 1 || animal.count > 10'000) {
      refuse("count", ProblemCode::out_of_range, "not a number of animals", "1 to 10000",
             std::to_string(animal.count));
    }
    if (animal.born && animal.arrived && *animal.arrived < *animal.born) {
      refuse("arrived", ProblemCode::conflict, "arrived before it was born", "",
             to_text(*animal.arrived));
    }
    if (animal.left && animal.arrived && *animal.left < *animal.arrived) {
      refuse("left", ProblemCode::conflict, "left before it arrived", "", to_text(*animal.left));
    }
  }
  void inspect(const Override& entry) {
    if (entry.animal.empty() == entry.species.empty()) {
      refuse("animal", ProblemCode::bad_value, "give either an animal or a species", "one of them");
    }
    const auto key = species::find_key(entry.key);
    if (!key) {
      refuse("key", ProblemCode::unknown_name, "no such value in a profile",
             "a key that `warmside species` prints, such as night", shown(entry.key));
    } else if (const auto value = species::read_value(*key, entry.value); !value) {
      report("value", value.problem());
    }
    if (!overridden_.insert({entry.animal.text(), entry.species.text(), entry.key}).second) {
      refuse("key", ProblemCode::duplicate, "overridden twice", "one [[override]] for each value",
             shown(entry.key));
    }
  }
  void inspect(const StandingTask& task) {
    const double days = task.every.days();
    if (!(days >= 1 && days <= 3660) || days != static_cast<int>(days)) {
      refuse("every", ProblemCode::out_of_range, "not whole days", "1d to 3660d",
             to_text(task.every));
    }
  }

  const Room& room_;
  std::vector<RecordProblem>& found_;
  std::string kind_;
  std::string id_;
  std::set<std::array<std::string, 3>> overridden_;
};

}  // namespace

void sort_records(Room& room) {
  Room::for_each_kind(room, [](auto& records) {
    std::stable_sort(records.begin(), records.end(),
                     [](const auto& a, const auto& b) { return a.id < b.id; });
  });
}

Result<const Animal*> find_animal(const Room& room, std::string_view id_or_name) {
  return find_named(room.animals, id_or_name);
}

Result<const Enclosure*> find_enclosure(const Room& room, std::string_view id_or_name) {
  return find_named(room.enclosures, id_or_name);
}

Subject subject_of(const Animal& animal) {
  return {SubjectKind::animal, animal.id.text()};
}
Subject subject_of(const Enclosure& enclosure) {
  return {SubjectKind::enclosure, enclosure.id.text()};
}

const species::Profile* find_species(const Room& room, const species::SpeciesId& id,
                                     species::Profile& own_storage) {
  if (const auto* profile = species::built_in().find(id)) return profile;
  const OwnSpecies* own = find(room.own_species, id);
  if (own == nullptr) return nullptr;
  own_storage = {own->id, own->common_name, own->scientific_name, own->group, own->activity, {}};
  return &own_storage;
}

species::Profile profile_of(const Room& room, const Animal& animal) {
  species::Profile own;
  const species::Profile* base = find_species(room, animal.species, own);
  species::Profile profile = base == nullptr ? species::Profile{} : *base;
  const auto lay_over = [&](const Override& entry) {
    const auto key = species::find_key(entry.key);
    if (!key) return;
    auto value = species::read_value(*key, entry.value);
    if (!value) return;
    const species::Fact* old = profile.find(*key);
    profile.put({*key, *value, Trust::keeper, "the keeper: " + entry.reason,
                 old == nullptr ? ""
                                : fmt::format("in place of {} ({})",
                                              species::for_people(old->value, room.info.units),
                                              word(old->trust))});
  };
  for (const Override& entry : room.overrides) {
    if (entry.species == animal.species && !entry.species.empty()) lay_over(entry);
  }
  for (const Override& entry : room.overrides) {
    if (entry.animal == animal.id && !entry.animal.empty()) lay_over(entry);
  }
  return profile;
}

EnclosureId home_of(const Animal& animal, const History& history) {
  const Entry* move = history.latest(subject_of(animal), EntryKind::moved);
  return move == nullptr || !move->target ? animal.enclosure
                                          : EnclosureId::trusted(move->target->id);
}

Zone zone_of(const Room& room) {
  const auto zone = Zone::named(room.info.zone);
  return zone ? *zone : Zone();
}

bool is_here(const Animal& animal, Date day) {
  return (!animal.arrived || *animal.arrived <= day) && (!animal.left || *animal.left > day);
}

std::vector<RecordProblem> check_room(const Room& room) {
  std::vector<RecordProblem> found;
  Inspector inspector(room, found);
  inspector.inspect_room();
  Room::for_each_kind(room, [&](const auto& records) { inspector.inspect_all(records); });
  return found;
}

}  // namespace warmside::room
