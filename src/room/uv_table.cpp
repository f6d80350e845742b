#include "room/uv_table.h"

#include <algorithm>

#include "core/letters.h"

namespace warmside::room {
namespace {

constexpr std::size_t kMostRows = 12;
constexpr Length kFarthest = Length::metres(10);
constexpr UvIndex kStrongest = UvIndex::index(1000);  // surely a slip; the sun gives at most 20

/// Where the first of the two quantities ends: at the blank before the second one's number.
std::size_t between(std::string_view row) {
  return row.find_last_of(' ', row.find_last_of("0123456789"));
}

}  // namespace

Result<UvTable> UvTable::parse(std::string_view text) {
  const auto bad = [&](std::string what) {
    return Problem{ProblemCode::bad_value,
                   std::move(what),
                   {},
                   "distances and the UV index there, such as \"20cm 4.1UVI + 30cm 2.2UVI\"",
                   shown(text)};
  };
  UvTable table;
  for (std::size_t at = 0; at <= text.size();) {
    const auto plus = std::min(text.find('+', at), text.size());
    const std::string_view row = trimmed(text.substr(at, plus - at));
    at = plus + 1;
    const auto gap = row.empty() ? std::string_view::npos : between(row);
    if (gap == std::string_view::npos) return bad("a distance without its UV index");
    const auto distance = warmside::parse<Length>(trimmed(row.substr(0, gap)));
    if (!distance) return bad(distance.problem().what);
    const auto uvi = warmside::parse<UvIndex>(row.substr(gap + 1));
    if (!uvi) return bad(uvi.problem().what);
    if (!(*distance > Length())) return bad("a distance of nothing");
    // Its text would have an exponent with a '+' in it.
    if (*distance > kFarthest) return bad("a distance of more than 10 m");
    if (*uvi > kStrongest) return bad("a UV index over 1000");
    table.rows.push_back({*distance, *uvi});
    if (table.rows.size() > kMostRows) return bad("more than 12 distances");
  }
  std::sort(table.rows.begin(), table.rows.end(),
            [](const UvRow& a, const UvRow& b) { return a.distance < b.distance; });
  const auto twice =
      std::adjacent_find(table.rows.begin(), table.rows.end(),
                         [](const UvRow& a, const UvRow& b) { return a.distance == b.distance; });
  if (twice != table.rows.end()) return bad("the same distance twice");
  return table;
}

std::string UvTable::text(UnitSystem units) const {
  std::string text;
  for (const UvRow& row : rows) {
    if (!text.empty()) text += " + ";
    text += to_text(row.distance, units) + " " + to_text(row.uvi, units);
  }
  return text;
}

}  // namespace warmside::room
