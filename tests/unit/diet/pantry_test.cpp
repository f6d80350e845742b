// Which food a keeper's words mean, and which they leave open.

#include "diet/pantry.h"

#include <gtest/gtest.h>

#include <string>

#include "support/room_builder.h"

namespace warmside::diet {
namespace {

using test::RoomBuilder;

/// The id of the food meant, "" when none is clear, and how many it could be.
std::string meant(const Pantry& pantry, std::string_view words) {
  const Match match = pantry.match(words);
  if (match.food != nullptr) return match.food->id;
  return match.could_be.empty() ? "" : "one of " + std::to_string(match.could_be.size());
}

std::string meant(std::string_view words) {
  const room::Room room;
  return meant(Pantry(room), words);
}

// The words are those of docs/notebook.md, of the demo room and of keepers' lists; the ids those of
// data/foods.csv.
TEST(Pantry, KnowsFoodsByIdNameAndStageInAnyOrderAndNumber) {
  EXPECT_EQ(meant("mouse_adult"), "mouse_adult");
  EXPECT_EQ(meant("adult mouse"), "mouse_adult");
  EXPECT_EQ(meant("Adult mice, frozen"), "mouse_adult");
  EXPECT_EQ(meant("mouse, adult"), "mouse_adult");
  EXPECT_EQ(meant("thawed pinky mice"), "mouse_pinky");
  EXPECT_EQ(meant("fuzzy mouse"), "mouse_fuzzy");
  EXPECT_EQ(meant("weanling rats"), "rat_weanling");
  EXPECT_EQ(meant("black crickets"), "cricket_black_field");
  EXPECT_EQ(meant("black field cricket"), "cricket_black_field");
  EXPECT_EQ(meant("banded crickets"), "cricket_banded");
  EXPECT_EQ(meant("house cricket nymphs"), "cricket_house_nymph");
  EXPECT_EQ(meant("dubia roaches"), "roach_dubia");
  EXPECT_EQ(meant("Blaptica dubia roach"), "roach_dubia");
  EXPECT_EQ(meant("fruit fly (large)"), "fruitfly_hydei");
  EXPECT_EQ(meant("large fruit flies"), "fruitfly_hydei");
  EXPECT_EQ(meant("woodlice"), "isopod_porcellio");
  EXPECT_EQ(meant("isopods"), "isopod_porcellio");
  EXPECT_EQ(meant("dandelion greens"), "dandelion");
  EXPECT_EQ(meant("dandelion"), "dandelion");
  EXPECT_EQ(meant("sweet potato"), "sweet_potato");
  EXPECT_EQ(meant("sweet potato leaves"), "sweet_potato_leaf");
  EXPECT_EQ(meant("mealworms"), "mealworm");
  EXPECT_EQ(meant("giant mealworm"), "mealworm_giant");
}

TEST(Pantry, LeavesOpenWhatCouldBeSeveral) {
  EXPECT_EQ(meant("mouse"), "one of 3");
  EXPECT_EQ(meant("rat"), "one of 3");
  EXPECT_EQ(meant("house cricket"), "one of 3");
  EXPECT_EQ(meant("fruit fly"), "one of 2");
  EXPECT_TRUE(meant("adult cricket").starts_with("one of"));
  EXPECT_TRUE(meant("crickets").starts_with("one of"));
}

TEST(Pantry, NeverGuesses) {
  for (const char* words : {"",
                            " ",
                            "adult",
                            "crickets",
                            "giant",
                            "large",
                            "turnip",
                            "beet",
                            "dubia",
                            "worm",
                            "gecko slurry powder",
                            "crickets and roaches",
                            "adult mouse and rat",
                            "mouse, adult, one bite",
                            "xyzzy",
                            "larva",
                            "mus",
                            "12",
                            "\xff\xfe",
                            "fly swatter"}) {
    const room::Room room;
    EXPECT_EQ(Pantry(room).match(words).food, nullptr) << words;
  }
}

TEST(Pantry, EveryFoodIsFoundByItsIdAndByNameWithStage) {
  const room::Room room;
  const Pantry pantry(room);
  for (const Food& food : foods()) {
    EXPECT_EQ(meant(pantry, food.id), food.id);
    const Match match = pantry.match(food.name + ", " + food.stage);
    ASSERT_NE(match.food, nullptr) << food.id;
    EXPECT_EQ(match.food->id, food.id);
  }
}

RoomBuilder with_supplies() {
  return RoomBuilder()
      .add<room::Supply>("frozen-1",
                         [](room::Supply& s) {
                           s.kind = room::SupplyKind::frozen_prey;
                           s.name = "mice from the farm";
                           s.food = room::FoodId::trusted("mouse_adult");
                           s.piece_mass = Mass::grams(22);
                         })
      .add<room::Supply>("box-2",
                         [](room::Supply& s) {
                           s.kind = room::SupplyKind::feeder;
                           s.name = "hoppers";
                         })
      .add<room::Supply>("gloves", [](room::Supply& s) { s.name = "locust"; });
}

TEST(Pantry, ASupplyGoesBeforeTheTableAndSaysWhatAPieceWeighs) {
  const room::Room room = with_supplies().room();
  const Pantry pantry(room);
  for (const char* words :
       {"mice from the farm", "frozen-1", "Mouse from farm the", "adult mouse"}) {
    const Match match = pantry.match(words);
    ASSERT_NE(match.food, nullptr) << words;
    EXPECT_EQ(match.food->id, "mouse_adult");
    ASSERT_NE(match.supply, nullptr) << words;
    EXPECT_EQ(match.piece_g(), Interval::exactly(22));
  }
  // A supply that does not say what it is stays unknown, and gloves are no food.
  EXPECT_EQ(pantry.match("hoppers").food, nullptr);
  ASSERT_NE(pantry.match("hoppers").supply, nullptr);
  EXPECT_EQ(pantry.match("locust").supply, nullptr);
  // From the table: 18 to 35 g (data/foods.csv).
  const room::Room bare;
  EXPECT_EQ(Pantry(bare).match("adult mouse").piece_g(), (Interval{18, 35}));
  EXPECT_FALSE(Pantry(bare).match("hoppers").piece_g().known());
}

TEST(Pantry, TheKeepersFoodGoesBeforeTheTablesGroupByGroup) {
  const room::Room room = RoomBuilder()
                              .add<room::OwnFood>("cricket_banded",
                                                  [](room::OwnFood& f) {
                                                    f.name = "banded cricket";
                                                    f.calcium_mg_per_kg = 900;
                                                  })
                              .add<room::OwnFood>("slurry",
                                                  [](room::OwnFood& f) {
                                                    f.name = "slurry powder";
                                                    f.kind = FoodKind::plant;
                                                    f.vitamin_e_iu_per_kg = 250;
                                                    f.water = Percentage::percent(8);
                                                    f.source = "the packet";
                                                  })
                              .room();
  const Pantry pantry(room);
  const Food& cricket = *pantry.match("banded crickets").food;
  EXPECT_EQ(cricket.calcium_mg_per_kg, Interval::exactly(900));
  EXPECT_FALSE(cricket.phosphorus_mg_per_kg.known());  // the other half of the group
  EXPECT_EQ(cricket.minerals->trust, Trust::keeper);
  EXPECT_EQ(cricket.water_pct, find_food("cricket_banded")->water_pct);  // the table's, as before
  const Food& slurry = *pantry.match("slurry powder").food;
  EXPECT_EQ(slurry.vitamin_e_iu_per_kg, Interval::exactly(250));
  EXPECT_EQ(slurry.vitamins->source, "the packet");
  EXPECT_FALSE(slurry.calcium_mg_per_kg.known());
  EXPECT_FALSE(slurry.minerals.has_value());
  EXPECT_FALSE(slurry.energy_kcal_per_100g.known());
}

}  // namespace
}  // namespace warmside::diet
