// Foods that should not be fed: found by their words, for whom they hold, and what the reader
// refuses.

#include "diet/unsuitable.h"

#include <gtest/gtest.h>

#include <string>

namespace warmside::diet {
namespace {

TEST(UnsuitableFoods, AreFoundByTheirWordsAndForThoseWhomTheyHold) {
  const auto* firefly = unsuitable("two fireflies", Group::lizard, DietClass::omnivore);
  ASSERT_NE(firefly, nullptr);
  EXPECT_EQ(firefly->rule, FoodRule::never);
  EXPECT_EQ(firefly->provenance.source, "knight1999");
  EXPECT_NE(unsuitable("Avocado", Group::chelonian, DietClass::herbivore), nullptr);
  EXPECT_NE(unsuitable("wild-caught grasshopper", Group::frog, DietClass::carnivore), nullptr);
  EXPECT_EQ(unsuitable("wild dandelion", Group::chelonian, DietClass::herbivore), nullptr);
  EXPECT_NE(unsuitable("dog food", Group::chelonian, DietClass::herbivore), nullptr);
  EXPECT_EQ(unsuitable("dog food", Group::lizard, DietClass::omnivore), nullptr);
  EXPECT_EQ(unsuitable("dog food", Group::lizard, std::nullopt), nullptr);
  EXPECT_EQ(unsuitable("spinach", Group::chelonian, DietClass::herbivore)->rule,
            FoodRule::not_staple);
  for (const char* fine : {"", "adult mouse", "dandelion greens", "dubia roach", "beetle"}) {
    EXPECT_EQ(unsuitable(fine, Group::lizard, DietClass::omnivore), nullptr) << fine;
  }
}

// The note of a plant rich in oxalic acid is arithmetic on data/foods.csv: what the acid can bind
// at 40.08/90.03 g/g is more than what the plant holds.
TEST(UnsuitableFoods, DerivedRowsFollowFromTheTableOfFoods) {
  int derived = 0;
  for (const UnsuitableFood& row : unsuitable_foods()) {
    if (row.provenance.trust != Trust::derived) continue;
    ++derived;
    bool found = false;
    for (const Food& food : foods()) {
      if (unsuitable(food.name, Group::chelonian, DietClass::herbivore) != &row) continue;
      found = true;
      EXPECT_GT(food.oxalic_acid_g_per_100g.low * 1e4 * 40.08 / 90.03, food.calcium_mg_per_kg.high)
          << food.id;
    }
    EXPECT_TRUE(found) << *row.words.begin();
  }
  EXPECT_EQ(derived, 5);
}

TEST(UnsuitableFoods, TheReaderRefusesBadRows) {
  const std::string header = "words,groups,diet,rule,reason,status,source,note\n";
  const auto problems = [&](const std::string& row) {
    const auto read = read_unsuitable_foods(header + row);
    return read.ok() ? std::string("none") : read.problem().front().where.field;
  };
  EXPECT_EQ(problems("fig,snake; frog,herbivore,never,because,verified,x,\n"), "none");
  EXPECT_EQ(problems(",any,any,never,because,verified,x,\n"), "words");
  EXPECT_EQ(problems("fig,fish,any,never,because,verified,x,\n"), "groups");
  EXPECT_EQ(problems("fig,,any,never,because,verified,x,\n"), "groups");
  EXPECT_EQ(problems("fig,any,vegan,never,because,verified,x,\n"), "diet");
  EXPECT_EQ(problems("fig,any,any,seldom,because,verified,x,\n"), "rule");
  EXPECT_EQ(problems("fig,any,any,never,,verified,x,\n"), "reason");
  EXPECT_EQ(problems("fig,any,any,never,because,sure,x,\n"), "status");
  EXPECT_EQ(problems("fig,any,any,never,because,verified,,\n"), "status");
}

}  // namespace
}  // namespace warmside::diet
