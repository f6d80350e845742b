#pragma once
// What the tables of disinfectants (data/disinfectants.csv, data/disinfectant_care.csv) say, for
// people and for programs: the list, and one disinfectant with its reach, handling and cautions,
// each with its trust and source.

#include <string>
#include <string_view>

#include "hygiene/disinfectants.h"
#include "report/sheet.h"

namespace warmside::report {

/// The page of the ingredient of a row, with all rows of it.
std::string disinfectant_as_text(const hygiene::DisinfectantFact& fact, UnitSystem units,
                                 const SheetStyle& style);
std::string disinfectant_as_json(const hygiene::DisinfectantFact& fact);

/// The disinfectants whose names contain `text`; all when it is empty. As text empty when there is
/// none.
std::string disinfectant_list_as_text(std::string_view text, const SheetStyle& style);
std::string disinfectant_list_as_json(std::string_view text);

}  // namespace warmside::report
