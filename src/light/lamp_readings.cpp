#include "light/lamp_readings.h"

#include <fmt/format.h>

namespace warmside::light {

using room::Entry;
using room::EntryKind;

std::vector<Finding> findings(const room::Day& day) {
  const auto& rule = species::care_rules().rule("uv_low_share");
  const double low_share = species::care_rules().value<Percentage>(rule.name).share();
  const UnitSystem units = day.room->info.units;
  std::vector<Finding> found;
  for (const room::Lamp& lamp : day.room->lamps) {
    if (!lamp.uvb || !room::in_use(lamp, day.date)) continue;
    const room::Subject subject{room::SubjectKind::lamp, lamp.id.text()};
    const Entry* replaced = day.history->latest(subject, EntryKind::replaced);
    const Entry *first = nullptr, *latest = nullptr;
    for (const Entry& entry : day.history->all(subject, EntryKind::uv_reading)) {
      if (replaced != nullptr && entry.at < replaced->at) continue;
      // A new tube may be written into the room file only.
      if (lamp.installed && day.date_of(entry) < *lamp.installed) continue;
      if (first == nullptr) first = &entry;
      latest = &entry;
    }
    // 5.81 of 8.3 are 70 %, though in binary a little less.
    constexpr double kRounding = 1e-9;
    if (first == latest || !(*latest->uvi < *first->uvi * (low_share - kRounding))) continue;
    Finding finding;
    finding.when = When::this_week;
    finding.subject_kind = "lamp";
    finding.subject = lamp.id.text();
    finding.headline = fmt::format("The UVB lamp {} gives {:.0f} % of what it gave at first",
                                   lamp.id.text(), *latest->uvi / *first->uvi * 100);
    finding.evidence = fmt::format(
        "{} on {}, {} on {}; replace below {}.{}", for_people(*latest->uvi, units),
        to_text(day.date_of(*latest)), for_people(*first->uvi, units), to_text(day.date_of(*first)),
        for_people(Percentage::share(low_share), units),
        lamp.installed && replaced == nullptr ? " Installed " + to_text(*lamp.installed) + "."
                                              : "");
    finding.advice =
        "Read again at the same place after an hour of burning. If it stands, replace the lamp, "
        "unplugged and cold. Never look into a UV lamp, and keep the distance its maker gives.";
    finding.source = rule.source;
    finding.module = "light";
    found.push_back(std::move(finding));
  }
  return found;
}

}  // namespace warmside::light
