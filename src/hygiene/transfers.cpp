#include "hygiene/transfers.h"

#include <fmt/format.h>

#include <algorithm>
#include <set>
#include <tuple>

#include "room/look_up.h"

namespace warmside::hygiene {
namespace {

using room::AnimalDay;
using room::Day;
using room::Entry;
using room::EntryKind;
using room::Subject;
using room::SubjectKind;

/// As far back as Day::history recalls tools (room/day.cpp), and the shortest quarantine.
constexpr int kWeeksDays = 30;

bool earlier(const Entry* a, const Entry* b) {
  return std::tie(a->at, a->id) < std::tie(b->at, b->id);
}

/// When the quarantine it is in began, whatever began it anew since: at its first start after the
/// last end, or at an arrival not long before.
Date quarantine_began(const Day& day, const AnimalDay& animal) {
  const Subject subject = room::subject_of(*animal.animal);
  const Entry* ended = day.history->latest(subject, EntryKind::quarantine_ended);
  Date began = *animal.quarantine_since;
  for (const Entry& start : day.history->all(subject, EntryKind::quarantine_started)) {
    if (ended == nullptr || earlier(ended, &start)) began = std::min(began, day.date_of(start));
  }
  const auto& arrived = animal.animal->arrived;
  if (ended == nullptr && arrived && began - *arrived <= kWeeksDays) {
    began = std::min(began, *arrived);
  }
  return began;
}

ServiceClass class_at(const Day& day, const AnimalDay& animal, Date date) {
  if (animal.ill_since && *animal.ill_since <= date) return ServiceClass::sick;
  if (animal.quarantine_since && quarantine_began(day, animal) <= date) {
    return ServiceClass::quarantine;
  }
  return ServiceClass::resident;
}

const AnimalDay* find_animal(const Day& day, const std::string& id) {
  const auto at = std::lower_bound(day.animals.begin(), day.animals.end(), id,
                                   [](const AnimalDay& animal, const std::string& wanted) {
                                     return animal.animal->id.text() < wanted;
                                   });
  return at != day.animals.end() && at->animal->id.text() == id ? &*at : nullptr;
}

/// Calls visit(entry) for the entries of a kind since a moment, latest first.
template <class Visit>
void each_since(const Day& day, const Subject& subject, EntryKind kind, Instant since,
                Visit visit) {
  const auto entries = day.history->all(subject, kind);
  for (auto entry = entries.rbegin(); entry != entries.rend() && entry->at >= since; ++entry) {
    visit(*entry);
  }
}

Instant weeks_ago(const Day& day) {
  return day.history->until() - Duration::days(kWeeksDays);
}

void add(Household& household, const Day& day, const AnimalDay& animal, Date date) {
  household.animals.push_back(&animal);
  const ServiceClass service_class = class_at(day, animal, date);
  if (service_class > household.service_class) {
    household.service_class = service_class;
    household.most_exposed = &animal;
  }
}

/// One tool's uses and disinfections in order, and what it carried on.
class ToolCourse {
 public:
  ToolCourse(const Day& day, const Households& households, const room::Tool& tool)
      : day_(day), households_(households), tool_(tool) {}

  void follow(std::vector<Transfer>& found) {
    const Subject subject{SubjectKind::tool, tool_.id.text()};
    std::vector<const Entry*> events;
    for (const EntryKind kind : {EntryKind::used, EntryKind::disinfected}) {
      for (const Entry& entry : day_.history->all(subject, kind)) events.push_back(&entry);
    }
    std::sort(events.begin(), events.end(), earlier);
    own_ = !tool_.enclosure.empty();
    for (const Entry* event : events) {
      if (event->kind == EntryKind::disinfected) {
        disinfect(*event);
      } else if (event->target) {
        use(*event, found);
      }
    }
  }

 private:
  struct Soil {
    Household household;
    Subject subject;
    std::optional<Instant> at;
  };

  void disinfect(const Entry& entry) {
    const std::string why = coverage_of(entry.item, entry.count).counts_for_nothing();
    if (why.empty()) {
      soils_.clear();
      passed_over_.clear();
      own_ = false;
    } else {
      passed_over_.push_back(fmt::format("the disinfection of {} counts for nothing: {}",
                                         day_.zone.wall_text(entry.at), why));
    }
  }

  void use(const Entry& entry, std::vector<Transfer>& found) {
    Soil now{households_.of(*entry.target, entry.at), *entry.target, entry.at};
    const Soil* worst = nullptr;
    const auto consider = [&](const Soil& soil) {
      if (soil.household.id == now.household.id) return;
      if (worst == nullptr || soil.household.service_class >= worst->household.service_class) {
        worst = &soil;
      }
    };
    std::optional<Soil> owner;
    if (own_) {
      const Subject home{SubjectKind::enclosure, tool_.enclosure.text()};
      owner = Soil{households_.of(home, entry.at), home, std::nullopt};
      if (!owner->household.animals.empty()) consider(*owner);
    }
    for (const Soil& soil : soils_) consider(soil);
    if (worst != nullptr && entry.at >= weeks_ago(day_)) {
      found.push_back({way_of(tool_.kind), &tool_, worst->household, now.household, worst->subject,
                       now.subject, worst->at, entry.at, passed_over_});
    }
    std::erase_if(soils_, [&](const Soil& s) { return s.household.id == now.household.id; });
    soils_.push_back(std::move(now));
  }

  const Day& day_;
  const Households& households_;
  const room::Tool& tool_;
  bool own_ = false;         // still soiled by the enclosure whose it is
  std::vector<Soil> soils_;  // since the last disinfection, the latest of each household
  std::vector<std::string> passed_over_;
};

void add_leftovers(const Day& day, const Households& households, std::vector<Transfer>& found) {
  for (const AnimalDay& animal : day.animals) {
    const Subject subject = room::subject_of(*animal.animal);
    each_since(day, subject, EntryKind::leftovers, weeks_ago(day), [&](const Entry& entry) {
      if (!entry.target) return;
      Household from = households.of(subject, entry.at);
      Household to = households.of(*entry.target, entry.at);
      if (from.id == to.id) return;
      found.push_back({Way::leftovers,
                       nullptr,
                       std::move(from),
                       std::move(to),
                       subject,
                       *entry.target,
                       entry.at,
                       entry.at,
                       {}});
    });
  }
}

/// A healthy animal that lives with one in quarantine or ill, or came or went since that began.
void add_company(const Day& day, const Households& households, const AnimalDay& exposed,
                 std::vector<Transfer>& found) {
  const Subject source = room::subject_of(*exposed.animal);
  const Date began = exposed.ill_since ? *exposed.ill_since : quarantine_began(day, exposed);
  const Instant since = std::max(day.zone.start_of(began), weeks_ago(day));
  for (const AnimalDay& other : day.animals) {
    if (class_at(day, other, day.date) != ServiceClass::resident) continue;
    const Subject subject = room::subject_of(*other.animal);
    std::optional<Instant> met;
    if (!other.home.empty() && other.home == exposed.home) met = day.history->until();
    each_since(day, subject, EntryKind::moved, since, [&](const Entry& move) {
      if (met) return;
      const Instant before = move.at - Duration::seconds(1);
      const auto there = room::home_at(day, *exposed.animal, before);
      if (!there.empty() && (room::home_at(day, *other.animal, before) == there ||
                             room::home_at(day, *other.animal, move.at) == there)) {
        met = move.at;
      }
    });
    if (!met) continue;
    Household to;
    to.id = other.animal->id.text();
    add(to, day, other, day.date);
    found.push_back({Way::enclosure,
                     nullptr,
                     households.of(source, *met),
                     std::move(to),
                     source,
                     subject,
                     std::nullopt,
                     *met,
                     {}});
  }
}

}  // namespace

Households::Households(const Day& day) : day_(day) {
  for (const AnimalDay& animal : day.animals) {
    std::set<std::string> homes{animal.animal->enclosure.text()};
    for (const Entry& move : day.history->all(room::subject_of(*animal.animal), EntryKind::moved)) {
      if (move.target) homes.insert(move.target->id);
    }
    for (const std::string& home : homes) lived_[home].push_back(&animal);
  }
}

Household Households::of(const Subject& subject, Instant at) const {
  const Date date = day_.zone.date_of(at);
  Household household;
  household.id = subject.id;
  if (subject.kind == SubjectKind::animal) {
    const AnimalDay* animal = find_animal(day_, subject.id);
    if (animal == nullptr) return household;  // it has left the room
    const auto home = room::home_at(day_, *animal->animal, at);
    if (home.empty()) {
      add(household, day_, *animal, date);
      return household;
    }
    household.id = home.text();
  }
  const auto lived = lived_.find(household.id);
  if (lived == lived_.end()) return household;
  for (const AnimalDay* animal : lived->second) {
    if (room::home_at(day_, *animal->animal, at).text() == household.id) {
      add(household, day_, *animal, date);
    }
  }
  return household;
}

std::vector<Transfer> transfers_of(const Day& day) {
  const Households households(day);
  std::vector<Transfer> found;
  for (const room::Tool& tool : day.room->tools) ToolCourse(day, households, tool).follow(found);
  add_leftovers(day, households, found);
  for (const AnimalDay& animal : day.animals) {
    if (class_at(day, animal, day.date) > ServiceClass::resident)
      add_company(day, households, animal, found);
  }
  std::stable_sort(found.begin(), found.end(),
                   [](const Transfer& a, const Transfer& b) { return a.at < b.at; });
  return found;
}

std::vector<Transfer> hands_of(const Day& day) {
  const bool all_healthy =
      std::none_of(day.animals.begin(), day.animals.end(), [&](const AnimalDay& animal) {
        return class_at(day, animal, day.date) > ServiceClass::resident;
      });
  if (all_healthy) return {};
  const Households households(day);
  const bool one_keeper = day.room->keepers.size() < 2;
  std::vector<const Entry*> touched;
  const auto take = [&](const Subject& subject) {
    for (std::size_t i = 0; i < Words<EntryKind>::list.size(); ++i) {
      const auto kind = static_cast<EntryKind>(i);
      if (!is_handling(kind)) continue;
      each_since(day, subject, kind, day.zone.start_of(day.date - 1), [&](const Entry& entry) {
        if (one_keeper || !entry.by.empty()) touched.push_back(&entry);
      });
    }
  };
  for (const AnimalDay& animal : day.animals) take(room::subject_of(*animal.animal));
  for (const room::Enclosure& enclosure : day.room->enclosures) take(room::subject_of(enclosure));
  std::sort(touched.begin(), touched.end(), earlier);
  struct Hands {
    Instant last;
    std::optional<std::pair<Household, const Entry*>> soil;
  };
  std::map<std::string, Hands> keepers;
  std::vector<Transfer> found;
  for (const Entry* entry : touched) {
    Hands& hands = keepers[one_keeper ? "" : entry->by.text()];
    if ((entry->at - hands.last).seconds() * 1000 > static_cast<double>(kHandsRest_ms)) {
      hands.soil.reset();
    }
    hands.last = entry->at;
    Household now = households.of(entry->subject, entry->at);
    if (hands.soil && hands.soil->first.id != now.id &&
        hands.soil->first.service_class > now.service_class && hands.soil->second->at < entry->at) {
      found.push_back({Way::hands,
                       nullptr,
                       hands.soil->first,
                       now,
                       hands.soil->second->subject,
                       entry->subject,
                       hands.soil->second->at,
                       entry->at,
                       {}});
    }
    if (now.service_class > ServiceClass::resident &&
        (!hands.soil || now.service_class >= hands.soil->first.service_class)) {
      hands.soil = {std::move(now), entry};
    }
  }
  return found;
}

}  // namespace warmside::hygiene
