#include "report/room_plan.h"

#include <algorithm>
#include <map>

#include "report/json_parts.h"
#include "room/look_up.h"

namespace warmside::report {
namespace {

/// The enclosure that a finding is about: itself, where the animal lives, where the thing stands.
/// Empty: it is about none.
room::EnclosureId enclosure_of(const Finding& finding, const room::Day& day) {
  if (finding.subject_kind == room::Enclosure::kWord) {
    return room::EnclosureId::trusted(finding.subject);
  }
  if (finding.subject_kind == room::Animal::kWord) {
    for (const room::AnimalDay& animal : day.animals) {
      if (animal.animal->id.text() == finding.subject) return animal.home;
    }
    return {};
  }
  room::EnclosureId found;
  room::Room::for_each_kind(*day.room, [&](const auto& records) {
    using Record = typename std::remove_cvref_t<decltype(records)>::value_type;
    if constexpr (requires(const Record& record) { record.enclosure; }) {
      if (Record::kWord != finding.subject_kind) return;
      const auto* record = room::find(records, decltype(Record::id)::trusted(finding.subject));
      if (record != nullptr) found = record->enclosure;
    }
  });
  return found;
}

template <class Number>
Json number_or_null(const std::optional<Number>& number) {
  return number ? Json(*number) : Json(nullptr);
}

}  // namespace

std::string room_plan_as_json(const room::Day& day, const round::Round& round) {
  struct Noticed {
    int findings = 0;
    std::optional<When> worst;
  };
  std::map<room::EnclosureId, Noticed> noticed;
  Json room_findings = Json::array();
  for (const Finding& finding : round.findings) {
    const room::EnclosureId id = enclosure_of(finding, day);
    const auto* enclosure = room::find(day.room->enclosures, id);
    if (enclosure == nullptr || !room::in_use(*enclosure, day.date)) {
      room_findings.push_back(json_of(finding));
      continue;
    }
    Noticed& here = noticed[id];
    ++here.findings;
    here.worst = std::min(here.worst.value_or(finding.when), finding.when);
  }
  std::map<room::EnclosureId, int> due;
  for (const round::Stop& stop : round.stops) {
    for (const round::Task& task : stop.tasks) ++due[task.enclosure];
  }
  Json enclosures = Json::array();
  for (const room::Enclosure& enclosure : day.room->enclosures) {
    if (!room::in_use(enclosure, day.date)) continue;
    Json animals = Json::array();
    for (const room::AnimalDay* animal : day.animals_in(enclosure.id)) {
      animals.push_back({{"id", animal->animal->id.text()},
                         {"name", room::called(*animal->animal)},
                         {"species", animal->profile.common_name}});
    }
    const Noticed& here = noticed[enclosure.id];
    enclosures.push_back({{"id", enclosure.id.text()},
                          {"name", room::called(enclosure)},
                          {"place", enclosure.place},
                          {"rack", enclosure.rack},
                          {"shelf", number_or_null(enclosure.shelf)},
                          {"position", number_or_null(enclosure.position)},
                          {"animals", std::move(animals)},
                          {"worst", here.worst ? Json(name_of(*here.worst)) : Json(nullptr)},
                          {"findings", here.findings},
                          {"due", due[enclosure.id]}});
  }
  return dumped(Json{{"name", day.room->info.name},
                     {"date", to_text(day.date)},
                     {"enclosures", std::move(enclosures)},
                     {"room_findings", std::move(room_findings)}});
}

}  // namespace warmside::report
