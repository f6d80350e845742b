#pragma once
// Invented rooms for the rota: animals of six ways of eating, foods of the built-in table and four
// labelled jars. Same seed, same room.

#include <fmt/format.h>

#include <cmath>
#include <random>

#include "diet/rota.h"

namespace warmside::diet::invented {

class Rooms {
 public:
  explicit Rooms(unsigned seed) : random_(seed) {}

  /// days: 28 or fewer weeks. Every animal can be fed by itself.
  RotaProblem room(int animals, int days = 28) {
    problem_ = {};
    problem_.first_day = Date::days_from_epoch(20'000);
    problem_.days = days;
    for (const char* id : {"cricket_house_adult", "locust", "mealworm", "silkworm", "dandelion",
                           "endive", "mouse_fuzzy"}) {
      add_food(id);
    }
    const Interval none = Interval::exactly(0);
    add_jar("calcium", {Interval::exactly(0.38), none, none, none, none});
    add_jar("calcium with D3", {Interval::exactly(0.36), Interval::exactly(30), none, none, none});
    add_jar("multivitamin with retinol", {Interval::exactly(0.15), Interval::exactly(25),
                                          Interval::exactly(220), none, Interval::exactly(12)});
    add_jar("multivitamin", {Interval::exactly(0.12), Interval::exactly(20), none,
                             Interval::exactly(300), Interval::exactly(15)});
    for (int a = 0; a < animals; ++a) add_animal(a);
    return problem_;
  }

  /// A week of two animals and two jars, small enough for any solver; some cannot be fed.
  RotaProblem small_room() {
    room(0, 7);
    for (int i = 0; i < 2; ++i) {
      constexpr int kWays[] = {1, 2, 5, 4};
      add_animal(kWays[from(0, 3)] + 6 * i);
    }
    const std::size_t first = static_cast<std::size_t>(from(0, 1));
    const std::size_t second = static_cast<std::size_t>(from(2, 3));
    for (RotaAnimal& animal : problem_.animals) {
      if (animal.feeding_days.size() > 3) animal.feeding_days.resize(3);
      if (animal.offers.size() > 2) animal.offers.pop_back();
      if (animal.whole_prey) continue;
      animal.jars = {first, second};
      if (from(0, 1) == 1) {
        for (std::size_t m = 0; m < animal.feeding_days.size(); ++m) {
          animal.usual_jars.push_back(m % 2 == 0 ? std::optional(second) : std::nullopt);
        }
      }
    }
    if (from(0, 2) == 0) problem_.foods[cricket].stock = from(10, 40);
    if (from(0, 3) == 0) problem_.foods[cricket].last_good_day = from(2, 5);
    return std::move(problem_);
  }

  int from(int low, int high) {
    return low + static_cast<int>(random_() % static_cast<unsigned>(high - low + 1));
  }

 private:
  enum Foods { cricket, locust, mealworm, silkworm, dandelion, endive, mouse };

  void add_food(const char* id) {
    const Food* food = find_food(id);
    const Mass piece =
        food->piece_mass
            ? Mass::grams(std::sqrt(food->piece_mass->low.grams() * food->piece_mass->high.grams()))
            : Mass::grams(2);  // a leaf
    problem_.foods.push_back({food->name, nutrients_of({food, piece, {}, {}}), piece, {}, {}});
  }
  void add_jar(const char* name, Supplement supplement) {
    problem_.jars.push_back({name, supplement, {0.012, 0.018}, {}});
  }
  void feed_every(RotaAnimal& animal, int interval) {
    for (int day = from(0, interval - 1); day < problem_.days; day += interval) {
      animal.feeding_days.push_back(day);
    }
  }
  void add_animal(int a) {
    RotaAnimal animal;
    const auto offer = [&](Foods food, int usual, double price) {
      const int least = std::max(1, usual * 2 / 3), most = std::max(usual, usual * 4 / 3);
      animal.offers.push_back({static_cast<std::size_t>(food), least, usual, most, price});
    };
    switch (a % 6) {
      case 0:
        animal.name = fmt::format("anole {}", a);
        feed_every(animal, 1);
        offer(cricket, from(3, 6), 0);
        offer(mealworm, from(8, 12), 0.3);
        break;
      case 1:
        animal.name = fmt::format("gecko {}", a);
        animal.circumstances.uvb_in_zone = true;
        feed_every(animal, 2);
        offer(cricket, from(5, 9), 0);
        offer(locust, from(2, 3), 0.3);
        offer(silkworm, from(3, 5), 0.4);
        break;
      case 2:
        animal.name = fmt::format("frog {}", a);
        animal.circumstances.amphibian = true;
        animal.body = Mass::grams(from(20, 60));
        feed_every(animal, 2);
        offer(cricket, from(5, 8), 0);
        offer(mealworm, from(10, 16), 0.3);
        break;
      case 3:
        animal.name = fmt::format("tortoise {}", a);
        animal.circumstances = {DietClass::herbivore, false, true};
        feed_every(animal, 1);
        offer(dandelion, from(10, 20), 0);
        offer(endive, from(20, 30), 0.1);
        break;
      case 4:
        animal.name = fmt::format("snake {}", a);
        animal.whole_prey = true;
        feed_every(animal, from(7, 10));
        offer(mouse, from(1, 2), 0);
        break;
      case 5:
        animal.name = fmt::format("skink {}", a);
        animal.circumstances.diet = DietClass::omnivore;
        feed_every(animal, 3);
        offer(cricket, from(8, 12), 0);
        offer(dandelion, from(6, 9), 0.1);
        break;
    }
    if (!animal.whole_prey) animal.jars = {0, 1, 2, 3};
    double energy_kj = 0;
    for (std::size_t m = 0; m < animal.feeding_days.size(); ++m) {
      const RotaOffer& usual = animal.offers.front();
      energy_kj += usual.usual * *best_estimate(problem_.foods[usual.food].per_piece.energy_kj) /
                   problem_.days;
    }
    energy_kj *= from(80, 120) / 100.0;
    if (energy_kj > 0) animal.energy_per_day = band_about(Energy::kilojoules(energy_kj), 0.15);
    problem_.animals.push_back(std::move(animal));
  }

  std::mt19937 random_;
  RotaProblem problem_;
};

}  // namespace warmside::diet::invented
