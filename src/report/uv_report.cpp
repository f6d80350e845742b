#include "report/uv_report.h"

#include <fmt/format.h>

#include <algorithm>

#include "light/enclosure_uv.h"
#include "room/look_up.h"

namespace warmside::report {
namespace {

constexpr int kLabelWidth = 28;

std::string band_words(const light::UvBand& band) {
  return fmt::format("{:.2g} ({:.2g} to {:.2g})", band.best, band.low, band.high);
}
std::string range_words(const Range<UvIndex>& range) {
  return fmt::format("{:.2g} to {:.2g}", range.low.index(), range.high.index());
}

std::string replacement_words(const light::Replacement& replacement) {
  if (!replacement.due) {
    return replacement.by_readings ? "no end in sight by its readings"
                                   : "no date: write down when it was new (installed)";
  }
  std::string words = to_text(*replacement.due);
  if (replacement.early && *replacement.early < replacement.late.value_or(*replacement.due)) {
    words += fmt::format(", between {} and {}", to_text(*replacement.early),
                         replacement.late ? to_text(*replacement.late) : "no end in sight");
  } else if (replacement.early && !replacement.late) {
    words += fmt::format(", not before {}", to_text(*replacement.early));
  }
  return words + "; " + replacement.why;
}

std::string wanted_words(const light::WantedUv& wanted) {
  if (!wanted.strongest) return "its profile does not say";
  std::string words = range_words(*wanted.strongest);
  if (!wanted.zone.empty()) words += fmt::format(", zone {}", wanted.zone);
  if (wanted.gradient) words += fmt::format(", {} on average", range_words(*wanted.gradient));
  if (wanted.standing) {
    words = fmt::format("{} {}{}", room::word_for(*wanted.standing), words,
                        *wanted.standing == room::Standing::outside && !wanted.surely
                            ? " (by less than the band)"
                            : "");
  }
  return wanted.doubts.empty() ? words : words + "; " + wanted.doubts;
}

Json band_json(const std::optional<light::UvBand>& band) {
  if (!band) return nullptr;
  return {{"uvi", band->best}, {"low", band->low}, {"high", band->high}};
}
Json range_json(const std::optional<Range<UvIndex>>& range) {
  if (!range) return nullptr;
  return {{"low", range->low.index()}, {"high", range->high.index()}};
}
Json date_json(const std::optional<Date>& date) {
  return date ? Json(to_text(*date)) : Json(nullptr);
}

/// Against the first reading; nothing where there are not two.
std::optional<light::UvBand> share_of_first(const light::LampUv& lamp, const room::Day& day) {
  if (!lamp.course.ageing || lamp.course.ageing->readings() < 2) return std::nullopt;
  const light::Ageing& ageing = *lamp.course.ageing;
  return ageing.share(light::ageing_day(day.date), ageing.first_day());
}

Json lamp_json(const light::LampUv& lamp, const room::Day& day) {
  const auto share = share_of_first(lamp, day);
  return {{"lamp", lamp.lamp->id.text()},
          {"at_basking", band_json(lamp.at_basking)},
          {"distance_m", lamp.distance ? Json(lamp.distance->metres()) : Json(nullptr)},
          {"rests_on", lamp.rests_on},
          {"between", word(lamp.screen)},
          {"share_of_first",
           share ? Json{{"share", share->best}, {"low", share->low}, {"high", share->high}}
                 : Json(nullptr)},
          {"replace",
           {{"due", date_json(lamp.replacement.due)},
            {"early", date_json(lamp.replacement.early)},
            {"late", date_json(lamp.replacement.late)},
            {"by_readings", lamp.replacement.by_readings},
            {"why", lamp.replacement.why}}},
          {"notes", lamp.notes}};
}

}  // namespace

void put_uv(const room::Enclosure& enclosure, const room::Day& day, Sheet& sheet) {
  const light::EnclosureUv uv = light::enclosure_uv(day, enclosure);
  const bool wanted = std::any_of(uv.wanted.begin(), uv.wanted.end(),
                                  [](const auto& w) { return w.strongest.has_value(); });
  if (uv.lamps.empty() && !wanted) return;
  const UnitSystem units = day.room->info.units;
  sheet.heading("UV index at the basking place, lamps on");
  if (uv.basking) {
    sheet.row("together",
              fmt::format("{}{}{}", uv.incomplete ? "at least " : "", band_words(*uv.basking),
                          uv.under->distance
                              ? fmt::format(", {} under {}", for_people(*uv.under->distance, units),
                                            uv.under->lamp->id.text())
                              : ""),
              kLabelWidth);
  } else {
    sheet.row("together", uv.lamps.empty() ? "no UVB lamp" : "not known", kLabelWidth);
  }
  // Those that want the same stand in one row.
  for (std::size_t i = 0; i < uv.wanted.size();) {
    std::string who = room::called(*uv.wanted[i].animal->animal);
    const std::string what = wanted_words(uv.wanted[i]);
    std::size_t next = i + 1;
    for (; next < uv.wanted.size() && wanted_words(uv.wanted[next]) == what; ++next) {
      who += ", " + room::called(*uv.wanted[next].animal->animal);
    }
    sheet.row(who + (next == i + 1 ? " wants" : " want"), what, kLabelWidth);
    i = next;
  }
  for (const light::LampUv& lamp : uv.lamps) {
    const std::string& id = lamp.lamp->id.text();
    sheet.row(id,
              lamp.at_basking
                  ? fmt::format("{}, resting on {}", band_words(*lamp.at_basking), lamp.rests_on)
                  : lamp.rests_on,
              kLabelWidth);
    if (const auto share = share_of_first(lamp, day)) {
      sheet.row("",
                fmt::format("{:.0f} % of its first reading ({:.0f} to {:.0f} %)", 100 * share->best,
                            100 * share->low, 100 * share->high),
                kLabelWidth);
    }
    sheet.row("", "to be replaced: " + replacement_words(lamp.replacement), kLabelWidth);
    for (const std::string& note : lamp.notes) sheet.line(note, 4, 2, Tone::faint);
  }
  sheet.line(
      "Bands hold nine in ten, as far as they can be trusted; a meter goes before any of it. UV "
      "hurts eyes and skin: never look into the lamp, keep the distance its maker gives, and leave "
      "a way into full shade.",
      2, 2, Tone::faint);
}

Json uv_json(const room::Enclosure& enclosure, const room::Day& day) {
  const light::EnclosureUv uv = light::enclosure_uv(day, enclosure);
  Json lamps = Json::array(), wanted = Json::array();
  for (const light::LampUv& lamp : uv.lamps) lamps.push_back(lamp_json(lamp, day));
  for (const light::WantedUv& one : uv.wanted) {
    wanted.push_back(
        {{"animal", one.animal->animal->id.text()},
         {"zone", one.zone.empty() ? Json(nullptr) : Json(one.zone)},
         {"average", range_json(one.gradient)},
         {"strongest", range_json(one.strongest)},
         {"standing", one.standing ? Json(room::word_for(*one.standing)) : Json(nullptr)},
         {"surely", one.surely},
         {"doubts", one.doubts}});
  }
  return {{"basking", band_json(uv.basking)},
          {"under", uv.under ? Json(uv.under->lamp->id.text()) : Json(nullptr)},
          {"incomplete", uv.incomplete},
          {"lamps", std::move(lamps)},
          {"wanted", std::move(wanted)}};
}

}  // namespace warmside::report
