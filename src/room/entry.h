#pragma once
// The notebook's entries: what was done, seen or measured, when, by whom. The notebook is ink: an
// entry is never changed or removed; a mistake is struck by a later entry that names it.
//
// What each kind of entry may and must hold stands in one table (rule_of), which the readers, the
// command line, the checks and docs/notebook.md share.

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "core/quantity.h"
#include "core/time.h"
#include "core/uuid.h"
#include "core/words.h"
#include "room/records.h"

namespace warmside::room {

/// What an entry can be about.
enum class SubjectKind {
  room,
  animal,
  enclosure,
  thermostat,
  heater,
  lamp,
  instrument,
  tool,
  jar,
  supply,
  safety_device,
  task
};

/// One thing in the room, by kind and id. The room itself has the id "room".
struct Subject {
  SubjectKind kind = SubjectKind::room;
  std::string id = "room";
  auto operator<=>(const Subject&) const = default;
};

enum class EntryKind {
  weighed,
  measured,
  fed,
  refused,
  leftovers,
  regurgitated,
  in_shed,
  shed,
  droppings,
  watered,
  spot_cleaned,
  full_cleaned,
  misted,
  reading,
  uv_reading,
  moved,
  quarantine_started,
  quarantine_ended,
  brumation_started,
  brumation_ended,
  ill,
  recovered,
  laid_eggs,
  checked,
  tested,
  used,
  disinfected,
  opened,
  replaced,
  done,
  note,
  struck
};

/// One entry. Which parts are filled depends on the kind; an empty part means "not said".
struct Entry {
  Uuid id;
  Instant at;
  EntryKind kind = EntryKind::note;
  Subject subject;
  KeeperId by;
  std::optional<Mass> mass;
  std::optional<Length> length;
  std::optional<Temperature> temperature;
  std::optional<Percentage> humidity;
  std::optional<UvIndex> uvi;
  std::optional<int> count;
  std::string item;               // the food, the place of a reading, what was checked, ...
  std::optional<Subject> target;  // where it moved, the jar it was dusted from, whom a tool touched
  std::optional<Uuid> strikes;    // for struck: the entry that does not hold
  std::string note;
  bool operator==(const Entry&) const = default;
};

/// The parts of an entry beside id, at, kind, subject, by and note.
enum class Part { mass, length, temperature, humidity, uvi, count, item, target, strikes };
constexpr std::size_t kPartCount = 9;

/// What a kind of entry holds.
struct EntryRule {
  EntryKind kind;
  std::string_view words;                 // for people: "weighed", "fed", ...
  std::span<const SubjectKind> subjects;  // what it can be about; empty: anything
  std::span<const Part> must;             // parts that must be there
  std::span<const Part> may;              // parts that may
  std::string_view item;                  // what the item says, for documentation and messages
  std::span<const SubjectKind> targets;   // what the target can be
};

const EntryRule& rule_of(EntryKind kind);

/// Every way in which an entry breaks its rule: a part missing or too much, a mass of nothing, an
/// over-long text. Names are not looked up here. Where is left to the caller.
Problems check_entry(const Entry& entry);

/// Leaves out the entries that another of them strikes, and the strikes.
void drop_struck(std::vector<Entry>& entries);

/// "weighed 812 g", "fed 2 x adult mouse", for people.
std::string describe_entry(const Entry& entry, UnitSystem units);

constexpr std::size_t kLongestItem = 120;
constexpr std::size_t kLongestNote = 4000;

}  // namespace warmside::room

namespace warmside {

template <>
struct Words<room::SubjectKind> {
  static constexpr std::array<std::string_view, 12> list{
      "room",       "animal", "enclosure", "thermostat", "heater",        "lamp",
      "instrument", "tool",   "jar",       "supply",     "safety_device", "task"};
};
template <>
struct Words<room::EntryKind> {
  static constexpr std::array<std::string_view, 32> list{"weighed",
                                                         "measured",
                                                         "fed",
                                                         "refused",
                                                         "leftovers",
                                                         "regurgitated",
                                                         "in_shed",
                                                         "shed",
                                                         "droppings",
                                                         "watered",
                                                         "spot_cleaned",
                                                         "full_cleaned",
                                                         "misted",
                                                         "reading",
                                                         "uv_reading",
                                                         "moved",
                                                         "quarantine_started",
                                                         "quarantine_ended",
                                                         "brumation_started",
                                                         "brumation_ended",
                                                         "ill",
                                                         "recovered",
                                                         "laid_eggs",
                                                         "checked",
                                                         "tested",
                                                         "used",
                                                         "disinfected",
                                                         "opened",
                                                         "replaced",
                                                         "done",
                                                         "note",
                                                         "struck"};
};
template <>
struct Words<room::Part> {
  static constexpr std::array<std::string_view, room::kPartCount> list{
      "mass", "length", "temperature", "humidity", "uvi", "count", "item", "target", "strikes"};
};

}  // namespace warmside
