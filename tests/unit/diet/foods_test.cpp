// The table of foods: what its reader refuses, and values of it against the published tables that
// its sources name.

#include "diet/foods.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <string>

#include "species/built_in_data.h"

namespace warmside::diet {
namespace {

const Food& food(std::string_view id) {
  const Food* found = find_food(id);
  EXPECT_NE(found, nullptr) << id;
  static const Food kNone;
  return found == nullptr ? kNone : *found;
}

TEST(Interval, UnknownStaysUnknown) {
  const Interval known{2, 3}, unknown = Interval::unknown();
  EXPECT_TRUE(known.known());
  EXPECT_FALSE((known + unknown).known());
  EXPECT_EQ((known + unknown).low, 2);
  EXPECT_EQ(known + Interval::exactly(1), (Interval{3, 4}));
  EXPECT_EQ(unknown * 0.0, Interval::exactly(0));  // none of it is eaten
  EXPECT_FALSE((unknown * 0.5).known());
  EXPECT_EQ(known * Interval({2, 4}), (Interval{4, 12}));
  EXPECT_EQ(less(known, Interval{1, 5}), (Interval{0, 2}));
  EXPECT_EQ(less(known, unknown), (Interval{0, 3}));
  EXPECT_FALSE(less(unknown, known).known());
  EXPECT_EQ(ratio(known, Interval{1, 2}), (Interval{1, 3}));
  EXPECT_FALSE(ratio(known, Interval{0, 2}).known());
  EXPECT_EQ(ratio(known, unknown).low, 0);
}

TEST(Foods, TableIsThere) {
  EXPECT_EQ(foods().size(), 93U);
  const auto count = [](FoodKind kind) {
    return std::count_if(foods().begin(), foods().end(),
                         [kind](const Food& f) { return f.kind == kind; });
  };
  EXPECT_EQ(count(FoodKind::invertebrate), 25);
  EXPECT_EQ(count(FoodKind::vertebrate), 9);
  EXPECT_EQ(count(FoodKind::plant), 59);
  EXPECT_EQ(find_food("dragon"), nullptr);
}

// Finke 2002, Zoo Biology 21:269, adult house cricket, as reprinted (verified secondary): water
// 69.2, protein 20.5, fat 6.8, ash 1.1 %, 140 kcal/100 g, calcium 407 and phosphorus 2950 mg/kg.
// The other end: 0.14 and 0.99 % of 31.0 % dry matter (Bernard & Allen): 434 and 3069 mg/kg.
TEST(Foods, CricketOfFinke) {
  const Food& cricket = food("cricket_house_adult");
  EXPECT_EQ(cricket.water_pct, Interval::exactly(69.2));
  EXPECT_EQ(cricket.protein_pct, Interval::exactly(20.5));
  EXPECT_EQ(cricket.fat_pct, Interval::exactly(6.8));
  EXPECT_EQ(cricket.energy_kcal_per_100g, Interval::exactly(140));
  EXPECT_EQ(cricket.calcium_mg_per_kg, (Interval{407, 434}));
  EXPECT_EQ(cricket.phosphorus_mg_per_kg, (Interval{2950, 3069}));
  EXPECT_EQ(cricket.minerals->trust, Trust::verified_secondary);
  EXPECT_EQ(cricket.vitamin_d3_iu_per_kg, (Interval{0, 256}));  // "<256"
  EXPECT_EQ(cricket.retinol_iu_per_kg, (Interval{0, 1000}));
  EXPECT_FALSE(cricket.carotenoid_iu_per_kg.known());
}

// USDA National Nutrient Database SR28 (verified), a few of its rows.
TEST(Foods, PlantsOfTheUsda) {
  struct Row {
    const char* id;
    double water_pct, kcal, calcium, phosphorus, carotenoid;
  };
  constexpr Row kRows[] = {{"collards", 89.62, 32, 2320, 250, 50190},
                           {"dandelion", 85.6, 45, 1870, 660, 101610},
                           {"spinach", 91.4, 23, 990, 490, 93770},
                           {"carrot", 88.29, 41, 330, 350, 167060},
                           {"banana", 74.91, 89, 50, 220, 640}};
  for (const Row& row : kRows) {
    const Food& plant = food(row.id);
    EXPECT_EQ(plant.water_pct, Interval::exactly(row.water_pct)) << row.id;
    EXPECT_EQ(plant.energy_kcal_per_100g, Interval::exactly(row.kcal)) << row.id;
    EXPECT_EQ(plant.calcium_mg_per_kg, Interval::exactly(row.calcium)) << row.id;
    EXPECT_EQ(plant.phosphorus_mg_per_kg, Interval::exactly(row.phosphorus)) << row.id;
    EXPECT_EQ(plant.carotenoid_iu_per_kg, Interval::exactly(row.carotenoid)) << row.id;
    EXPECT_EQ(plant.retinol_iu_per_kg, Interval::exactly(0)) << row.id;
    EXPECT_EQ(plant.minerals->trust, Trust::verified) << row.id;
  }
}

// Oxalic acid, g/100 g (USDA Agriculture Handbook 8-11, seen in public pages).
TEST(Foods, OxalicAcidOfTheHandbook) {
  constexpr std::pair<const char*, double> kRows[] = {{"parsley", 1.70},  {"purslane", 1.31},
                                                      {"amaranth", 1.09}, {"spinach", 0.97},
                                                      {"carrot", 0.50},   {"chicory_greens", 0.21}};
  for (const auto& [id, grams] : kRows) {
    EXPECT_EQ(food(id).oxalic_acid_g_per_100g, Interval::exactly(grams)) << id;
    EXPECT_EQ(food(id).oxalate->trust, Trust::verified_secondary) << id;
  }
}

// Donoghue 1998, as quoted (verified): rodents hold 6 to 7.5 kJ/g wet and 19 to 21 kJ/g dry,
// lettuce 0.75 kJ/g wet. Pinkies are wetter than these.
TEST(Foods, EnergyDensityOfDonoghue) {
  for (const char* id : {"mouse_adult", "rat_adult", "mouse_fuzzy"}) {
    const double kj_per_g = food(id).energy_kcal_per_100g.low * 4.184 / 100;
    EXPECT_GT(kj_per_g, 6) << id;
    EXPECT_LT(kj_per_g, 7.5) << id;
  }
  const Food& romaine = food("lettuce_romaine");
  EXPECT_NEAR(romaine.energy_kcal_per_100g.low * 4.184 / 100, 0.75, 0.05);
}

// Metabolisable energy of prey from protein 3.5 and fat 8.5 kcal/g (Small Animal Clinical Nutrition
// 5th ed. p. 1241, verified) against table 71-5 of the same book: what is left is carbohydrate,
// under 10 % of a carnivore's energy (table 71-1); 1 % for rounding.
TEST(Foods, EnergyFitsProteinAndFat) {
  int checked = 0;
  for (const Food& f : foods()) {
    if (f.kind != FoodKind::vertebrate || f.composition->source != "sacn5") continue;
    ++checked;
    const double kcal = f.protein_pct.low * 3.5 + f.fat_pct.low * 8.5;
    EXPECT_GT(kcal / f.energy_kcal_per_100g.low, 0.90) << f.id;
    EXPECT_LT(kcal / f.energy_kcal_per_100g.low, 1.01) << f.id;
  }
  EXPECT_EQ(checked, 6);
}

// "Every common insect except soldier fly larva and woodlouse" has a Ca:P of 0.05 to 0.25 (Bernard
// & Allen and Finke, as in the table's sources). The hornworm's trade figures, the earthworm's soil
// and the upper ends of superworm and mealworm stand outside.
TEST(Foods, InsectsHoldTooLittleCalcium) {
  for (const Food& f : foods()) {
    if (f.kind != FoodKind::invertebrate || !f.minerals) continue;
    const double low = f.calcium_mg_per_kg.low / f.phosphorus_mg_per_kg.low;
    if (f.id == "bsfl" || f.id == "isopod_porcellio") {
      EXPECT_GT(low, 2) << f.id;
    } else if (f.id != "hornworm" && f.id != "earthworm") {
      EXPECT_GE(low, 0.045) << f.id;
      EXPECT_LE(low, 0.25) << f.id;
    }
  }
}

TEST(Foods, UnknownIsNotZero) {
  EXPECT_FALSE(food("springtail").calcium_mg_per_kg.known());
  EXPECT_FALSE(food("springtail").minerals);
  EXPECT_FALSE(food("cricket_banded").phosphorus_mg_per_kg.known());
  EXPECT_FALSE(food("mouse_adult").vitamin_d3_iu_per_kg.known());
  EXPECT_EQ(food("mushroom_uv").vitamin_d3_iu_per_kg, Interval::exactly(0));  // it is D2
  EXPECT_FALSE(food("kale").piece_mass);
  EXPECT_EQ(food("mouse_adult").piece_mass, (Range<Mass>{Mass::grams(18), Mass::grams(35)}));
}

/// The built-in table with the first `from` in the row of `id` put as `to`; its problems.
Problems problems_with(const std::string& id, const std::string& from, const std::string& to) {
  std::string csv(data::foods_csv());
  const auto row = csv.find("\n" + id + ",");
  const auto at = csv.find(from, row);
  EXPECT_NE(at, std::string::npos);
  csv.replace(at, from.size(), to);
  const auto read = read_foods(csv);
  return read ? Problems{} : read.problem();
}

TEST(Foods, BadRowsAreRefusedWithTheirLine) {
  struct Case {
    const char *from, *to, *field;
  };
  constexpr Case kCases[] = {
      {"69.2", "wet", "water_pct"},
      {"69.2", "101", "water_pct"},
      {"69.2", "-1", "water_pct"},
      {"69.2", "nan", "water_pct"},
      {"69.2", "1e1000", "water_pct"},
      {"69.2", "90", "water_pct"},
      {"407..434", "434..407", "calcium_mg_per_kg"},
      {"407..434", "407..", "calcium_mg_per_kg"},
      {"407..434", "500000", "calcium_mg_per_kg"},
      {"<256", "<", "vitamin_d3_iu_per_kg"},
      {"invertebrate", "insect", "kind"},
      {"published", "guess", "energy_basis"},
      {"published", "", "energy_basis"},
      {"verified secondary", "sure", "composition_status"},
      {"verified secondary", "", "composition_status"},
      {"finke2002; bernard_allen", "", "minerals_status"},
      {",no,", ",perhaps,", "goitrogenic"},
      {"0.4..0.6", "0..0.6", "piece_mass_g"},
      {"house cricket", "", "id"},
      {"cricket_house_adult", "mealworm", "id"},
  };
  EXPECT_TRUE(problems_with("cricket_house_adult", "69.2", "69.2").empty());
  for (const Case& c : kCases) {
    const Problems problems = problems_with("cricket_house_adult", c.from, c.to);
    ASSERT_FALSE(problems.empty()) << c.from << " as " << c.to;
    const bool named = std::any_of(problems.begin(), problems.end(), [&](const Problem& p) {
      return p.where.file == "foods.csv" && p.where.line > 6 && p.where.field == c.field;
    });
    EXPECT_TRUE(named) << c.from << " as " << c.to << ": " << problems.front().where.field;
  }
}

TEST(Foods, ProvenanceWithoutAValueIsRefused) {
  EXPECT_FALSE(problems_with("cricket_house_adult", "0.4..0.6", "").empty());
}

TEST(Foods, EmptyAndWrongTablesAreRefused) {
  EXPECT_FALSE(read_foods("").ok());
  EXPECT_FALSE(read_foods("id,name\n").ok());
}

}  // namespace
}  // namespace warmside::diet
