#include <fmt/format.h>

#include "core/letters.h"
#include "report/page_parts.h"

namespace warmside::report {
namespace {

std::vector<const species::Profile*> species_matching(std::string_view text) {
  std::vector<const species::Profile*> found;
  for (const species::Profile& profile : species::built_in().all()) {
    const std::string all = lower(profile.id.text() + " " + profile.common_name + " " +
                                  profile.scientific_name + " " + std::string(word(profile.group)));
    if (all.find(lower(text)) != std::string::npos) found.push_back(&profile);
  }
  return found;
}

}  // namespace

std::string species_as_text(const species::Profile& profile, UnitSystem units,
                            const SheetStyle& style) {
  Sheet sheet(style);
  sheet.line(
      fmt::format("{}, {} ({})", profile.common_name, profile.scientific_name, profile.id.text()),
      0, 0, Tone::strong);
  sheet.line(fmt::format("{}, {}", word(profile.group), profile.activity), 2);
  sheet.line(kProfileCaution, 2, 0, Tone::faint);
  put_facts(profile, units, sheet);
  return sheet.text();
}

std::string species_as_json(const species::Profile& profile) {
  return dumped({{"species", profile.id.text()},
                 {"common_name", profile.common_name},
                 {"scientific_name", profile.scientific_name},
                 {"group", word(profile.group)},
                 {"activity", profile.activity},
                 {"profile", facts_json(profile)}});
}

std::string species_list_as_text(std::string_view text, const SheetStyle& style) {
  Sheet sheet(style);
  for (const species::Profile* profile : species_matching(text)) {
    sheet.row(profile->id.text(),
              fmt::format("{}, {} ({})", profile->common_name, profile->scientific_name,
                          word(profile->group)),
              24, 0);
  }
  return sheet.text();
}

std::string species_list_as_json(std::string_view text) {
  Json list = Json::array();
  for (const species::Profile* profile : species_matching(text)) {
    list.push_back({{"species", profile->id.text()},
                    {"common_name", profile->common_name},
                    {"scientific_name", profile->scientific_name},
                    {"group", word(profile->group)}});
  }
  return dumped({{"species", std::move(list)}});
}

std::string verdict_as_json(const std::vector<std::string>& wrong, std::int64_t entries) {
  return dumped({{"sound", wrong.empty()}, {"entries", entries}, {"wrong", wrong}});
}

}  // namespace warmside::report
