#include "hygiene/disinfectant_care.h"

#include <algorithm>
#include <charconv>
#include <tuple>

#include "core/check.h"
#include "hygiene/built_in_disinfectants.h"
#include "hygiene/disinfectants.h"
#include "species/table.h"

namespace warmside::hygiene {

Checked<std::vector<DisinfectantCare>> read_disinfectant_care(std::string_view csv) {
  constexpr const char* kFile = "disinfectant_care.csv";
  std::vector<DisinfectantCare> table;
  Problems problems;
  species::read_table(
      kFile, csv, {"ingredient", "topic", "text", "hours", "status", "source", "note"}, problems,
      [&](const std::vector<std::string_view>& f, int line) {
        const auto refuse = [&](const char* field, const char* what, std::string_view found) {
          problems.push_back(
              {ProblemCode::bad_value, what, {kFile, line, field}, "", shown(found)});
        };
        DisinfectantCare care;
        const bool known =
            std::any_of(disinfectants().begin(), disinfectants().end(),
                        [&](const DisinfectantFact& fact) { return fact.ingredient == f[0]; });
        if (known) {
          care.ingredient = std::string(f[0]);
        } else if (f[0] != "any") {
          refuse("ingredient", "not in disinfectants.csv", f[0]);
        }
        const auto topic = from_word<CareTopic>(f[1]);
        if (!topic) refuse("topic", "no topic", f[1]);
        care.topic = topic.value_or(CareTopic::first);
        care.text = std::string(f[2]);
        if (care.text.empty()) refuse("text", "no text", f[2]);
        if (!f[3].empty()) {
          int hours = 0;
          const auto [end, error] = std::from_chars(f[3].data(), f[3].data() + f[3].size(), hours);
          if (error != std::errc{} || end != f[3].data() + f[3].size() || hours < 1 ||
              care.topic != CareTopic::keeps) {
            refuse("hours", "not how long a mixture keeps", f[3]);
          }
          care.keeps = Duration::hours(hours);
        }
        const auto trust = from_word<Trust>(f[4]);
        if (!trust) refuse("status", "no status", f[4]);
        care.trust = trust.value_or(Trust::common_practice);
        care.source = std::string(f[5]);
        care.note = std::string(f[6]);
        table.push_back(std::move(care));
      });
  if (!problems.empty()) return problems;
  return table;
}

std::span<const DisinfectantCare> disinfectant_care() {
  static const std::vector<DisinfectantCare> table = [] {
    auto read = read_disinfectant_care(data::disinfectant_care_csv());
    WS_CHECK(read.ok());  // ./check reads the same file before it is built in
    return std::move(read).value();
  }();
  return table;
}

std::vector<const DisinfectantCare*> care_of(std::string_view ingredient) {
  const bool keeps = mixture_keeps(ingredient).has_value();
  std::vector<const DisinfectantCare*> rows;
  for (const DisinfectantCare& care : disinfectant_care()) {
    if (!care.ingredient.empty() && care.ingredient != ingredient) continue;
    if (care.topic == CareTopic::keeps && keeps && care.ingredient.empty()) continue;
    rows.push_back(&care);
  }
  std::stable_sort(rows.begin(), rows.end(),
                   [](const DisinfectantCare* a, const DisinfectantCare* b) {
                     return std::tuple(a->topic, !a->ingredient.empty()) <
                            std::tuple(b->topic, !b->ingredient.empty());
                   });
  return rows;
}

std::optional<Duration> mixture_keeps(std::string_view ingredient) {
  for (const DisinfectantCare& care : disinfectant_care()) {
    if (care.ingredient == ingredient && care.keeps) return care.keeps;
  }
  return std::nullopt;
}

}  // namespace warmside::hygiene
