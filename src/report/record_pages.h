#pragma once
// Everything known and computed about one animal, one enclosure or one species, for people and for
// programs (docs/schema/). Made by animal_page.cpp, enclosure_page.cpp and species_page.cpp.

#include <string>
#include <vector>

#include "report/sheet.h"
#include "room/day.h"
#include "round/round.h"

namespace warmside::report {

/// What a page about an animal or an enclosure is made of.
struct PageInput {
  const room::Day* day = nullptr;
  const round::Round* round = nullptr;
  std::vector<room::Entry> latest;  // newest first, struck ones among them
  std::vector<Uuid> struck;         // which of those do not hold
};

std::string animal_as_text(const room::Animal& animal, const PageInput& input,
                           const SheetStyle& style);
std::string animal_as_json(const room::Animal& animal, const PageInput& input);

std::string enclosure_as_text(const room::Enclosure& enclosure, const PageInput& input,
                              const SheetStyle& style);
std::string enclosure_as_json(const room::Enclosure& enclosure, const PageInput& input);

std::string species_as_text(const species::Profile& profile, UnitSystem units,
                            const SheetStyle& style);
std::string species_as_json(const species::Profile& profile);

/// The list of all species whose names contain `text`; all when it is empty.
std::string species_list_as_text(std::string_view text, const SheetStyle& style);
std::string species_list_as_json(std::string_view text);

/// What `warmside verify` found.
std::string verdict_as_json(const std::vector<std::string>& wrong, std::int64_t entries);

}  // namespace warmside::report
