// An animal's need from its record, meals in pieces, and a year of them.

#include "diet/meals.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <string>
#include <vector>

#include "support/room_builder.h"

namespace warmside::diet {
namespace {

using room::Entry;
using room::EntryKind;
using test::RoomBuilder;
using test::TestDay;

RoomBuilder snake(const char* mass = "500g") {
  return RoomBuilder().enclosure("tub").animal("a", "corn_snake").weighed("2026-11-01", "a", mass);
}

TEST(StageOf, IllnessGoesBeforeYouthAndYouthBeforeBreeding) {
  const auto stage = [](const RoomBuilder& b) {
    const TestDay test = b.day("2026-11-25");
    return stage_of(test.animal("a"));
  };
  EXPECT_EQ(stage(snake()), Stage::maintenance);
  EXPECT_EQ(stage(snake("40g")), Stage::growth);
  RoomBuilder breeder = RoomBuilder().enclosure("tub").animal(
      "a", "corn_snake", [](room::Animal& a) { a.breeding = true; });
  breeder.weighed("2026-11-01", "a", "500g");
  EXPECT_EQ(stage(breeder), Stage::breeding);
  RoomBuilder ill = snake("40g");
  ill.entry("2026-11-20", EntryKind::ill, "a", [](Entry& e) { e.item = "thin"; });
  EXPECT_EQ(stage(ill), Stage::convalescence);
}

TEST(NeedOf, IsThatOfItsMassAndStageOnTheAssumedDay) {
  const TestDay test = snake().day("2026-11-25");
  const Pantry pantry(*test.room);
  const auto need = need_of(test.animal("a"), test.day, pantry);
  ASSERT_TRUE(need.ok());
  const auto expected =
      daily_need(Group::snake, Mass::grams(500), assumed_day(test.animal("a").profile).value(),
                 Stage::maintenance);
  EXPECT_EQ(need->need.middle.joules(), expected->middle.joules());
  EXPECT_EQ(need->need.log_sd, expected->log_sd);
  EXPECT_FALSE(need->corrected);
}

TEST(NeedOf, SaysWhatIsMissing) {
  const TestDay unweighed =
      RoomBuilder().enclosure("tub").animal("a", "corn_snake").day("2026-11-25");
  const Pantry pantry(*unweighed.room);
  EXPECT_EQ(need_of(unweighed.animal("a"), unweighed.day, pantry).problem().code,
            ProblemCode::missing);
  RoomBuilder group = RoomBuilder().enclosure("tank").animal("a", "dyeing_dart_frog",
                                                             [](room::Animal& a) { a.count = 4; });
  group.weighed("2026-11-01", "a", "5g");
  const TestDay frogs = group.day("2026-11-25");
  EXPECT_EQ(need_of(frogs.animal("a"), frogs.day, pantry).problem().code, ProblemCode::missing);
}

// A mouse of 25 g every ten days for 200 days keeps the snake's mass: 20 meals x 25 g x 1.7 kcal/g
// x 4.184 = 3,556 kJ, so it burns 17.8 kJ a day, whatever the equation says.
TEST(NeedOf, ItsOwnRecordCorrectsIt) {
  RoomBuilder b = snake();
  for (int meal = 0; meal < 20; ++meal) {
    const Date date = test::date("2026-04-01") + 10 * meal;
    b.entry(to_text(date), EntryKind::fed, "a", [](Entry& e) {
      e.item = "adult mouse";
      e.count = 1;
      e.mass = Mass::grams(25);
    });
  }
  const TestDay test = b.day("2026-11-25");
  const Pantry pantry(*test.room);
  KnownElsewhere known;
  known.mass_change = MassChange{test::date("2026-04-01"), test::date("2026-10-18"), Mass::grams(0),
                                 Mass::grams(5)};
  const auto plain = need_of(test.animal("a"), test.day, pantry);
  const auto own = need_of(test.animal("a"), test.day, pantry, known);
  ASSERT_TRUE(own.ok());
  EXPECT_TRUE(own->corrected);
  EXPECT_LT(own->need.log_sd, plain->need.log_sd / 2);
  EXPECT_NEAR(own->need.middle.kilojoules(), 17.8, 1.8);  // the prior still draws a little
  // A record of less than 90 days is none, and so is one with a meal that nobody knows.
  known.mass_change->to = test::date("2026-06-29");
  EXPECT_FALSE(need_of(test.animal("a"), test.day, pantry, known)->corrected);
  known.mass_change->to = test::date("2026-10-18");
  b.entry("2026-05-05", EntryKind::fed, "a", [](Entry& e) { e.item = "mystery"; });
  const TestDay unclear = b.day("2026-11-25");
  EXPECT_FALSE(need_of(unclear.animal("a"), unclear.day, Pantry(*unclear.room), known)->corrected);
}

// 7 to 10 % of 500 g is 35 to 50 g; adult mice of the table weigh 18 to 35 g, geometric middle
// 25.1 g: ceil(35/25.1) = 2 and floor(50/25.1) = 1 do not meet, so the nearest whole number to the
// middle sqrt(35 x 50) = 41.8 g: 2. Pinkies of 1 to 3 g, middle 1.73: 21 to 28. Adult rats of 150 g
// and more are too large alone.
TEST(PortionOf, CountsPiecesByTheShareOfTheMass) {
  const TestDay test = snake().day("2026-11-25");
  const Pantry pantry(*test.room);
  const auto portion = [&](const char* words) {
    return portion_of(test.animal("a"), pantry.match(words)).value();
  };
  EXPECT_NEAR(portion("adult mouse").mass.low.grams(), 35, 1e-9);
  EXPECT_NEAR(portion("adult mouse").mass.high.grams(), 50, 1e-9);
  EXPECT_EQ(portion("adult mouse").fewest, 2);
  EXPECT_EQ(portion("adult mouse").most, 2);
  EXPECT_FALSE(portion("adult mouse").too_large);
  EXPECT_EQ(portion("pinky mouse").fewest, 21);
  EXPECT_EQ(portion("pinky mouse").most, 28);
  EXPECT_TRUE(portion("adult rat").too_large);
  EXPECT_EQ(portion("adult rat").most, 1);
  EXPECT_EQ(portion("dandelion").fewest, 0);
  EXPECT_FALSE(portion_of(test.animal("a"), pantry.match("mystery")).has_value());
}

TEST(PreyThatFits, IsNoLargerThanTheMealAndNotByTheDozen) {
  const auto ids = [](const char* mass) {
    const TestDay test = snake(mass).day("2026-11-25");
    std::vector<std::string> names;
    for (const Food* food : prey_that_fits(test.animal("a"))) names.push_back(food->id);
    return names;
  };
  const auto has = [](const std::vector<std::string>& names, const char* id) {
    return std::find(names.begin(), names.end(), id) != names.end();
  };
  EXPECT_TRUE(has(ids("500g"), "mouse_adult"));
  EXPECT_FALSE(has(ids("500g"), "mouse_pinky"));
  EXPECT_FALSE(has(ids("500g"), "rat_adult"));
  EXPECT_TRUE(has(ids("12g"), "mouse_pinky"));  // a hatchling: 10 to 15 % of 12 g is 1.2 to 1.8 g
  EXPECT_FALSE(has(ids("12g"), "mouse_adult"));
}

// Worst Ca:P by hand from data/foods.csv and the widening of diet/nutrients.h. Turnip greens:
// calcium 1900/1.2 = 1583 mg/kg, less 0.445 x 1000 mg of acid (0.05 g/100 g, remembered, twice) =
// 1138, against 420 x 1.2 = 504: 2.26. Collards: 1933 less 0.445 x 9000: none left. White
// mushrooms: 25 mg against 1032. A keeper's weed of 2000 to 500 with no acid: 4; with the turnip
// greens 3138/1004.
TEST(MixOf, LeavesOutWhatIsNoStapleAndWhatSpoilsTheRatio) {
  const TestDay test =
      RoomBuilder().enclosure("t").animal("a", "hermanns_tortoise").day("2026-06-01");
  const auto& tortoise = test.animal("a");
  const auto mixed = [&](const std::vector<const Food*>& plants) {
    std::vector<std::string> ids;
    for (const Food* food : mix_of(tortoise, plants).plants) ids.push_back(food->id);
    return ids;
  };
  Food weed;
  weed.id = "weed";
  weed.name = "weed of the garden";
  weed.kind = FoodKind::plant;
  weed.calcium_mg_per_kg = Interval::exactly(2000);
  weed.phosphorus_mg_per_kg = Interval::exactly(500);
  weed.oxalic_acid_g_per_100g = Interval::exactly(0);
  weed.minerals = weed.oxalate = Provenance{Trust::keeper, "the keeper"};
  using Ids = std::vector<std::string>;
  EXPECT_EQ(mixed({find_food("collards"), find_food("spinach"), find_food("banana"),
                   find_food("turnip_greens"), find_food("mouse_adult")}),
            (Ids{"turnip_greens"}));
  EXPECT_EQ(mixed({find_food("mushroom_white"), find_food("turnip_greens")}),
            (Ids{"turnip_greens"}));
  EXPECT_EQ(mixed({find_food("turnip_greens"), &weed}), (Ids{"turnip_greens", "weed"}));
  EXPECT_NEAR(mix_of(tortoise, {find_food("turnip_greens"), &weed}).calcium_to_phosphorus.low,
              (1900 / 1.2 + 2000 - 40.08 / 90.03 * 1000) / 1004, 1e-9);
  EXPECT_EQ(mixed({find_food("spinach")}), Ids{});
  EXPECT_EQ(mixed({}), Ids{});
}

EnergyBand band(double low, double high) {
  return {Energy::kilojoules(low), Energy::kilojoules((low + high) / 2), Energy::kilojoules(high)};
}

TEST(JudgeEnergy, BandAgainstBand) {
  const EnergyBand need = band(10, 20);
  EXPECT_EQ(judge_energy({5, 9.9}, need), EnergyVerdict::surely_too_little);
  EXPECT_EQ(judge_energy({5, 10}, need), EnergyVerdict::unsure);
  EXPECT_EQ(judge_energy({12, 18}, need), EnergyVerdict::unsure);
  EXPECT_EQ(judge_energy({20, 25}, need), EnergyVerdict::surely_enough);
  EXPECT_EQ(judge_energy({30, 90}, need), EnergyVerdict::surely_enough);
  EXPECT_EQ(judge_energy({30.1, 90}, need), EnergyVerdict::surely_too_much);
  EXPECT_EQ(judge_energy(Interval::unknown(), need), EnergyVerdict::unknown);
  EXPECT_EQ(judge_energy({31, Interval::unknown().high}, need), EnergyVerdict::surely_too_much);
}

// A meal of 178 kJ every ten days is 178 x 36.5 = 6,497 kJ in a year.
TEST(YearOf, CountsMealsAgainstTheNeed) {
  DailyNeed need;
  need.middle = Energy::kilojoules(17.8);
  need.log_sd = 0.1;
  const YearOfMeals year = year_of(Interval::exactly(178), 10, need);
  EXPECT_NEAR(year.eaten_kj.low, 6497, 1e-6);
  EXPECT_NEAR(year.need.middle.kilojoules(), 6497, 1e-6);
  EXPECT_EQ(year.verdict, EnergyVerdict::unsure);
  EXPECT_EQ(year_of(Interval::exactly(178), 30, need).verdict, EnergyVerdict::surely_too_little);
  EXPECT_EQ(year_of(Interval::exactly(178), 5, need).verdict, EnergyVerdict::surely_too_much);
  EXPECT_EQ(year_of(Interval::exactly(178), 8, need).verdict, EnergyVerdict::surely_enough);
}

}  // namespace
}  // namespace warmside::diet
