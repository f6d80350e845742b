#include "species/food_ids.h"

#include <algorithm>
#include <string>

#include "core/check.h"
#include "core/csv.h"
#include "species/built_in_data.h"

namespace warmside::species {
namespace {

const std::vector<std::string>& food_ids() {
  static const std::vector<std::string> ids = [] {
    std::vector<std::string> read;
    CsvReader reader(data::foods_csv());
    for (bool header = true;; header = false) {
      const auto record = reader.next();
      WS_CHECK(record.ok());
      if (*record == nullptr) break;
      if (!header) read.emplace_back((*record)->front());
    }
    std::sort(read.begin(), read.end());
    return read;
  }();
  return ids;
}

std::vector<std::string_view> parts_of(std::string_view text) {
  std::vector<std::string_view> parts;
  while (!text.empty()) {
    const auto end = std::min(text.find_first_of("_-"), text.size());
    if (end > 0) parts.push_back(text.substr(0, end));
    text.remove_prefix(std::min(end + 1, text.size()));
  }
  return parts;
}

}  // namespace

bool is_food_id(std::string_view id) {
  return std::binary_search(food_ids().begin(), food_ids().end(), id);
}

std::vector<std::string_view> food_ids_like(std::string_view text, std::size_t most) {
  const auto wanted = parts_of(text);
  struct Candidate {
    std::ptrdiff_t in_common;
    std::string_view id;
  };
  std::vector<Candidate> candidates;
  for (const std::string& id : food_ids()) {
    const auto parts = parts_of(id);
    const auto in_common = std::count_if(wanted.begin(), wanted.end(), [&](std::string_view part) {
      return std::find(parts.begin(), parts.end(), part) != parts.end();
    });
    if (in_common > 0) candidates.push_back({in_common, id});
  }
  std::stable_sort(
      candidates.begin(), candidates.end(),
      [](const Candidate& a, const Candidate& b) { return a.in_common > b.in_common; });
  std::vector<std::string_view> ids;
  for (const Candidate& candidate : candidates) {
    if (ids.size() < most) ids.push_back(candidate.id);
  }
  return ids;
}

}  // namespace warmside::species
