#pragma once
// Random rooms and notebooks for the property tests: any room that check_room accepts, and entries
// that its book takes. The fields come from describe(), so that a field added there is drawn here.
//
//     const room::Room room = *property::any_room();
//     const auto entries = *property::any_entries(room, 20);
//
// Texts are chosen to be awkward (quotes, breaks, NUL, odd Unicode), quantities are random
// decimals in any unit and random doubles, references lead to records that are there or nowhere.
// Rooms are small: it is variety that finds mistakes, not size.

#include <fmt/format.h>
#include <rapidcheck.h>

#include <algorithm>
#include <cmath>
#include <ostream>
#include <set>
#include <string>
#include <vector>

#include "book/notebook_file.h"
#include "book/room_file.h"
#include "room/entry.h"
#include "room/fields.h"
#include "room/look_up.h"

// How RapidCheck prints a failed case: as its files.
namespace warmside::room {
inline void showValue(const Room& room, std::ostream& out) {
  out << book::write_room_file(room);
}
inline void showValue(const Entry& entry, std::ostream& out) {
  out << book::notebook_line(entry, UnitSystem::metric);
}
}  // namespace warmside::room

namespace warmside::property {

// ---- Texts -------------------------------------------------------------------------------------

/// At most `most_bytes` of whole UTF-8 characters.
inline rc::Gen<std::string> any_text(std::size_t most_bytes) {
  static const std::vector<std::string> kPieces{"a",
                                                "B",
                                                "7",
                                                " ",
                                                "Juniper",
                                                "\"",
                                                "\"\"\"",
                                                "'",
                                                "'''",
                                                "\\",
                                                "\\u0041",
                                                "\n",
                                                "\r\n",
                                                "\r",
                                                "\t",
                                                std::string(1, '\0'),
                                                "\x01",
                                                "\x1f",
                                                "\x7f",
                                                "[",
                                                "[[[[[[[[[[[[[[[[[[[[",
                                                "]",
                                                "{",
                                                "}",
                                                "#",
                                                "=",
                                                ",",
                                                ";",
                                                "-",
                                                "null",
                                                "true",
                                                "2026-11-25",
                                                "{\"id\":1}",
                                                "[[animal]]",
                                                "\xc3\xa9",      // e acute
                                                "e\xcc\x81",     // the same in two characters
                                                "\xc2\x85",      // next line (a C1 control)
                                                "\xc2\xa0",      // no-break space
                                                "\xe2\x80\xa8",  // line separator
                                                "\xe2\x80\xae",  // right-to-left override
                                                "\xef\xbb\xbf",  // byte-order mark
                                                "\xef\xbf\xbd",
                                                "\xef\xbf\xbf",      // replacement, a noncharacter
                                                "\xf0\x9f\xa6\x8e",  // lizard
                                                "\xf4\x8f\xbf\xbf",  // U+10FFFF, the last
                                                "\xe6\xb5\xb7\xe9\xbe\x9c"};
  return rc::gen::map(
      rc::gen::resize(8, rc::gen::container<std::vector<std::string>>(rc::gen::elementOf(kPieces))),
      [most_bytes](const std::vector<std::string>& pieces) {
        std::string text;
        for (const std::string& piece : pieces) {
          if (text.size() + piece.size() <= most_bytes) text += piece;
        }
        return text;
      });
}

inline rc::Gen<std::string> any_text_but_empty(std::size_t most_bytes) {
  return rc::gen::map(any_text(most_bytes),
                      [](std::string text) { return text.empty() ? std::string("x") : text; });
}

/// One of those that may be an id, short or of the full 64 characters.
inline rc::Gen<std::string> any_id_text() {
  const auto first = rc::gen::elementOf(std::string("abz019"));
  const auto rest = rc::gen::elementOf(std::string("abz019-_"));
  return rc::gen::exec([=] {
    const int length =
        *rc::gen::weightedOneOf<int>({{6, rc::gen::inRange(0, 5)}, {1, rc::gen::just(63)}});
    std::string text(1, *first);
    for (int i = 0; i < length; ++i) text += *rest;
    return text;
  });
}

// ---- Quantities --------------------------------------------------------------------------------

/// The units that parse() takes, the SI unit first (core/quantity.h lists them).
template <class Q>
std::vector<std::string> units_of() {
  using U = std::vector<std::string>;
  if constexpr (std::same_as<Q, Temperature>) return U{"K", "C", "F"};
  if constexpr (std::same_as<Q, TemperatureDelta>) return U{"K", "dC", "dF"};
  if constexpr (std::same_as<Q, Mass>) return U{"kg", "g", "mg", "oz", "lb"};
  if constexpr (std::same_as<Q, Length>) return U{"m", "cm", "mm", "in", "ft"};
  if constexpr (std::same_as<Q, Area>) return U{"m2", "cm2", "in2", "ft2"};
  if constexpr (std::same_as<Q, Volume>) return U{"m3", "L", "mL", "gal", "qt", "floz"};
  if constexpr (std::same_as<Q, Power>) return U{"W", "kW"};
  if constexpr (std::same_as<Q, Duration>) return U{"s", "min", "h", "d", "wk"};
  if constexpr (std::same_as<Q, Percentage>) return U{"share", "%"};
  if constexpr (std::same_as<Q, UvIndex>) return U{"UVI"};
}

/// Any quantity above zero: half of them what a person types, half any double of many sizes.
/// Shares are of a whole (of a lid, of what air can hold), so at most 100 %.
template <Quantity Q>
rc::Gen<Q> any_quantity() {
  if constexpr (std::same_as<Q, Percentage>) {
    return rc::gen::oneOf(
        rc::gen::map(rc::gen::inRange(1, 1001), [](int n) { return Q::percent(n / 10.0); }),
        rc::gen::map(rc::gen::inRange(1, 1'000'000), [](int n) { return Q::share(n / 1e6); }),
        rc::gen::map(rc::gen::inRange(1, 301), [](int n) { return Q::share(n / 300.0); }));
  }
  const auto typed =
      rc::gen::map(rc::gen::tuple(rc::gen::inRange(1, 2'000'000), rc::gen::inRange(0, 5),
                                  rc::gen::elementOf(units_of<Q>())),
                   [](const std::tuple<int, int, std::string>& parts) {
                     const auto& [digits, decimals, unit] = parts;
                     const double value = digits / std::pow(10.0, decimals);
                     return parse<Q>(fmt::format("{:.{}f}{}", value, decimals, unit)).value();
                   });
  const auto raw = rc::gen::map(
      rc::gen::tuple(rc::gen::inRange<std::int64_t>(1'000'000, 10'000'000'000'000),
                     rc::gen::inRange(0, 10), rc::gen::elementOf(units_of<Q>())),
      [](const std::tuple<std::int64_t, int, std::string>& parts) {
        const auto& [digits, exponent, unit] = parts;
        const double value = static_cast<double>(digits) / 3e9 / std::pow(10.0, exponent);
        return parse<Q>(fmt::format("{}{}", value, unit)).value();
      });
  return rc::gen::oneOf(typed, raw);
}

// ---- Times -------------------------------------------------------------------------------------

inline Date day(int year, int month, int day_of_month) {
  return Date::of(year, month, day_of_month).value();
}

/// Any day of years 0001 to 9999, most often of this century, sometimes the first or last.
inline rc::Gen<Date> any_date() {
  const auto between = [](Date first, Date last) {
    return rc::gen::map(rc::gen::inRange(first.days_from_epoch(), last.days_from_epoch() + 1),
                        [](int days) { return Date::days_from_epoch(days); });
  };
  return rc::gen::weightedOneOf<Date>(
      {{6, between(day(2000, 1, 1), day(2099, 12, 31))},
       {1, between(day(1, 1, 1), day(9999, 12, 31))},
       {1, rc::gen::element(day(1, 1, 1), day(9999, 12, 31), day(2024, 2, 29), day(1970, 1, 1))}});
}

/// Any moment from `from` up to and without `until`, to the millisecond.
inline rc::Gen<Instant> any_instant(Instant from, Instant until) {
  return rc::gen::map(rc::gen::inRange(from.unix_ms(), until.unix_ms()),
                      [](std::int64_t ms) { return Instant::unix_ms(ms); });
}
inline Instant first_instant() {
  return parse_instant("0001-01-01T00:00:00Z").value();
}
inline Instant last_instant() {
  return parse_instant("9999-12-31T23:59:59.999Z").value();
}

inline rc::Gen<Uuid> any_uuid() {
  return rc::gen::map(
      rc::gen::pair(rc::gen::arbitrary<std::uint64_t>(), rc::gen::arbitrary<std::uint64_t>()),
      [](const std::pair<std::uint64_t, std::uint64_t>& halves) {
        Uuid id;
        for (std::size_t i = 0; i < 8; ++i) {
          id.bytes[i] = static_cast<std::uint8_t>(halves.first >> (8 * i));
          id.bytes[8 + i] = static_cast<std::uint8_t>(halves.second >> (8 * i));
        }
        return id;
      });
}

// ---- Rooms -------------------------------------------------------------------------------------

/// Draws the fields of one record: the visitor of describe().
class FieldDrawer {
 public:
  explicit FieldDrawer(const room::Room& room) : room_(room) {}

  template <class T>
  void operator()(const char*, room::Need need, T& field, const char*) {
    draw(field, need == room::Need::must);
  }

 private:
  template <class T>
  void draw(T& field, bool must) {
    if constexpr (room::IsOptional<T>::value) {
      if (*rc::gen::arbitrary<bool>()) draw(field.emplace(), true);
    } else if constexpr (std::same_as<T, std::string>) {
      field = must ? *any_text_but_empty(200) : *any_text(200);
    } else if constexpr (std::same_as<T, bool>) {
      field = *rc::gen::arbitrary<bool>();
    } else if constexpr (std::same_as<T, int>) {
      field =
          *rc::gen::oneOf(rc::gen::inRange(0, 10), rc::gen::inRange(-1'000'000'000, 1'000'000'001));
    } else if constexpr (std::same_as<T, double>) {
      field = *rc::gen::inRange(-90'000'000, 90'000'001) / 1e6;
    } else if constexpr (std::same_as<T, species::SpeciesId>) {
      field = species();
    } else if constexpr (room::IsId<T>::value) {
      field = reference<T>();
    } else if constexpr (Worded<T>) {
      field = static_cast<T>(*rc::gen::inRange<std::size_t>(0, Words<T>::list.size()));
    } else if constexpr (Quantity<T>) {
      field = *any_quantity<T>();
    } else if constexpr (std::same_as<T, Date>) {
      field = *any_date();
    } else if constexpr (std::same_as<T, TimeOfDay>) {
      field = TimeOfDay{*rc::gen::inRange(0, 24 * 60)};
    } else if constexpr (std::same_as<T, room::UvTable>) {
      std::set<Length> distances;
      const int rows = *rc::gen::inRange(1, 4);
      for (int i = 0; i < rows; ++i) {
        distances.insert(std::min(*any_quantity<Length>(), Length::metres(10)));
      }
      for (const Length distance : distances) {
        field.rows.push_back({distance, std::min(*any_quantity<UvIndex>(), UvIndex::index(1000))});
      }
    } else {
      static_assert(std::same_as<T, room::Construction>, "draw the new type of field here");
      const int layers = *rc::gen::inRange(1, 4);
      for (int i = 0; i < layers; ++i) {
        const auto material = *rc::gen::element<std::string>("glass", "cork", "a b_c-9", "mesh");
        const Length thickness = std::min(*any_quantity<Length>(), Length::metres(10));
        field.layers.push_back({material, thickness});
      }
    }
  }

  species::SpeciesId species() const {
    const auto all = species::built_in().all();
    const auto n = *rc::gen::inRange<std::size_t>(0, all.size() + room_.own_species.size());
    return n < all.size() ? all[n].id : room_.own_species[n - all.size()].id;
  }

  template <class AnyId>
  AnyId reference() const {
    std::vector<AnyId> there{AnyId{}};
    room::Room::for_each_kind(room_, [&](const auto& records) {
      for (const auto& record : records) {
        if constexpr (std::same_as<AnyId, std::remove_cvref_t<decltype(record.id)>>) {
          there.push_back(record.id);
        }
      }
    });
    return *rc::gen::elementOf(there);
  }

  const room::Room& room_;
};

// What describe() cannot say of a record; check_room asks for it.
template <class Record>
void make_fit(Record&, const room::Room&) {}
inline void make_fit(room::RoomInfo& info, const room::Room&) {
  info.zone = *rc::gen::element<std::string>("UTC", "Europe/Oslo", "America/St_Johns",
                                             "Pacific/Apia", "Australia/Lord_Howe");
  if (info.longitude_deg) *info.longitude_deg *= 2;  // -180..180
  info.country = *rc::gen::element<std::string>("", "NO", "US", "ZZ");
}
inline void make_fit(room::Socket& socket, const room::Room& room) {
  // Only strips lead to another socket, and only to one that is none: no circles.
  const room::Socket* into = nullptr;
  for (const room::Socket& other : room.sockets) {
    if (other.id == socket.plugged_into) into = &other;
  }
  if (into != nullptr && into->plugged_into.empty()) {
    socket.circuit = {};
  } else {
    socket.plugged_into = {};
  }
}
inline void make_fit(room::Lamp& lamp, const room::Room&) {
  if (lamp.beam_deg) lamp.beam_deg = 1 + std::abs(*lamp.beam_deg);
}
inline void make_fit(room::Supply& supply, const room::Room&) {
  if (supply.count) supply.count = std::abs(*supply.count);
  if (*rc::gen::arbitrary<bool>()) supply.food = room::FoodId::trusted("mouse_adult");
}
/// Amounts of any size from nothing up to `most`.
template <class Record>
void make_amounts_fit(Record& record, double most) {
  Record::describe(record, [&](const char*, room::Need, auto& field, const char*) {
    if constexpr (std::same_as<std::remove_reference_t<decltype(field)>, std::optional<double>>) {
      if (field) field = std::abs(*field) / 90 * most;
    }
  });
}
inline void make_fit(room::Jar& jar, const room::Room&) {
  make_amounts_fit(jar, 100'000);
}
inline void make_fit(room::OwnFood& food, const room::Room&) {
  make_amounts_fit(food, 100);
}
inline void make_fit(room::Animal& animal, const room::Room&) {
  animal.count = *rc::gen::oneOf(rc::gen::just(1), rc::gen::inRange(1, 10'001));
  std::vector<Date> days{*any_date(), *any_date(), *any_date()};
  std::sort(days.begin(), days.end());
  if (animal.born) animal.born = days[0];
  if (animal.arrived) animal.arrived = days[1];
  if (animal.left) animal.left = days[2];
}
inline void make_fit(room::Override& entry, const room::Room& room) {
  if (!room.animals.empty() && *rc::gen::arbitrary<bool>()) {
    entry.animal = room.animals[*rc::gen::inRange<std::size_t>(0, room.animals.size())].id;
    entry.species = {};
  } else {
    entry.animal = {};
  }
  const auto keys = species::all_keys();
  const auto& key = keys[*rc::gen::inRange<std::size_t>(0, keys.size())];
  entry.key = key.name;
  entry.value = key.example;
}
inline void make_fit(room::StandingTask& task, const room::Room&) {
  task.every = Duration::days(*rc::gen::inRange(1, 3661));
}

/// Draws up to `most` records of each kind.
inline rc::Gen<room::Room> any_room(int most = 3) {
  return rc::gen::exec([most] {
    room::Room room;
    FieldDrawer drawer(room);
    room::RoomInfo::describe(room.info, drawer);
    make_fit(room.info, room);
    std::set<std::string> overridden;
    room::Room::for_each_kind(room, [&](auto& records) {
      using Record = typename std::remove_cvref_t<decltype(records)>::value_type;
      std::set<std::string> ids;
      const int count = *rc::gen::inRange(0, most + 1);
      for (int i = 0; i < count; ++i) {
        const bool own_species = std::same_as<Record, room::OwnSpecies>;
        const std::string id = own_species ? "own-" + std::to_string(i) : *any_id_text();
        if (!ids.insert(id).second) continue;
        Record record{};
        record.id = decltype(record.id)::trusted(id);
        Record::describe(record, drawer);
        make_fit(record, room);
        if constexpr (std::same_as<Record, room::Override>) {
          if (!overridden
                   .insert(record.animal.text() + "/" + record.species.text() + "/" + record.key)
                   .second) {
            continue;
          }
        }
        records.push_back(std::move(record));
      }
      std::sort(records.begin(), records.end(),
                [](const Record& a, const Record& b) { return a.id < b.id; });
    });
    return room;
  });
}

// ---- Entries -----------------------------------------------------------------------------------

/// The things of the room that an entry can be about, of these kinds (none given: of any).
inline std::vector<room::Subject> subjects_in(const room::Room& room,
                                              std::span<const room::SubjectKind> kinds) {
  const auto wanted = [&](room::SubjectKind kind) {
    return kinds.empty() || std::find(kinds.begin(), kinds.end(), kind) != kinds.end();
  };
  std::vector<room::Subject> subjects;
  if (wanted(room::SubjectKind::room)) subjects.emplace_back();
  room::Room::for_each_kind(room, [&](const auto& records) {
    for (const auto& record : records) {
      const auto kind = from_word<room::SubjectKind>(record.kWord);
      if (kind && wanted(*kind)) subjects.push_back({*kind, record.id.text()});
    }
  });
  return subjects;
}

/// An entry of this kind that obeys its rule, or a note about the room where the room has nothing
/// that such an entry is about. A strike strikes one of `earlier`.
inline room::Entry draw_entry(const room::Room& room, room::EntryKind kind, Instant at,
                              const std::vector<room::Entry>& earlier) {
  using room::Part;
  const room::EntryRule& rule = room::rule_of(kind);
  const auto subjects = subjects_in(room, rule.subjects);
  const auto targets = subjects_in(room, rule.targets);
  std::vector<Uuid> to_strike;
  for (const room::Entry& entry : earlier) {
    if (entry.kind != room::EntryKind::struck) to_strike.push_back(entry.id);
  }
  const auto must_have = [&](Part part) {
    return std::find(rule.must.begin(), rule.must.end(), part) != rule.must.end();
  };
  room::Entry entry;
  entry.id = *any_uuid();
  entry.at = at;
  entry.note = *any_text(400);
  if (!room.keepers.empty() && *rc::gen::arbitrary<bool>()) {
    entry.by = room.keepers[*rc::gen::inRange<std::size_t>(0, room.keepers.size())].id;
  }
  if (subjects.empty() || (must_have(Part::target) && targets.empty()) ||
      (must_have(Part::strikes) && to_strike.empty())) {
    return entry;  // a note about the room
  }
  entry.kind = kind;
  entry.subject = *rc::gen::elementOf(subjects);
  const auto fill = [&](Part part) {
    switch (part) {
      case Part::mass:
        entry.mass = *any_quantity<Mass>();
        break;
      case Part::length:
        entry.length = *any_quantity<Length>();
        break;
      case Part::temperature:
        entry.temperature = *any_quantity<Temperature>();
        break;
      case Part::humidity:
        entry.humidity = *any_quantity<Percentage>();
        break;
      case Part::uvi:
        entry.uvi = *any_quantity<UvIndex>();
        break;
      case Part::count:
        entry.count = *rc::gen::inRange(0, 100'001);
        break;
      case Part::item:
        entry.item = *any_text_but_empty(room::kLongestItem);
        break;
      case Part::target:
        if (!targets.empty()) entry.target = *rc::gen::elementOf(targets);
        break;
      case Part::strikes:
        entry.strikes = *rc::gen::elementOf(to_strike);
        break;
    }
  };
  for (const Part part : rule.must) fill(part);
  for (const Part part : rule.may) {
    if (*rc::gen::arbitrary<bool>()) fill(part);
  }
  if (kind == room::EntryKind::reading && !entry.temperature && !entry.humidity) {
    fill(Part::humidity);
  }
  return entry;
}

inline rc::Gen<room::EntryKind> any_entry_kind() {
  return rc::gen::map(rc::gen::inRange<std::size_t>(0, Words<room::EntryKind>::list.size()),
                      [](std::size_t n) { return static_cast<room::EntryKind>(n); });
}

/// Up to `most` entries that the room's book takes in this order, of any kinds and moments.
inline rc::Gen<std::vector<room::Entry>> any_entries(const room::Room& room, int most,
                                                     Instant from = first_instant(),
                                                     Instant until = last_instant()) {
  return rc::gen::exec([room, most, from, until] {
    std::vector<room::Entry> entries;
    std::set<Uuid> ids;
    const int count = *rc::gen::inRange(0, most + 1);
    for (int i = 0; i < count; ++i) {
      room::Entry entry = draw_entry(room, *any_entry_kind(), *any_instant(from, until), entries);
      if (ids.insert(entry.id).second) entries.push_back(std::move(entry));
    }
    return entries;
  });
}

/// The entries that hold, as the book hands them to a Day: none that is struck.
inline std::vector<room::Entry> without_struck(const std::vector<room::Entry>& entries) {
  std::set<Uuid> struck;
  for (const room::Entry& entry : entries) {
    if (entry.strikes) struck.insert(*entry.strikes);
  }
  std::vector<room::Entry> holding;
  for (const room::Entry& entry : entries) {
    if (!struck.contains(entry.id)) holding.push_back(entry);
  }
  return holding;
}

}  // namespace warmside::property
