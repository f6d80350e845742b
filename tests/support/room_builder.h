#pragma once
// A room, its notebook and one day of it, built in a few lines for tests:
//
//     const TestDay test = RoomBuilder()
//                              .enclosure("tub")
//                              .animal("juniper", "corn_snake")  // lives in "tub"
//                              .entry("2026-11-20", EntryKind::fed, "juniper")
//                              .day("2026-11-25");
//     const auto tasks = round::tasks_of(test.day, {});
//
// The zone is Europe/Oslo unless said otherwise; say it first, since entries are read in it. A
// moment is a day ("2026-11-25", taken as noon on the room's clock), a time on that clock
// ("2026-11-25 08:10") or RFC 3339. A day knows what was written before its end and is not struck,
// as the book's history does. Whatever does not fit is a test's mistake and ends it (WS_CHECK).

#include <algorithm>
#include <functional>
#include <memory>
#include <set>
#include <string>
#include <utility>
#include <vector>

#include "core/check.h"
#include "room/day.h"
#include "room/entry.h"
#include "room/look_up.h"
#include "room/records.h"

namespace warmside::test {

inline Date date(std::string_view text) {
  return parse_date(text).value();
}

/// A quantity from its text: q<Mass>("812g").
template <Quantity Q>
Q q(std::string_view text) {
  return parse<Q>(text).value();
}

/// A day whose room and history live as long as it does.
struct TestDay {
  std::unique_ptr<room::Room> room;
  std::unique_ptr<room::History> history;
  room::Day day;

  const room::AnimalDay& animal(std::string_view id) const {
    for (const room::AnimalDay& animal : day.animals) {
      if (animal.animal->id.text() == id) return animal;
    }
    check_failed("an animal of the day", __FILE__, __LINE__);
  }
};

class RoomBuilder {
 public:
  template <class Record>
  using Change = std::function<void(Record&)>;

  RoomBuilder() {
    room_.info.name = "Test room";
    zone("Europe/Oslo");
  }

  RoomBuilder& zone(const char* name) {
    room_.info.zone = name;
    zone_ = Zone::named(name).value();
    return *this;
  }
  RoomBuilder& info(const Change<room::RoomInfo>& change) {
    change(room_.info);
    return *this;
  }

  /// Adds a record of any kind, changed as wanted.
  template <class Record>
  RoomBuilder& add(const char* id, const Change<Record>& change = {}) {
    Record record{};
    record.id = decltype(Record::id)::trusted(id);
    if (change) change(record);
    room::Room::for_each_kind(room_, [&](auto& records) {
      if constexpr (std::is_same_v<decltype(records), std::vector<Record>&>) {
        records.push_back(record);
      }
    });
    return *this;
  }

  RoomBuilder& enclosure(const char* id, const Change<room::Enclosure>& change = {}) {
    enclosure_ = room::EnclosureId::trusted(id);
    return add<room::Enclosure>(id, change);
  }
  /// Lives in the enclosure that was added last.
  RoomBuilder& animal(const char* id, const char* species,
                      const Change<room::Animal>& change = {}) {
    return add<room::Animal>(id, [&](room::Animal& animal) {
      animal.species = species::SpeciesId::trusted(species);
      animal.enclosure = enclosure_;
      if (change) change(animal);
    });
  }
  /// The keeper's value for one animal.
  RoomBuilder& override_for(const char* animal, const char* key, const char* value) {
    const std::string id = std::string(animal) + "-" + key;
    return add<room::Override>(id.c_str(), [&](room::Override& entry) {
      entry.animal = room::AnimalId::trusted(animal);
      entry.key = key;
      entry.value = value;
      entry.reason = "as I see it";
    });
  }

  /// `subject`: the id of a record that this kind of entry can be about; "room" for the room.
  RoomBuilder& entry(std::string_view at, room::EntryKind kind, std::string_view subject,
                     const Change<room::Entry>& change = {}) {
    room::Entry entry;
    // Ids rise with the order of writing, so that of two at one moment the later one counts.
    const auto number = entries_.size() + 1;
    entry.id.bytes[14] = static_cast<std::uint8_t>(number >> 8);
    entry.id.bytes[15] = static_cast<std::uint8_t>(number);
    entry.at = moment(at);
    entry.kind = kind;
    entry.subject = subject_named(kind, subject);
    if (change) change(entry);
    WS_CHECK(room::check_entry(entry).empty());
    entries_.push_back(std::move(entry));
    return *this;
  }
  RoomBuilder& weighed(std::string_view at, std::string_view animal, std::string_view mass) {
    return entry(at, room::EntryKind::weighed, animal,
                 [&](room::Entry& e) { e.mass = q<Mass>(mass); });
  }
  RoomBuilder& checked(std::string_view at, std::string_view animal, const char* what) {
    return entry(at, room::EntryKind::checked, animal, [&](room::Entry& e) { e.item = what; });
  }
  RoomBuilder& temperature(std::string_view at, std::string_view enclosure, const char* place,
                           std::string_view value) {
    return entry(at, room::EntryKind::reading, enclosure, [&](room::Entry& e) {
      e.item = place;
      e.temperature = q<Temperature>(value);
    });
  }
  RoomBuilder& humidity(std::string_view at, std::string_view enclosure, const char* place,
                        std::string_view value) {
    return entry(at, room::EntryKind::reading, enclosure, [&](room::Entry& e) {
      e.item = place;
      e.humidity = q<Percentage>(value);
    });
  }
  RoomBuilder& uv(std::string_view at, std::string_view lamp, double index) {
    return entry(at, room::EntryKind::uv_reading, lamp,
                 [&](room::Entry& e) { e.uvi = UvIndex::index(index); });
  }
  RoomBuilder& moved(std::string_view at, std::string_view animal, const char* to) {
    return entry(at, room::EntryKind::moved, animal, [&](room::Entry& e) {
      e.target = {room::SubjectKind::enclosure, to};
    });
  }
  /// Strikes the entry that was added last.
  RoomBuilder& strike_it(std::string_view at) {
    const Uuid id = entries_.back().id;
    return entry(at, room::EntryKind::struck, "room", [&](room::Entry& e) { e.strikes = id; });
  }

  Instant moment(std::string_view text) const {
    if (text.size() == 10) return zone_.at(date(text), TimeOfDay{12 * 60});
    if (text.size() == 16 && text[10] == ' ') {
      return zone_.at(date(text.substr(0, 10)), parse_time_of_day(text.substr(11)).value());
    }
    return parse_instant(text).value();
  }

  /// The records in id order. check_room has passed.
  room::Room room() const {
    room::Room room = room_;
    room::sort_records(room);
    WS_CHECK(room::check_room(room).empty());
    return room;
  }
  /// In the order of writing.
  const std::vector<room::Entry>& entries() const { return entries_; }

  /// The day, seen from its end.
  TestDay day(std::string_view on) const { return day(on, zone_.start_of(date(on) + 1)); }
  /// The day, seen from a moment.
  TestDay day(std::string_view on, Instant until) const {
    std::set<Uuid> struck;
    for (const room::Entry& entry : entries_) {
      if (entry.strikes) struck.insert(*entry.strikes);
    }
    std::vector<room::Entry> holding;
    for (const room::Entry& entry : entries_) {
      if (entry.at < until && !struck.contains(entry.id)) holding.push_back(entry);
    }
    TestDay made;
    made.room = std::make_unique<room::Room>(room());
    made.history = std::make_unique<room::History>(std::move(holding), until);
    made.day = room::make_day(*made.room, *made.history, date(on));
    return made;
  }

 private:
  room::Subject subject_named(room::EntryKind kind, std::string_view id) const {
    const auto& wanted = room::rule_of(kind).subjects;
    if (id == "room") return {};
    room::Subject found;
    room::Room::for_each_kind(room_, [&](const auto& records) {
      for (const auto& record : records) {
        const auto subject = from_word<room::SubjectKind>(record.kWord);
        if (record.id.text() != id || !subject) continue;
        if (!wanted.empty() && std::find(wanted.begin(), wanted.end(), *subject) == wanted.end()) {
          continue;
        }
        found = {*subject, std::string(id)};
      }
    });
    WS_CHECK(found != room::Subject{});
    return found;
  }

  room::Room room_;
  Zone zone_;
  room::EnclosureId enclosure_;
  std::vector<room::Entry> entries_;
};

}  // namespace warmside::test
