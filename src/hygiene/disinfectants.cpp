#include "hygiene/disinfectants.h"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <charconv>
#include <map>
#include <set>

#include "core/check.h"
#include "core/letters.h"
#include "hygiene/built_in_disinfectants.h"
#include "species/table.h"

namespace warmside::hygiene {
namespace {

/// The pieces between "; "; none of an empty text.
std::vector<std::string_view> pieces(std::string_view text) {
  std::vector<std::string_view> found;
  while (!text.empty()) {
    const std::size_t end = std::min(text.find("; "), text.size());
    found.push_back(text.substr(0, end));
    text.remove_prefix(std::min(end + 2, text.size()));
  }
  return found;
}

/// Whether a name stands in a text as words of its own.
bool names(std::string_view text, std::string_view name) {
  const auto letter = [&](std::size_t at) {
    return at < text.size() && std::isalpha(static_cast<unsigned char>(text[at])) != 0;
  };
  for (std::size_t at = text.find(name); at != std::string_view::npos;
       at = text.find(name, at + 1)) {
    if ((at == 0 || !letter(at - 1)) && !letter(at + name.size())) return true;
  }
  return false;
}

/// "1 %" as "1%".
std::string units_joined(std::string_view text) {
  std::string out;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const bool blank = text[i] == ' ' && i + 1 < text.size();
    if (blank && (text[i + 1] == '%' || text.substr(i + 1).starts_with("°"))) continue;
    out += text[i];
  }
  return out;
}

/// The first word of a text that is a quantity, such as "0.5%" in "bleach 0.5%".
template <Quantity Q>
std::optional<Q> quantity_in(std::string_view text) {
  while (!text.empty()) {
    const std::size_t end = std::min(text.find_first_of(" ,;("), text.size());
    if (end > 0) {
      if (const auto value = parse<Q>(text.substr(0, end))) return *value;
    }
    text.remove_prefix(std::min(end + 1, text.size()));
  }
  return std::nullopt;
}

/// Whether a text in small letters names an acid that a household has.
bool has_acid(std::string_view text) {
  constexpr std::string_view kAcids[] = {"vinegar", "acid", "descaler"};
  return std::any_of(std::begin(kAcids), std::end(kAcids),
                     [&](std::string_view acid) { return names(text, acid); });
}

bool reaches(const DisinfectantFact& fact, std::optional<Percentage> strength,
             std::optional<Temperature> heat) {
  if (fact.heat) return heat && *heat >= *fact.heat;
  return strength && fact.strength && *strength >= *fact.strength;
}

/// The ingredients that a text in small letters names. Where one name is part of another it is the
/// longer one: "accelerated hydrogen peroxide" is no hydrogen peroxide.
std::set<std::string_view> named_in(const std::string& text) {
  std::map<std::string_view, std::string_view> found;  // ingredient by name
  for (const DisinfectantFact& fact : disinfectants()) {
    for (const std::string& name : fact.names) {
      if (names(text, name)) found.emplace(name, fact.ingredient);
    }
  }
  std::set<std::string_view> ingredients;
  for (const auto& [name, ingredient] : found) {
    const bool part = std::any_of(found.begin(), found.end(), [&, n = name](const auto& other) {
      return other.first != n && names(other.first, n);
    });
    if (!part) ingredients.insert(ingredient);
  }
  return ingredients;
}

}  // namespace

Checked<std::vector<DisinfectantFact>> read_disinfectants(std::string_view csv) {
  constexpr const char* kFile = "disinfectants.csv";
  std::vector<DisinfectantFact> table;
  Problems problems;
  species::read_table(
      kFile, csv,
      {"ingredient", "names", "strength", "minutes", "works_on", "fails_on", "status", "source",
       "note"},
      problems, [&](const std::vector<std::string_view>& f, int line) {
        DisinfectantFact fact;
        const auto refuse = [&](const char* field, const char* what, std::string_view found) {
          problems.push_back(
              {ProblemCode::bad_value, what, {kFile, line, field}, "", shown(found)});
        };
        const auto organisms = [&](const char* field, std::string_view text) {
          std::vector<Organism> list;
          for (const std::string_view piece : pieces(text)) {
            if (const auto organism = from_word<Organism>(piece)) {
              list.push_back(*organism);
            } else {
              refuse(field, "no group of organisms", piece);
            }
          }
          return list;
        };
        fact.ingredient = std::string(f[0]);
        for (const std::string_view name : pieces(f[1])) fact.names.push_back(lower(name));
        if (fact.ingredient.empty() || fact.names.empty()) refuse("names", "no name", f[1]);
        if (const auto share = parse<Percentage>(f[2])) {
          fact.strength = *share;
        } else if (const auto heat = parse<Temperature>(f[2])) {
          fact.heat = *heat;
        } else {
          refuse("strength", "neither a strength nor a temperature", f[2]);
        }
        const auto [end, error] =
            std::from_chars(f[3].data(), f[3].data() + f[3].size(), fact.minutes);
        if (error != std::errc{} || end != f[3].data() + f[3].size() || fact.minutes < 1) {
          refuse("minutes", "no contact time", f[3]);
        }
        fact.works_on = organisms("works_on", f[4]);
        fact.fails_on = organisms("fails_on", f[5]);
        const auto trust = from_word<Trust>(f[6]);
        if (!trust) refuse("status", "no status", f[6]);
        fact.trust = trust.value_or(Trust::common_practice);
        fact.source = std::string(f[7]);
        fact.note = std::string(f[8]);
        table.push_back(std::move(fact));
      });
  if (!problems.empty()) return problems;
  return table;
}

std::span<const DisinfectantFact> disinfectants() {
  static const std::vector<DisinfectantFact> table = [] {
    auto read = read_disinfectants(data::disinfectants_csv());
    WS_CHECK(read.ok());  // ./check reads the same file before it is built in
    return std::move(read).value();
  }();
  return table;
}

const DisinfectantFact* find_disinfectant(std::string_view name) {
  const std::string wanted = lower(name);
  for (const DisinfectantFact& fact : disinfectants()) {
    if (lower(fact.ingredient) == wanted ||
        std::find(fact.names.begin(), fact.names.end(), wanted) != fact.names.end()) {
      return &fact;
    }
  }
  return nullptr;
}

std::string_view ingredient_in(std::string_view text) {
  const auto ingredients = named_in(lower(text));
  return ingredients.size() == 1 ? *ingredients.begin() : std::string_view{};
}

bool Coverage::over(Organism organism) const {
  return std::find(covers.begin(), covers.end(), organism) != covers.end();
}

std::string Coverage::counts_for_nothing() const {
  if (!unknown.empty() || !covers.empty()) return unknown;
  return "too weak or too short for anything in the table";
}

Coverage coverage_of(std::string_view with, std::optional<int> minutes) {
  Coverage found;
  const std::set<std::string_view> ingredients = named_in(lower(with));
  const std::string joined = units_joined(with);
  const auto strength = quantity_in<Percentage>(joined);
  const auto heat = quantity_in<Temperature>(joined);
  if (ingredients.empty()) {
    found.unknown = with.empty() ? "nobody wrote with what" : "not a disinfectant of the table";
  } else if (ingredients.size() > 1) {
    found.unknown = "two disinfectants at once";
    found.mixed = true;
  } else if (has_acid(lower(with)) && (ingredients.contains("sodium hypochlorite") ||
                                       ingredients.contains("hydrogen peroxide"))) {
    found.unknown = "an acid in it";
    found.mixed = true;
  } else if (!strength && !heat) {
    found.unknown = "no strength";
  } else if (!minutes || *minutes < 1) {
    found.unknown = "no contact time";
  }
  if (!found.unknown.empty()) return found;
  for (const DisinfectantFact& fact : disinfectants()) {
    if (!ingredients.contains(fact.ingredient) || *minutes < fact.minutes) continue;
    if (!reaches(fact, strength, heat)) continue;
    for (const Organism organism : fact.works_on) {
      if (!found.over(organism)) found.covers.push_back(organism);
    }
  }
  std::sort(found.covers.begin(), found.covers.end());
  return found;
}

}  // namespace warmside::hygiene
