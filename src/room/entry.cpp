#include "room/entry.h"

#include <fmt/format.h>

#include <algorithm>
#include <vector>

namespace warmside::room {
namespace {

using K = EntryKind;
using S = SubjectKind;
using P = Part;

constexpr S kAnimal[] = {S::animal};
constexpr S kChecked[] = {S::animal, S::room};
constexpr S kEnclosure[] = {S::enclosure};
constexpr S kAnimalOrEnclosure[] = {S::animal, S::enclosure};
constexpr S kLamp[] = {S::lamp};
constexpr S kJar[] = {S::jar};
constexpr S kTool[] = {S::tool};
constexpr S kTask[] = {S::task};
constexpr S kTested[] = {S::thermostat, S::safety_device, S::instrument, S::heater, S::room};
constexpr S kCleanable[] = {S::tool, S::enclosure, S::room};
constexpr S kReplaced[] = {S::lamp,       S::heater,        S::thermostat,
                           S::instrument, S::safety_device, S::jar};
constexpr P kNothing[] = {P::mass};  // only its empty prefix is used
constexpr std::span<const P> kNone(kNothing, 0);
constexpr std::span<const S> kAny(kAnimal, 0);
constexpr P kMass[] = {P::mass};
constexpr P kLength[] = {P::length};
constexpr P kItem[] = {P::item};
constexpr P kMeal[] = {P::item, P::count, P::mass, P::target};
constexpr P kReadingParts[] = {P::temperature, P::humidity, P::item};
constexpr P kUvi[] = {P::uvi};
constexpr P kUvMay[] = {P::item, P::length};
constexpr P kTarget[] = {P::target};
constexpr P kCount[] = {P::count};
constexpr P kDisinfectMay[] = {P::item, P::count};
constexpr P kStrikes[] = {P::strikes};

constexpr EntryRule kRules[] = {
    {K::weighed, "weighed", kAnimal, kMass, kNone, "", kAny},
    {K::measured, "measured", kAnimal, kLength, kItem, "which length, such as shell or snout-vent",
     kAny},
    {K::fed, "fed", kAnimal, kNone, kMeal, "the food", kJar},
    {K::refused, "refused", kAnimal, kNone, kMeal, "the food", kJar},
    {K::leftovers, "leftovers", kAnimal, kNone, kMeal, "the food; target: who was given them",
     kAnimal},
    {K::regurgitated, "regurgitated", kAnimal, kNone, kItem, "the food", kAny},
    {K::in_shed, "in shed", kAnimal, kNone, kNone, "", kAny},
    {K::shed, "shed", kAnimal, kNone, kItem, "complete, or stuck", kAny},
    {K::droppings, "droppings", kAnimal, kNone, kItem, "how they were", kAny},
    {K::watered, "fresh water", kEnclosure, kNone, kNone, "", kAny},
    {K::spot_cleaned, "spot clean", kEnclosure, kNone, kNone, "", kAny},
    {K::full_cleaned, "full clean", kEnclosure, kNone, kItem, "with what", kAny},
    {K::misted, "misted", kEnclosure, kNone, kNone, "", kAny},
    {K::reading, "reading", kEnclosure, kNone, kReadingParts,
     "where: warm side, cool side, basking surface, ...", kAny},
    {K::uv_reading, "UV reading", kLamp, kUvi, kUvMay, "where", kAny},
    {K::moved, "moved", kAnimal, kTarget, kNone, "", kEnclosure},
    {K::quarantine_started, "quarantine started", kAnimal, kNone, kNone, "", kAny},
    {K::quarantine_ended, "quarantine ended, signed off", kAnimal, kNone, kNone, "", kAny},
    {K::brumation_started, "brumation started", kAnimal, kNone, kNone, "", kAny},
    {K::brumation_ended, "brumation ended", kAnimal, kNone, kNone, "", kAny},
    {K::ill, "ill", kAnimal, kNone, kItem, "what was seen", kAny},
    {K::recovered, "recovered", kAnimal, kNone, kNone, "", kAny},
    {K::laid_eggs, "laid eggs or gave birth", kAnimal, kNone, kCount, "", kAny},
    {K::checked, "checked", kChecked, kItem, kNone,
     "what: shed, mites, faecal sample, ...; of the room: cords; where there is a result: mites: "
     "negative",
     kAny},
    {K::tested, "tested", kTested, kNone, kItem, "how it went", kAny},
    {K::used, "used", kTool, kTarget, kNone, "", kAnimalOrEnclosure},
    {K::disinfected, "disinfected", kCleanable, kNone, kDisinfectMay,
     "with what; count: minutes of contact", kAny},
    {K::opened, "opened", kJar, kNone, kNone, "", kAny},
    {K::replaced, "replaced by a new one", kReplaced, kNone, kNone, "", kAny},
    {K::done, "done", kTask, kNone, kNone, "", kAny},
    {K::note, "note", kAny, kNone, kNone, "", kAny},
    {K::struck, "struck out", kAny, kStrikes, kNone, "", kAny},
};

bool has(const Entry& e, Part part) {
  switch (part) {
    case Part::mass:
      return e.mass.has_value();
    case Part::length:
      return e.length.has_value();
    case Part::temperature:
      return e.temperature.has_value();
    case Part::humidity:
      return e.humidity.has_value();
    case Part::uvi:
      return e.uvi.has_value();
    case Part::count:
      return e.count.has_value();
    case Part::item:
      return !e.item.empty();
    case Part::target:
      return e.target.has_value();
    case Part::strikes:
      return e.strikes.has_value();
  }
  return false;
}

template <class T>
bool contains(std::span<const T> list, T value) {
  return std::find(list.begin(), list.end(), value) != list.end();
}

std::string listed(std::span<const SubjectKind> kinds) {
  std::string text;
  for (const SubjectKind kind : kinds) {
    if (!text.empty()) text += ", ";
    text += word(kind);
  }
  return text;
}

}  // namespace

const EntryRule& rule_of(EntryKind kind) {
  const EntryRule& rule = kRules[static_cast<std::size_t>(kind)];
  WS_CHECK(rule.kind == kind);
  return rule;
}

Problems check_entry(const Entry& entry) {
  Problems problems;
  const EntryRule& rule = rule_of(entry.kind);
  const auto refuse = [&](ProblemCode code, std::string_view field, std::string what,
                          std::string expected = "", std::string found = "") {
    problems.push_back({code,
                        std::move(what),
                        {"", 0, std::string(field)},
                        std::move(expected),
                        std::move(found)});
  };
  if (!rule.subjects.empty() && !contains(rule.subjects, entry.subject.kind)) {
    refuse(ProblemCode::bad_value, word(entry.subject.kind),
           fmt::format("an entry \"{}\" is not about this", word(entry.kind)),
           listed(rule.subjects));
  }
  for (std::size_t i = 0; i < kPartCount; ++i) {
    const Part part = static_cast<Part>(i);
    const bool must = contains(rule.must, part);
    if (must && !has(entry, part)) {
      refuse(ProblemCode::missing, word(part),
             fmt::format("an entry \"{}\" needs it", word(entry.kind)));
    } else if (!must && has(entry, part) && !contains(rule.may, part)) {
      refuse(ProblemCode::bad_value, word(part),
             fmt::format("an entry \"{}\" does not have it", word(entry.kind)));
    }
  }
  if (entry.kind == EntryKind::reading && !entry.temperature && !entry.humidity) {
    refuse(ProblemCode::missing, "temperature", "a reading of nothing",
           "temperature, humidity or both");
  }
  if (entry.target && !rule.targets.empty() && !contains(rule.targets, entry.target->kind)) {
    refuse(ProblemCode::bad_value, "target", "not what this entry can point to",
           listed(rule.targets), std::string(word(entry.target->kind)));
  }
  if (entry.mass && !(*entry.mass > Mass::grams(0))) {
    refuse(ProblemCode::out_of_range, "mass", "a mass of nothing", "more than 0g");
  }
  if (entry.length && !(*entry.length > Length::metres(0))) {
    refuse(ProblemCode::out_of_range, "length", "a length of nothing", "more than 0cm");
  }
  if (entry.humidity && entry.humidity->share() > 1) {
    refuse(ProblemCode::out_of_range, "humidity", "wetter than air can be", "0% to 100%",
           to_text(*entry.humidity));
  }
  if (entry.subject.kind == SubjectKind::room && entry.subject.id != "room") {
    refuse(ProblemCode::bad_value, "room", "there is one room", "the word room",
           shown(entry.subject.id));
  }
  if (entry.count && (*entry.count < 0 || *entry.count > 100'000)) {
    refuse(ProblemCode::out_of_range, "count", "not a count", "0 to 100000",
           std::to_string(*entry.count));
  }
  if (entry.item.size() > kLongestItem) {
    refuse(ProblemCode::bad_value, "item", "too long", fmt::format("{} bytes", kLongestItem));
  }
  if (entry.note.size() > kLongestNote) {
    refuse(ProblemCode::bad_value, "note", "too long", fmt::format("{} bytes", kLongestNote));
  }
  return problems;
}

std::string describe_entry(const Entry& entry, UnitSystem units) {
  std::string text(rule_of(entry.kind).words);
  if (entry.count && entry.kind != EntryKind::disinfected) {
    text += fmt::format(" {} x", *entry.count);
  }
  if (!entry.item.empty()) text += (entry.kind == EntryKind::reading ? ", " : " ") + entry.item;
  if (entry.count && entry.kind == EntryKind::disinfected) {
    text += fmt::format(", {} min", *entry.count);
  }
  const auto add = [&](const auto& value) {
    if (value) text += " " + for_people(*value, units);
  };
  add(entry.mass);
  add(entry.length);
  add(entry.temperature);
  add(entry.humidity);
  add(entry.uvi);
  if (entry.target) {
    text += (entry.kind == EntryKind::used        ? " with "
             : entry.kind == EntryKind::moved     ? " to "
             : entry.kind == EntryKind::leftovers ? ", given to "
                                                  : ", dusted from ") +
            entry.target->id;
  }
  if (entry.strikes) text += " " + to_text(*entry.strikes);
  if (!entry.note.empty()) text += ": " + entry.note;
  return text;
}

}  // namespace warmside::room
