// The rota against GLPK, which runs as a process on the whole undivided programme, and against
// plain sums.

#include <gtest/gtest.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>

#include "diet/rota_file.h"
#include "diet/rota_model.h"
#include "support/rota_rooms.h"
#include "support/rota_sums.h"

namespace warmside::diet {
namespace {

struct Glpk {
  bool proven = false, feasible = false;
  double cost = 0;
};

Glpk solve_by_glpk(const LinearProgram& program, int number) {
  const auto folder = std::filesystem::temp_directory_path() /
                      ("warmside_rota_" + std::to_string(::getpid()) + std::to_string(number));
  std::filesystem::create_directories(folder);
  const auto model = (folder / "rota.lp").string(), out = (folder / "rota.txt").string();
  std::ofstream(model) << as_lp_text(program);
  const std::string command =
      "glpsol --lp " + model + " --tmlim 60 -o " + out + " > " + out + ".log 2>&1";
  Glpk answer;
  if (std::system(command.c_str()) == 0) {
    std::stringstream log, text;
    log << std::ifstream(out + ".log").rdbuf();
    text << std::ifstream(out).rdbuf();
    answer.proven = log.str().find("TIME LIMIT") == std::string::npos;
    answer.feasible = text.str().find("INTEGER OPTIMAL") != std::string::npos;
    const auto at = text.str().find("cost = ");
    if (answer.feasible) answer.cost = std::stod(text.str().substr(at + 7));
  }
  std::filesystem::remove_all(folder);
  return answer;
}

TEST(Rota, costs_what_glpk_finds_cheapest_in_thirty_rooms) {
  int feasible = 0;
  for (int room = 0; room < 30; ++room) {
    SCOPED_TRACE(room);
    const RotaProblem problem = invented::Rooms(static_cast<unsigned>(100 + room)).small_room();
    const RotaAnswer answer = solve_rota(problem);
    const Glpk glpk = solve_by_glpk(whole_rota(problem), room);
    ASSERT_TRUE(glpk.proven);
    ASSERT_EQ(answer.plan.has_value(), glpk.feasible);
    if (!answer.plan) continue;
    ++feasible;
    // GLPK prints ten digits; both hold rows to a part in a million.
    EXPECT_NEAR(answer.plan->cost, glpk.cost, 1e-5);
    EXPECT_NEAR(answer.plan->bound, glpk.cost, 1e-5);
  }
  EXPECT_GE(feasible, 15);
}

TEST(Rota, plans_keep_what_they_promise_by_plain_sums) {
  for (unsigned seed = 0; seed < 12; ++seed) {
    SCOPED_TRACE(seed);
    invented::Rooms rooms(seed);
    RotaProblem problem = rooms.room(rooms.from(1, 9));
    if (seed % 3 == 0) problem.foods[0].stock = 2000;
    if (seed % 3 == 1) problem.foods[0].last_good_day = 20;
    const RotaAnswer answer = solve_rota(problem);
    ASSERT_TRUE(answer.plan);
    EXPECT_NEAR(sums::verified_cost(problem, answer), answer.plan->cost, 1e-6);
    EXPECT_LE(answer.plan->bound, answer.plan->cost);
  }
}

TEST(Rota, same_room_same_rota) {
  const RotaProblem problem = invented::Rooms(7).room(8);
  EXPECT_EQ(solve_rota(problem).plan->meals, solve_rota(problem).plan->meals);
}

TEST(Rota, smallest_change_makes_it_feasible) {
  int seen = 0;
  for (unsigned seed = 200; seed < 260; ++seed) {
    SCOPED_TRACE(seed);
    RotaProblem problem = invented::Rooms(seed).small_room();
    if (seed % 2 == 0) {
      for (RotaAnimal& animal : problem.animals) {
        animal.jars.clear();
        animal.usual_jars.clear();
      }
    }
    const RotaAnswer answer = solve_rota(problem);
    if (answer.plan) continue;
    ASSERT_FALSE(answer.shortages.empty());
    // Each shortage's change mends its animal; together they mend the room.
    for (const RotaShortage& shortage : answer.shortages) {
      EXPECT_FALSE(shortage.need.empty());
      EXPECT_FALSE(shortage.smallest_change.empty());
      if (!shortage.changed) continue;
      ++seen;
      EXPECT_GT(shortage.shortfall, 0);
      RotaProblem alone = *shortage.changed;
      if (shortage.animal) alone.animals = {alone.animals[*shortage.animal]};
      EXPECT_TRUE(solve_rota(alone).plan) << shortage.need << ": " << shortage.smallest_change;
    }
  }
  EXPECT_GE(seen, 10);
}

/// The first changes of the list, made here anew: jars of the room for the animal too, then one to
/// buy, as labels usually read.
std::vector<std::pair<std::string, RotaProblem>> jars_more(const RotaProblem& alone) {
  std::vector<std::pair<std::string, RotaProblem>> out;
  const auto& has = alone.animals.front().jars;
  for (std::size_t j = 0; j < alone.jars.size(); ++j) {
    if (std::count(has.begin(), has.end(), j) > 0) continue;
    out.emplace_back("the jar \"" + alone.jars[j].name + "\" for it too", alone);
    out.back().second.animals.front().jars.push_back(j);
  }
  for (const auto& [kind, words] :
       {std::pair{room::SupplementKind::calcium, "a jar of plain calcium"},
        std::pair{room::SupplementKind::calcium_d3, "a jar of calcium with D3"},
        std::pair{room::SupplementKind::multivitamin_retinol,
                  "a jar of multivitamin with retinol"}}) {
    out.emplace_back(words, alone);
    RotaProblem& changed = out.back().second;
    changed.animals.front().jars.push_back(changed.jars.size());
    changed.jars.push_back({words, usual_supplement(kind), alone.jars.front().dust_g_per_g, {}});
  }
  return out;
}

TEST(Rota, nothing_smaller_in_its_list_helps) {
  int refused = 0;
  for (unsigned seed = 200; seed < 260; ++seed) {
    SCOPED_TRACE(seed);
    RotaProblem problem = invented::Rooms(seed).small_room();
    if (seed % 2 == 0) {
      for (RotaAnimal& animal : problem.animals) {
        animal.jars.clear();
        animal.usual_jars.clear();
      }
    }
    for (const RotaShortage& shortage : solve_rota(problem).shortages) {
      if (!shortage.animal) continue;
      RotaProblem alone = problem;
      alone.animals = {problem.animals[*shortage.animal]};
      for (const auto& [words, changed] : jars_more(alone)) {
        if (shortage.smallest_change == words) break;
        // Only fresh food stands before these in the list.
        if (shortage.smallest_change.starts_with("fresh ")) break;
        if (shortage.smallest_change.starts_with("a fresh jar")) break;
        EXPECT_FALSE(solve_rota(changed).plan) << words << " would do";
        ++refused;
      }
    }
  }
  EXPECT_GE(refused, 10);
}

TEST(Rota, one_cricket_fewer_than_it_says_is_too_few) {
  RotaProblem problem = invented::Rooms(3).room(3, 7);
  for (RotaAnimal& animal : problem.animals) animal.offers.resize(1);
  problem.foods[0].stock = 20;
  const RotaAnswer answer = solve_rota(problem);
  ASSERT_FALSE(answer.plan);
  ASSERT_EQ(answer.shortages.size(), 1U);
  EXPECT_EQ(answer.shortages.front().need, "food house cricket");
  RotaProblem enough = *answer.shortages.front().changed;
  EXPECT_TRUE(solve_rota(enough).plan);
  --*enough.foods[0].stock;
  EXPECT_FALSE(solve_rota(enough).plan);
}

TEST(Rota, food_without_minerals_is_unknown_and_not_without_calcium) {
  RotaProblem problem = invented::Rooms(1).room(1, 7);
  problem.foods[0].per_piece.calcium_mg = Interval::unknown();
  problem.foods[0].per_piece.phosphorus_mg = Interval::unknown();
  const RotaAnswer answer = solve_rota(problem);
  ASSERT_TRUE(answer.plan);
  const auto named = [&](Nutrient nutrient, bool limit) {
    return std::count(answer.unknown.begin(), answer.unknown.end(),
                      RotaUnknown{0, nutrient, limit, "food house cricket"});
  };
  EXPECT_EQ(named(Nutrient::calcium_to_phosphorus, false), 1);
  EXPECT_EQ(named(Nutrient::calcium, true), 1);
  // Of calcium the powder alone is known to be enough, so the need is kept, not called unknown.
  EXPECT_EQ(named(Nutrient::calcium, false), 0);
  sums::verified_cost(problem, answer);

  problem.animals[0].jars.clear();
  const RotaAnswer without = solve_rota(problem);
  ASSERT_TRUE(without.plan || !without.shortages.empty());
  EXPECT_EQ(std::count(without.unknown.begin(), without.unknown.end(),
                       RotaUnknown{0, Nutrient::calcium, false, "food house cricket"}),
            1);
}

TEST(Rota, jar_without_label_is_left_out_and_named) {
  RotaProblem problem = invented::Rooms(1).room(1, 7);
  problem.jars[1].supplement = usual_supplement(room::SupplementKind::other);
  const RotaAnswer answer = solve_rota(problem);
  EXPECT_EQ(answer.set_aside, std::vector<std::size_t>{1});
  EXPECT_EQ(std::count(answer.unknown.begin(), answer.unknown.end(),
                       RotaUnknown{0, Nutrient::vitamin_d3, true, "jar calcium with D3"}),
            1);
  ASSERT_TRUE(answer.plan);
  for (const RotaMeal& meal : answer.plan->meals)
    EXPECT_NE(meal.jar, std::optional<std::size_t>(1));
}

TEST(Rota, whole_prey_gets_no_jar_and_no_limits_of_insect_eaters) {
  RotaProblem problem = invented::Rooms(1).room(5);
  problem.animals = {problem.animals[4]};
  const RotaAnswer answer = solve_rota(problem);
  ASSERT_TRUE(answer.plan);
  for (const RotaMeal& meal : answer.plan->meals) EXPECT_FALSE(meal.jar);
  EXPECT_TRUE(answer.unknown.empty());
}

// --- the file ---

constexpr const char* kGood = R"([rota]
first_day = 2026-11-30
days = 7
[[food]]
name = "crickets"
id = "cricket_house_adult"
[[jar]]
name = "calcium"
contents = "calcium"
[[animal]]
name = "Fig"
diet = "carnivore"
uvb = true
feed = "Mon, Thu"
[[animal.offer]]
food = "crickets"
pieces = "4..8"
)";

TEST(RotaFile, reads_what_it_says) {
  const auto problem = read_rota_file(kGood, "rota.toml");
  ASSERT_TRUE(problem);
  EXPECT_EQ(problem->animals[0].feeding_days, (std::vector<int>{0, 3}));  // a Monday
  EXPECT_EQ(problem->animals[0].offers[0].usual, 6);
  EXPECT_EQ(problem->animals[0].jars, std::vector<std::size_t>{0});
  EXPECT_TRUE(problem->animals[0].circumstances.uvb_in_zone);
}

TEST(RotaFile, every_mistake_is_named_with_its_line) {
  struct Case {
    const char *from, *to, *field;
    int line;
  };
  for (const Case& c :
       {Case{"4..8", "-4", "animal Fig.offer.pieces", 17},
        Case{"4..8", "8..4", "animal Fig.offer.pieces", 17},
        Case{"\"crickets\"\npieces", "\"flies\"\npieces", "animal Fig.offer.food", 15},
        Case{"days = 7", "days = 8", "days", 3}, Case{"days = 7", "hours = 7", "rota.hours", 3},
        Case{"Mon, Thu", "Monday", "animal Fig.feed", 10},
        Case{"house_adult", "house", "food crickets.id", 4},
        Case{"\"calcium\"\n[[", "\"chalk\"\n[[", "jar calcium.contents", 9},
        Case{"uvb = true", "uvb = 1", "animal Fig.uvb", 13},
        Case{"uvb = true", "energy_kj_per_day = \"-1..2\"", "animal Fig.energy_kj_per_day", 13},
        Case{"diet = \"carnivore\"", "", "animal Fig.diet", 10}}) {
    std::string text = kGood;
    ASSERT_NE(text.find(c.from), std::string::npos) << c.from;
    text.replace(text.find(c.from), std::string(c.from).size(), c.to);
    const auto problem = read_rota_file(text, "rota.toml");
    ASSERT_FALSE(problem) << c.to;
    const auto& where = problem.problem().front().where;
    EXPECT_EQ(where.field, c.field) << c.to;
    EXPECT_EQ(where.line, c.line) << c.to;
    EXPECT_FALSE(problem.problem().front().expected.empty()) << c.to;
  }
}

}  // namespace
}  // namespace warmside::diet
