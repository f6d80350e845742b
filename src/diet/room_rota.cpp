#include "diet/room_rota.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "diet/past_diet.h"
#include "diet/unsuitable.h"

namespace warmside::diet {
namespace {

// Common practice, no source, all of these.
constexpr std::size_t kMostMenus = 4;       // of its own habit, the most frequent ones
constexpr std::size_t kMostOther = 3;       // foods in store that it did not get lately
constexpr int kCounted = 200;               // pieces; more of them are a heap, given as they are
constexpr double kHabitWhereUnknown = 100;  // an unusual jar is then dearer than any saving
/// Of a meal that it is not used to, in opened jars.
constexpr double kPriceOfOther = 0.3;

/// What was offered under one menu key.
struct Menu {
  std::vector<Course> courses;  // as last offered, without jars
  std::vector<int> counts;      // of a single course
  int times = 0;
  std::optional<std::size_t> dusted;  // which course gets the powder, where one did
};

bool dusts(FoodKind kind) {
  return kind != FoodKind::vertebrate;
}

double middle_g(const Interval& grams) {
  return std::sqrt(grams.low * grams.high);
}

std::optional<Mass> mass_of(const Course& course, const Match& match) {
  if (course.mass) return course.mass;
  const Interval piece = match.piece_g();
  if (!course.count || !piece.known() || !(piece.low > 0)) return std::nullopt;
  return Mass::grams(middle_g(piece) * *course.count);
}

Nutrients nutrients_of(const Match& match, Mass mass) {
  const Food nothing_known;
  Serving serving;
  serving.food = match.food == nullptr ? &nothing_known : match.food;
  serving.mass = mass;
  return diet::nutrients_of(serving);
}

class Builder {
 public:
  Builder(const room::Day& day, const Pantry& pantry, bool hold_to_stock)
      : day_(day), pantry_(pantry), hold_to_stock_(hold_to_stock) {
    rota_.problem.first_day = day.date;
    rota_.problem.days = kDaysOfRota;
  }

  RoomRota build(const std::vector<Diner>& diners) {
    add_jars();
    for (const Diner& diner : diners) add(diner);
    if (check(rota_.problem).empty()) {
      drop_what_cannot_be_met();
      keep_habits();
    }
    return std::move(rota_);
  }

 private:
  /// A plan takes the powder as it lies when the food is offered, under a light or a thick coat.
  void add_jars() {
    const Interval dust{dust_at_first_g_per_g(Coat::light).low,
                        dust_at_first_g_per_g(Coat::well).high};
    for (const room::Jar& jar : day_.room->jars) {
      if (!room::in_use(jar, day_.date) || (jar.expires && *jar.expires < day_.date)) continue;
      RotaJar one{jar.id.text(), supplement_of(jar), dust, {}};
      if (jar.expires) one.last_good_day = *jar.expires - day_.date;
      rota_.problem.jars.push_back(std::move(one));
      rota_.jars.push_back(jar.id);
    }
  }

  void add(const Diner& diner) {
    const room::AnimalDay& animal = *diner.animal;
    const auto leave_out = [&](std::string why) {
      rota_.left_out.push_back({animal.animal->id, std::move(why)});
    };
    const auto circumstances = circumstances_of(animal, day_);
    if (!circumstances) return leave_out("its profile does not say what it eats");
    if (diner.feeding_days.empty()) return leave_out("it is not fed in these weeks");
    RotaAnimal one;
    one.name = room::called(*animal.animal);
    one.circumstances = *circumstances;
    one.whole_prey = animal.profile.text(species::Key::diet_class).starts_with("whole_prey");
    for (const Date date : diner.feeding_days) one.feeding_days.push_back(date - day_.date);
    const auto meals = meals_offered(animal, day_, day_.date - kDaysOfHabit, day_.date);
    add_menus(animal, meals, one);
    add_other_foods(animal, meals, one);
    if (one.offers.empty()) {
      return leave_out(meals.empty() ? "its notebook has no meal with a food's name"
                                     : "no meal says how much there was of a food that is known");
    }
    add_habit(animal, diner, meals, one);
    if (const auto need = need_of(animal, day_, pantry_, diner.elsewhere)) {
      one.energy_per_day = need->need.per_day();
    }
    if (circumstances->amphibian && animal.weighing != nullptr) {
      one.body = *animal.weighing->mass * animal.animal->count;
    }
    rota_.animals.push_back(&animal);
    rota_.problem.animals.push_back(std::move(one));
  }

  /// Whole prey brings its own minerals: powder only where the keeper uses it.
  void add_habit(const room::AnimalDay& animal, const Diner& diner,
                 const std::vector<OfferedMeal>& meals, RotaAnimal& one) {
    const bool powder = std::any_of(meals.begin(), meals.end(), [](const OfferedMeal& meal) {
      return std::any_of(meal.courses.begin(), meal.courses.end(),
                         [](const Course& course) { return !course.jar.empty(); });
    });
    if (!one.whole_prey || powder) {
      for (std::size_t j = 0; j < rota_.jars.size(); ++j) one.jars.push_back(j);
    }
    Habits habits(animal, day_, day_.date);
    for (const Date date : diner.feeding_days) {
      const auto due = habits.due(date);
      if (!due) return;
      std::optional<std::size_t> jar;
      for (const Course& course : due->courses) {
        const auto at = std::find(rota_.jars.begin(), rota_.jars.end(), course.jar);
        if (at != rota_.jars.end()) jar = static_cast<std::size_t>(at - rota_.jars.begin());
      }
      one.usual_jars.push_back(jar);
      habits.offer(date);
    }
  }

  void drop_what_cannot_be_met() {
    for (std::size_t a = 0; a < rota_.animals.size(); ++a) {
      RotaAnimal& animal = rota_.problem.animals[a];
      RotaProblem alone = own_problem(a);
      for (auto short_of = shortages_of(alone); !short_of.empty(); short_of = shortages_of(alone)) {
        const auto worst = std::find_if(
            short_of.begin(), short_of.end(),
            [](const RotaShortage& one) { return from_word<Nutrient>(one.need).has_value(); });
        if (worst == short_of.end()) break;
        rota_.cannot_be_met.push_back(
            {rota_.animals[a]->animal->id,
             fmt::format("{}: {:.2g} {} off at best in {} days; smallest change: {}", worst->need,
                         worst->shortfall, worst->unit, worst->days, worst->smallest_change)});
        animal.not_asked.push_back(*from_word<Nutrient>(worst->need));
        alone.animals.front().not_asked = animal.not_asked;
      }
    }
  }

  /// One animal with its own foods only, so that no other's are proposed for it.
  RotaProblem own_problem(std::size_t a) const {
    RotaProblem alone = rota_.problem;
    alone.animals = {rota_.problem.animals[a]};
    alone.foods.clear();
    for (RotaOffer& offer : alone.animals.front().offers) {
      alone.foods.push_back(rota_.problem.foods[offer.food]);
      alone.foods.back().stock.reset();
      offer.food = alone.foods.size() - 1;
    }
    return alone;
  }

  /// Where a need cannot be judged, a rota would leave away the powder that the keeper gives for
  /// it.
  void keep_habits() {
    for (const RotaUnknown& unknown : unknown_of(rota_.problem)) {
      if (!unknown.limit) rota_.problem.animals[unknown.animal].habit = kHabitWhereUnknown;
    }
  }

  bool may_be_fed(const room::AnimalDay& animal, const std::string& item) const {
    const auto diet = diet_class_of(animal.profile.text(species::Key::diet_class));
    const UnsuitableFood* bad = unsuitable(item, animal.profile.group, diet);
    return bad == nullptr || bad->rule != FoodRule::never;
  }

  void add_menus(const room::AnimalDay& animal, const std::vector<OfferedMeal>& meals,
                 RotaAnimal& one) {
    std::map<std::string, Menu> menus;
    for (const OfferedMeal& meal : meals) {
      const bool fit =
          std::all_of(meal.courses.begin(), meal.courses.end(),
                      [&](const Course& course) { return may_be_fed(animal, course.item); });
      if (!fit) continue;
      Menu& menu = menus[menu_key(meal, false)];
      menu.courses = meal.courses;
      ++menu.times;
      if (meal.courses.size() == 1 && meal.courses.front().count) {
        menu.counts.push_back(*meal.courses.front().count);
      }
      for (std::size_t c = 0; c < meal.courses.size(); ++c) {
        if (!meal.courses[c].jar.empty()) menu.dusted = c;
        menu.courses[c].jar = {};
      }
    }
    const bool some_dusted = std::any_of(menus.begin(), menus.end(),
                                         [](const auto& entry) { return entry.second.dusted; });
    std::vector<std::pair<std::string, Menu>> ordered(menus.begin(), menus.end());
    std::stable_sort(ordered.begin(), ordered.end(),
                     [](const auto& a, const auto& b) { return a.second.times > b.second.times; });
    if (ordered.size() > kMostMenus) ordered.resize(kMostMenus);
    for (auto& [key, menu] : ordered) {
      const bool counted = !menu.counts.empty() &&
                           *std::max_element(menu.counts.begin(), menu.counts.end()) <= kCounted;
      const bool powder = menu.dusted || !some_dusted;
      if (menu.courses.size() == 1 && counted) {
        offer_pieces(animal, menu, powder, one);
      } else {
        offer_menu(animal, key, menu, powder, one);
      }
    }
  }

  /// A single food in pieces: as many as the profile's share, and as the keeper gave.
  void offer_pieces(const room::AnimalDay& animal, Menu& menu, bool powder, RotaAnimal& one) {
    const Course& course = menu.courses.front();
    const Match match = pantry_.match(course.item);
    auto& counts = menu.counts;
    std::sort(counts.begin(), counts.end());
    RotaOffer offer;
    offer.powder = powder;
    offer.usual = std::max(1, counts[counts.size() / 2]);
    offer.least = std::clamp(counts.front(), 1, offer.usual);
    offer.most = std::max(counts.back(), offer.usual);
    const auto portion = portion_of(animal, match);
    if (portion && portion->most > 0 && !portion->too_large) {
      offer.least = std::min(offer.least, std::max(1, portion->fewest));
      offer.most = std::max(offer.most, std::min(portion->most, kCounted));
    }
    put(course.item, match, offer, one);
  }

  void put(const std::string& item, const Match& match, RotaOffer offer, RotaAnimal& one) {
    const auto mass = mass_of({item, 1, {}, {}}, match);
    if (!mass) return;
    const std::string key = match.supply != nullptr ? "supply " + match.supply->id.text()
                            : match.food != nullptr ? "food " + match.food->id
                                                    : "item " + item;
    const auto [at, fresh] = food_of_.try_emplace(key, rota_.problem.foods.size());
    if (fresh) {
      RotaFood food{item, nutrients_of(match, *mass), *mass, {}, {}};
      if (match.supply != nullptr) {
        if (hold_to_stock_) food.stock = match.supply->count;
        if (match.supply->expires &&
            (hold_to_stock_ || match.supply->kind != room::SupplyKind::feeder)) {
          food.last_good_day = *match.supply->expires - day_.date;
        }
      }
      rota_.problem.foods.push_back(std::move(food));
      rota_.menus.push_back({{item, 1, {}, {}}});
      rota_.dusted.push_back(0);
    }
    offer.food = at->second;
    const bool there = std::any_of(one.offers.begin(), one.offers.end(),
                                   [&](const RotaOffer& o) { return o.food == offer.food; });
    if (!there) one.offers.push_back(offer);
  }

  /// Several courses, or a mass: as it is, once.
  void offer_menu(const room::AnimalDay& animal, const std::string& key, const Menu& menu,
                  bool powder, RotaAnimal& one) {
    RotaFood food;
    std::optional<std::size_t> dusted = menu.dusted;
    std::vector<Mass> masses;
    for (std::size_t c = 0; c < menu.courses.size(); ++c) {
      const Course& course = menu.courses[c];
      const Match match = pantry_.match(course.item);
      const auto mass = mass_of(course, match);
      if (!mass) return;
      masses.push_back(*mass);
      food.per_piece = food.per_piece + nutrients_of(match, *mass);
      food.name += (c == 0 ? "meal of " : " and ") + course_text(course, day_.room->info.units);
      if (!dusted && match.food != nullptr && dusts(match.food->kind)) dusted = c;
    }
    food.piece = masses[dusted.value_or(0)];  // what the powder lies on
    RotaOffer offer;
    offer.powder = powder;
    offer.food = rota_.problem.foods.size();
    if (!food_of_.try_emplace(animal.animal->id.text() + key, offer.food).second) return;
    rota_.problem.foods.push_back(std::move(food));
    rota_.menus.push_back(menu.courses);
    rota_.dusted.push_back(dusted.value_or(0));
    one.offers.push_back(offer);
  }

  /// Foods in store of a kind that it eats, of which some pieces make a meal by its profile.
  void add_other_foods(const room::AnimalDay& animal, const std::vector<OfferedMeal>& meals,
                       RotaAnimal& one) {
    std::vector<FoodKind> kinds;
    for (const OfferedMeal& meal : meals) {
      for (const Course& course : meal.courses) {
        const Match match = pantry_.match(course.item);
        if (match.food != nullptr) kinds.push_back(match.food->kind);
      }
    }
    std::size_t added = 0;
    for (const room::Supply& supply : day_.room->supplies) {
      if (added == kMostOther) return;
      const Match match = pantry_.match(supply);
      if (match.food == nullptr || supply.count == 0 || !may_be_fed(animal, supply.name) ||
          std::find(kinds.begin(), kinds.end(), match.food->kind) == kinds.end()) {
        continue;
      }
      const auto portion = portion_of(animal, match);
      if (!portion || portion->most < 1 || portion->most > kCounted || portion->too_large) continue;
      RotaOffer offer;
      offer.least = std::max(1, portion->fewest);
      offer.most = std::max(offer.least, portion->most);
      offer.usual = (offer.least + offer.most) / 2;
      offer.price = kPriceOfOther;
      offer.powder = dusts(match.food->kind);
      const auto before = one.offers.size();
      put(supply.name, match, offer, one);
      added += one.offers.size() - before;
    }
  }

  const room::Day& day_;
  const Pantry& pantry_;
  const bool hold_to_stock_;
  RoomRota rota_;
  std::map<std::string, std::size_t> food_of_;
};

}  // namespace

Choice RoomRota::choice_of(const RotaMeal& meal, std::string why) const {
  Choice choice{menus[meal.food], std::move(why)};
  if (choice.courses.size() == 1 && choice.courses.front().count) {
    choice.courses.front().count = meal.pieces;
  }
  if (meal.jar) choice.courses[dusted[meal.food]].jar = jars[*meal.jar];
  return choice;
}

RoomRota room_rota(const room::Day& day, const Pantry& pantry, const std::vector<Diner>& diners,
                   bool hold_to_stock) {
  return Builder(day, pantry, hold_to_stock).build(diners);
}

}  // namespace warmside::diet
