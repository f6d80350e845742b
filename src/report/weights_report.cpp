#include "report/weights_report.h"

#include <algorithm>
#include <vector>

#include "health/animal_weight.h"
#include "health/weights_file.h"
#include "report/json_parts.h"
#include "room/look_up.h"

namespace warmside::report {
namespace {

using room::EntryKind;

/// What can move a mass or explain that it moved.
constexpr EntryKind kEvents[] = {EntryKind::fed,
                                 EntryKind::refused,
                                 EntryKind::leftovers,
                                 EntryKind::regurgitated,
                                 EntryKind::shed,
                                 EntryKind::ill,
                                 EntryKind::recovered,
                                 EntryKind::moved,
                                 EntryKind::laid_eggs,
                                 EntryKind::brumation_started,
                                 EntryKind::brumation_ended,
                                 EntryKind::quarantine_started,
                                 EntryKind::quarantine_ended};

Json events_json(const room::Animal& animal, const room::Day& day) {
  std::vector<const room::Entry*> events;
  for (const EntryKind kind : kEvents) {
    for (const room::Entry& entry : day.history->all(room::subject_of(animal), kind)) {
      events.push_back(&entry);
    }
  }
  std::stable_sort(events.begin(), events.end(),
                   [](const auto* a, const auto* b) { return a->at < b->at; });
  Json list = Json::array();
  for (const room::Entry* entry : events) {
    list.push_back({{"at", to_text(entry->at)},
                    {"kind", word(entry->kind)},
                    {"text", room::describe_entry(*entry, day.room->info.units)}});
  }
  return list;
}

}  // namespace

std::string weights_as_json(const room::Animal& animal, const room::Day& day) {
  const auto state = std::find_if(day.animals.begin(), day.animals.end(),
                                  [&](const auto& one) { return one.animal->id == animal.id; });
  health::WeightsOfDay weights(day);
  const auto weight = state == day.animals.end() ? std::nullopt : weights.of(*state);
  const auto entries = day.history->all(room::subject_of(animal), EntryKind::weighed);
  Json weighings = Json::array();
  for (const room::Entry& entry : entries) {
    const auto doubted = [&](const auto& left) { return left.entry->id == entry.id; };
    const bool used =
        weight && std::none_of(weight->left_out.begin(), weight->left_out.end(), doubted);
    weighings.push_back(
        {{"at", to_text(entry.at)}, {"mass_g", entry.mass->grams()}, {"used", used}});
  }
  Json band = Json::array();
  if (weight) {
    Date last;
    for (const health::MassAt& at : weights.course(*state, entries.front().at)) {
      const Date date = health::date_of_day(at.day);
      Json one{{"date", to_text(date)},
               {"mass_g", at.mass_g},
               {"low_g", at.low_g},
               {"high_g", at.high_g}};
      // Of a day with a weighing there are several moments; the last holds.
      if (!band.empty() && date == last) {
        band.back() = std::move(one);
      } else {
        band.push_back(std::move(one));
      }
      last = date;
    }
  }
  return dumped(Json{{"animal", animal.id.text()},
                     {"weighings", std::move(weighings)},
                     {"band", std::move(band)},
                     {"events", events_json(animal, day)}});
}

}  // namespace warmside::report
