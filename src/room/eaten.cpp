#include "room/eaten.h"

#include <algorithm>
#include <optional>

#include "room/look_up.h"

namespace warmside::room {

double share_left(const Entry& meal, std::span<const Entry> meals, std::span<const Entry> leftovers,
                  const Day& day) {
  constexpr int kBelongs_d = 3;  // common practice, no source
  constexpr double kSome = 0.5;
  if (leftovers.empty()) return 0;
  const auto next = std::upper_bound(meals.begin(), meals.end(), meal.at,
                                     [](Instant at, const Entry& fed) { return at < fed.at; });
  double left = 0;
  for (const Entry& entry : leftovers) {
    if (entry.at < meal.at) continue;
    if (next != meals.end() && entry.at >= next->at) break;
    if (day.date_of(entry) - day.date_of(meal) > kBelongs_d) break;
    if (entry.count && meal.count && *meal.count > 0) {
      left += static_cast<double>(*entry.count) / *meal.count;
    } else if (entry.mass && meal.mass) {
      left += *entry.mass / *meal.mass;
    } else {
      left += kSome;
    }
  }
  return std::min(1.0, left);
}

double share_left(const Entry& meal, const Day& day) {
  return share_left(meal, day.history->all(meal.subject, EntryKind::fed),
                    day.history->all(meal.subject, EntryKind::leftovers), day);
}

std::vector<const Entry*> accepted_meals(const AnimalDay& animal, const Day& day) {
  const auto subject = subject_of(*animal.animal);
  std::vector<const Entry*> meals;
  const auto regurgitated = day.history->all(subject, EntryKind::regurgitated);
  auto next = regurgitated.begin();
  std::optional<Instant> previous;
  const auto take_back = [&](auto&& came_before) {
    for (; next != regurgitated.end() && came_before(*next); ++next) {
      // What comes up in two goes is one meal.
      if (!meals.empty() && (!previous || meals.back()->at > *previous)) meals.pop_back();
      previous = next->at;
    }
  };
  const auto offered = day.history->all(subject, EntryKind::fed);
  const auto leftovers = day.history->all(subject, EntryKind::leftovers);
  for (const Entry& fed : offered) {
    take_back([&](const Entry& e) { return e.at < fed.at; });
    if (share_left(fed, offered, leftovers, day) < kNotEaten) meals.push_back(&fed);
  }
  take_back([](const Entry&) { return true; });
  return meals;
}

}  // namespace warmside::room
