#include <fmt/format.h>

#include <cmath>
#include <set>

#include "diet/rota_pricing_internal.h"

namespace warmside::diet {
namespace {

constexpr int kMostPieces = 10'000;

/// Collects what is wrong, each with a field such as "animal gecko.pieces".
class Checker {
 public:
  explicit Checker(const RotaProblem& problem) : problem_(problem) {}

  Problems check() {
    if (problem_.days < 7 || problem_.days > 28 || problem_.days % 7 != 0) {
      refuse("days", "not whole weeks", "7, 14, 21 or 28", problem_.days);
    }
    for (const RotaFood& food : problem_.foods) check(food);
    for (const RotaJar& jar : problem_.jars) check(jar);
    for (const RotaAnimal& animal : problem_.animals) check(animal);
    check_prices();
    if (problems_.empty()) check_size();
    return std::move(problems_);
  }

 private:
  void refuse(std::string field, std::string what, std::string expected, double found) {
    problems_.push_back({ProblemCode::out_of_range,
                         std::move(what),
                         {"", 0, std::move(field)},
                         std::move(expected),
                         fmt::format("{:g}", found)});
  }
  void check(const RotaFood& food) {
    const std::string field = "food " + food.name;
    const double grams = food.piece.grams();
    if (!(grams > 0 && grams <= 1e5)) {
      refuse(field + ".piece", "not the mass of a piece", "more than 0g, at most 100kg", grams);
    }
    if (food.stock && (*food.stock < 0 || *food.stock > 1'000'000)) {
      refuse(field + ".stock", "not a number of pieces", "0 to 1,000,000", *food.stock);
    }
  }
  void check(const RotaJar& jar) {
    const Interval dust = jar.dust_g_per_g;
    if (!(dust.low >= 0 && dust.low <= dust.high)) {
      refuse("jar " + jar.name + ".dust", "not an amount of powder", "low..high, 0 or more",
             dust.low);
    }
  }
  void check(const RotaAnimal& animal) {
    const std::string field = "animal " + animal.name;
    int last = -1;
    for (const int day : animal.feeding_days) {
      if (day <= last || day >= problem_.days) {
        refuse(field + ".feed", "not a day of the rota after the one before",
               fmt::format("days from 0 to {}, in order", problem_.days - 1), day);
      }
      last = day;
    }
    if (animal.offers.empty() && !animal.feeding_days.empty()) {
      refuse(field + ".offer", "no food is offered", "at least one", 0);
    }
    std::set<std::size_t> seen;
    for (const RotaOffer& offer : animal.offers) {
      if (offer.food >= problem_.foods.size() || !seen.insert(offer.food).second) {
        refuse(field + ".offer", "no such food, or twice", "a food of the rota, once",
               static_cast<double>(offer.food));
      }
      if (!(1 <= offer.least && offer.least <= offer.usual && offer.usual <= offer.most &&
            offer.most <= kMostPieces)) {
        refuse(field + ".offer.pieces", "not a number of pieces for a meal",
               "1 <= least <= usual <= most <= 10,000",
               offer.least < 1 ? offer.least : offer.usual);
      }
      if (!(offer.price >= 0 && std::isfinite(offer.price))) {
        refuse(field + ".offer.price", "not a price", "0 or more", offer.price);
      }
    }
    seen.clear();
    for (const std::size_t jar : animal.jars) {
      if (jar >= problem_.jars.size() || !seen.insert(jar).second) {
        refuse(field + ".jars", "no such jar, or twice", "a jar of the rota, once",
               static_cast<double>(jar));
      }
    }
    if (!animal.usual_jars.empty() && animal.usual_jars.size() != animal.feeding_days.size()) {
      refuse(field + ".usual_jars", "not one for each feeding day",
             fmt::format("{}", animal.feeding_days.size()),
             static_cast<double>(animal.usual_jars.size()));
    }
    if (!(animal.habit >= 0 && animal.habit <= 1e6)) {
      refuse(field + ".habit", "not a price", "0 to 1,000,000", animal.habit);
    }
    if (const auto& energy = animal.energy_per_day;
        energy && !(energy->low > Energy::joules(0) && energy->low <= energy->middle &&
                    energy->middle <= energy->high)) {
      refuse(field + ".energy", "not a band of energy", "0 < low <= middle <= high",
             energy->low.kilojoules());
    }
    if (animal.circumstances.amphibian && animal.body && !(animal.body->grams() > 0)) {
      refuse(field + ".mass", "not the mass of an animal", "more than 0g", animal.body->grams());
    }
  }
  void check_prices() {
    const RotaPrices& p = problem_.prices;
    for (const double price :
         {p.opened_jar, p.dusted_meal, p.unusual_jar, p.pieces_off, p.energy_off}) {
      if (!(price >= 0 && price <= 1e6)) refuse("prices", "not a price", "0 to 1,000,000", price);
    }
  }
  void check_size() {
    for (const Block& block : make_blocks(problem_).blocks) {
      if (pattern_count(block) <= static_cast<double>(kMostPatterns)) continue;
      refuse("animal " + problem_.animals[block.animal].name + ".jars",
             "too many jars for so many meals of one window",
             "fewer jars that it may get, or fewer foods that expire", pattern_count(block));
    }
  }

  const RotaProblem& problem_;
  Problems problems_;
};

}  // namespace

Problems check(const RotaProblem& problem) {
  return Checker(problem).check();
}

}  // namespace warmside::diet
