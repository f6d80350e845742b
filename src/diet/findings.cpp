#include "diet/findings.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <map>
#include <set>

#include "diet/past_diet.h"
#include "diet/unsuitable.h"

namespace warmside::diet {
namespace {

constexpr int kRecent_d = 7;  // food that was fed within a week is a matter of today
constexpr std::size_t kMostNamed = 5;

bool is_reported(Nutrient nutrient) {
  return nutrient != Nutrient::phosphorus;
}

std::string number(double x) {
  if (x >= 100) return fmt::format("{:.0f}", x);
  return fmt::format("{:.{}f}", x, x >= 10 ? 0 : x >= 1 ? 1 : 2);
}

std::string range_words(Interval amount) {
  if (!amount.known()) return fmt::format("at least {}", number(amount.low));
  if (number(amount.low) == number(amount.high)) return number(amount.low);
  return fmt::format("{} to {}", number(amount.low), number(amount.high));
}

std::string evidence_of(const Judgement& judgement, bool short_of) {
  const Target& target = judgement.target;
  const std::string_view unit =
      target.nutrient == Nutrient::calcium_to_phosphorus ? "" : target.unit;
  const std::string wanted = short_of
                                 ? fmt::format("wanted {} or more", number(target.wanted.low))
                                 : fmt::format("no more than {} is wanted", number(*target.limit));
  return fmt::format("{} {}{}{}, {}", word(target.nutrient), range_words(judgement.amount),
                     unit.empty() ? "" : " ", unit, wanted);
}

std::string what_to_do(Nutrient nutrient, bool short_of) {
  switch (nutrient) {
    case Nutrient::calcium:
    case Nutrient::calcium_to_phosphorus:
      return short_of ? "Dust with plain calcium at more meals, or feed what holds more of it."
                      : "Dust more thinly or at fewer meals with calcium.";
    case Nutrient::phosphorus:
      return "";
    case Nutrient::vitamin_d3:
      return short_of ? "Use UVB at the animal's zone, or the jar with vitamin D3 more often."
                      : "Take the jar with vitamin D3 less often and plain calcium instead.";
    case Nutrient::vitamin_a:
      return short_of ? "Feed what holds vitamin A, or use a jar that does as its label says."
                      : "Take the jar with retinol less often.";
    case Nutrient::vitamin_e:
      return short_of ? "Use a jar with vitamin E as its label says." : "";
  }
  WS_CHECK(false);
}

std::string menu_words(const std::vector<Eaten>& eaten, const room::Day& day) {
  std::map<std::string, int> times;
  for (const Eaten& course : eaten) ++times[course.entry->item];
  std::vector<std::string> parts;
  for (const auto& [item, count] : times) {
    if (parts.size() == kMostNamed) break;
    parts.push_back(fmt::format("{} in {} {}", item, count, count == 1 ? "course" : "courses"));
  }
  return fmt::format("In the notebook since {}: {}{}.", to_text(day.date - kDaysOfPast),
                     fmt::join(parts, ", "), times.size() > kMostNamed ? " and more" : "");
}

/// Collects the findings of one day.
class Judge {
 public:
  explicit Judge(const room::Day& day) : day_(day), pantry_(*day.room) {}

  std::vector<Finding> findings() {
    for (const room::AnimalDay& animal : day_.animals) {
      if (animal.brumating_since) continue;
      const PastDiet past = past_diet(animal, day_, pantry_);
      judge_nutrients(animal, past, true);
      judge_nutrients(animal, past, false);
      judge_foods(animal, past);
      note_unknowns(animal, past);
    }
    tell_unknowns();
    return std::move(found_);
  }

 private:
  void report(When when, const room::AnimalDay& animal, std::string headline, std::string evidence,
              std::string advice, std::string source) {
    found_.push_back({when, "animal", animal.animal->id.text(), std::move(headline),
                      std::move(evidence), std::move(advice), std::move(source), "diet"});
  }

  void judge_nutrients(const room::AnimalDay& animal, const PastDiet& past, bool short_of) {
    std::vector<std::string> names, evidence, advice;
    std::set<std::string> sources;
    for (const Judgement& judgement : past.judgements) {
      const Verdict wanted = short_of ? Verdict::surely_too_little : Verdict::surely_too_much;
      if (judgement.verdict != wanted || !is_reported(judgement.target.nutrient)) continue;
      names.emplace_back(word(judgement.target.nutrient));
      evidence.push_back(evidence_of(judgement, short_of));
      const std::string step = what_to_do(judgement.target.nutrient, short_of);
      if (std::find(advice.begin(), advice.end(), step) == advice.end()) advice.push_back(step);
      // The limits are remembered; what is wanted stands in the table.
      sources.insert(short_of ? std::string(judgement.target.source)
                              : "working limits from memory (docs/models/diet.md)");
    }
    if (names.empty()) return;
    report(When::this_week, animal,
           fmt::format("What {} ate in four weeks holds {} {}", room::called(*animal.animal),
                       short_of ? "too little" : "too much", fmt::join(names, ", ")),
           fmt::format("Reckoned {}. {}", fmt::join(evidence, "; "), menu_words(past.eaten, day_)),
           fmt::format("{} This judges the food, not the animal: signs of illness are for a "
                       "veterinarian.",
                       fmt::join(advice, " ")),
           fmt::format("{}", fmt::join(sources, "; ")));
  }

  void judge_foods(const room::AnimalDay& animal, const PastDiet& past) {
    const auto diet = diet_class_of(animal.profile.text(species::Key::diet_class));
    struct Fed {
      std::vector<const Eaten*> courses;
    };
    std::map<const UnsuitableFood*, Fed> bad;
    for (const Eaten& course : past.eaten) {
      const auto* rule = unsuitable(course.entry->item, animal.profile.group, diet);
      if (rule != nullptr) bad[rule].courses.push_back(&course);
    }
    for (const UnsuitableFood& rule : unsuitable_foods()) {  // in the order of the table
      const auto fed = bad.find(&rule);
      if (fed == bad.end()) continue;
      const auto& courses = fed->second.courses;
      const auto share =
          static_cast<double>(courses.size()) / static_cast<double>(past.eaten.size());
      if (rule.rule == FoodRule::not_staple && share <= kMostOfCourses) continue;
      const Date last = day_.date_of(*courses.back()->entry);
      const bool never = rule.rule == FoodRule::never;
      report(never && day_.date - last <= kRecent_d ? When::today : When::this_week, animal,
             fmt::format("{} {} {}", room::called(*animal.animal),
                         never ? "was fed what should not be fed:" : "is fed too often with",
                         courses.back()->entry->item),
             fmt::format("{} of {} courses in four weeks, last {}; {}.", courses.size(),
                         past.eaten.size(), to_text(last), rule.reason),
             never ? "Do not feed it again. If the animal is weak, breathes badly, vomits or "
                     "twitches, call a veterinarian now and say what it ate."
                   : "Keep it to a small part and vary the rest.",
             rule.provenance.source);
    }
  }

  /// Of animals with enough meals to judge; a lone entry is no habit of jotting.
  void note_unknowns(const room::AnimalDay& animal, const PastDiet& past) {
    if (std::ssize(past.eaten) < kLeastMeals) return;
    const auto diet = diet_class_of(animal.profile.text(species::Key::diet_class));
    for (const Eaten& course : past.eaten) {
      if (unsuitable(course.entry->item, animal.profile.group, diet) != nullptr) continue;
      if (course.match.food == nullptr) {
        unclear_.insert(unclear_words(course));
      } else if (!course.grams.known()) {
        uncounted_.insert(course.entry->item);
      }
      if (course.jar != nullptr && !has_label(*course.jar)) jars_.insert(course.jar->id.text());
    }
  }

  /// "mouse (could be mouse_adult, mouse_fuzzy, mouse_pinky)"
  static std::string unclear_words(const Eaten& course) {
    constexpr std::size_t kMostGuesses = 3;
    const std::string& item = course.entry->item;
    if (item.empty()) return "(no food named)";
    const auto& could_be = course.match.could_be;
    if (could_be.empty()) return item;
    std::vector<std::string> ids;
    for (const Food* food : could_be) {
      if (ids.size() < kMostGuesses) ids.push_back(food->id);
    }
    return fmt::format("{} (could be {}{})", item, fmt::join(ids, ", "),
                       could_be.size() > kMostGuesses ? ", ..." : "");
  }

  static std::string some(const std::set<std::string>& all) {
    std::vector<std::string> named;
    for (const std::string& one : all) {
      if (named.size() < kMostNamed) named.push_back(one);
    }
    return fmt::format(
        "{}{}", fmt::join(named, ", "),
        all.size() > kMostNamed ? fmt::format(" and {} more", all.size() - kMostNamed) : "");
  }

  void tell_unknowns() {
    std::string evidence, advice;
    const auto add = [&](const std::set<std::string>& what, std::string_view is,
                         std::string_view tell) {
      if (what.empty()) return;
      evidence += fmt::format("{}{}: {}.", evidence.empty() ? "" : " ", is, some(what));
      advice += fmt::format("{}{}", advice.empty() ? "" : " ", tell);
    };
    add(unclear_, "Foods that are not clear",
        "Call a food as `warmside foods` does, or put a [[supply]] of that name into the room file "
        "and say there what `food` it is.");
    add(uncounted_, "Meals without a count or a mass that says how much",
        "Jot counts, or the mass; put what a piece weighs into its [[supply]].");
    add(jars_, "Jars whose label is not in the book",
        "Copy the label into the jar's record: calcium, vitamin_d3_iu_per_g, retinol_iu_per_g.");
    if (evidence.empty()) return;
    found_.push_back({When::good_to_know, "room", "room",
                      "Some of what was eaten cannot be reckoned", evidence, advice,
                      "the notebook and the room file", "diet"});
  }

  const room::Day& day_;
  const Pantry pantry_;
  std::vector<Finding> found_;
  std::set<std::string> unclear_, uncounted_, jars_;
};

}  // namespace

std::vector<Finding> findings(const room::Day& day) {
  return Judge(day).findings();
}

}  // namespace warmside::diet
