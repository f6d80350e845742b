// Whose tools are whose (docs/models/hygiene.md): shared by enclosures of one class of service with
// the same groups of animals, in quarantine of one arrival, never by the sick or those under
// observation; and no fewer sets than that.

#include "hygiene/tools.h"

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <functional>
#include <random>

#include "health/quarantine.h"
#include "support/room_builder.h"

namespace warmside::hygiene {
namespace {

using room::EntryKind;
using room::ToolKind;
using test::date;
using test::RoomBuilder;
using testing::ElementsAre;
using testing::IsEmpty;
using testing::SizeIs;

constexpr const char* kToday = "2026-11-25";

RoomBuilder& lives(RoomBuilder& b, const char* enclosure, const char* species,
                   const std::function<void(room::Animal&)>& change = {}) {
  return b.enclosure(enclosure).animal(fmt::format("a-{}", enclosure).c_str(), species, change);
}
RoomBuilder& tool(RoomBuilder& b, const char* id, ToolKind kind, const char* whose = "",
                  const char* mark = "") {
  return b.add<room::Tool>(id, [=](room::Tool& t) {
    t.kind = kind;
    t.enclosure = room::EnclosureId::trusted(whose);
    t.mark = mark;
  });
}

test::TestDay judged(const RoomBuilder& b) {
  test::TestDay test = b.day(kToday);
  health::presume_quarantines(test.day);
  return test;
}

std::vector<std::vector<std::string>> sets_of(const RoomBuilder& b,
                                              const std::set<room::AnimalId>& watched = {}) {
  const auto test = judged(b);
  std::vector<std::vector<std::string>> sets;
  for (const ToolSet& set : tool_plan(test.day, watched).sets) {
    auto& ids = sets.emplace_back();
    for (const auto& id : set.enclosures) ids.push_back(id.text());
  }
  return sets;
}

const ToolNeed& need(const ToolPlan& plan, ToolKind kind) {
  for (const ToolNeed& one : plan.kinds) {
    if (one.kind == kind) return one;
  }
  throw std::runtime_error("no such kind in the plan");
}

TEST(ToolSets, ByGroupAndClass) {
  RoomBuilder b;
  lives(b, "a", "corn_snake");
  lives(b, "b", "hermanns_tortoise");
  lives(b, "c", "royal_python");
  lives(b, "d", "corn_snake", [](auto& a) { a.breeding = true; });
  lives(b, "e", "dyeing_dart_frog");
  lives(b, "f", "axolotl");
  lives(b, "g", "whites_tree_frog");
  b.enclosure("empty");
  EXPECT_THAT(sets_of(b), ElementsAre(ElementsAre("e", "g"), ElementsAre("f"), ElementsAre("d"),
                                      ElementsAre("a", "c"), ElementsAre("b")));
}

TEST(ToolSets, MixedCompanyOnlyWithTheSameMixture) {
  RoomBuilder b;
  lives(b, "a", "leopard_gecko");
  lives(b, "b", "leopard_gecko").animal("tort-b", "hermanns_tortoise");
  lives(b, "c", "leopard_gecko").animal("tort-c", "hermanns_tortoise");
  lives(b, "d", "hermanns_tortoise");
  EXPECT_THAT(sets_of(b), ElementsAre(ElementsAre("a"), ElementsAre("b", "c"), ElementsAre("d")));
}

TEST(ToolSets, QuarantineByArrivalAndTheSickAndWatchedAlone) {
  RoomBuilder b;
  const auto arrived = [](const char* on) {
    return [on = date(on)](room::Animal& a) { a.arrived = on; };
  };
  lives(b, "a", "corn_snake", arrived("2026-11-20"));
  lives(b, "b", "corn_snake", arrived("2026-11-20"));
  lives(b, "c", "corn_snake", arrived("2026-11-10"));
  lives(b, "d", "leopard_gecko", arrived("2026-11-20"));
  for (const char* id : {"e", "f"}) {
    lives(b, id, "corn_snake").entry("2026-11-20", EntryKind::ill, fmt::format("a-{}", id));
  }
  lives(b, "g", "corn_snake");
  lives(b, "h", "corn_snake");
  EXPECT_THAT(sets_of(b, {room::AnimalId::trusted("a-g"), room::AnimalId::trusted("a-h")}),
              ElementsAre(ElementsAre("g"), ElementsAre("h"), ElementsAre("c"), ElementsAre("d"),
                          ElementsAre("a", "b"), ElementsAre("e"), ElementsAre("f")));
}

/// The rule of tools.h for two enclosures, from what was put into the room.
struct Made {
  std::string species;
  int state = 0;  // 0 resident, 1 breeder, 2 and 3 quarantine of two dates, 4 watched, 5 sick
  bool may_share(const Made& other) const {
    return state < 4 && state == other.state && species == other.species;
  }
};

/// The least number of groups in which all may share, by trying every way to part them.
std::size_t fewest_groups(const std::vector<Made>& made) {
  std::size_t fewest = made.size();
  std::vector<std::vector<std::size_t>> groups;
  const std::function<void(std::size_t)> place = [&](std::size_t next) {
    if (groups.size() > fewest) return;
    if (next == made.size()) {
      fewest = groups.size();
      return;
    }
    for (std::size_t g = 0; g < groups.size(); ++g) {
      if (!std::all_of(groups[g].begin(), groups[g].end(),
                       [&](std::size_t i) { return made[i].may_share(made[next]); })) {
        continue;
      }
      groups[g].push_back(next);
      place(next + 1);
      groups[g].pop_back();
    }
    groups.push_back({next});
    place(next + 1);
    groups.pop_back();
  };
  place(0);
  return fewest;
}

TEST(ToolSets, NoFewerWouldDo) {
  std::mt19937 random(5);
  for (int i = 0; i < 60; ++i) {
    RoomBuilder b;
    std::vector<Made> made;
    std::set<room::AnimalId> watched;
    for (int k = 0; k < 7; ++k) {
      // One species of each group, so that a group is told by it.
      static constexpr const char* kSpecies[] = {"corn_snake", "leopard_gecko"};
      const Made one{kSpecies[random() % 2], static_cast<int>(random() % 6)};
      const std::string id = fmt::format("e{}", k), animal = "a-" + id;
      lives(b, id.c_str(), one.species.c_str(),
            [&](room::Animal& a) { a.breeding = one.state == 1; });
      if (one.state == 2) b.entry("2026-11-20", EntryKind::quarantine_started, animal);
      if (one.state == 3) b.entry("2026-11-21", EntryKind::quarantine_started, animal);
      if (one.state == 4) watched.insert(room::AnimalId::trusted(animal));
      if (one.state == 5) b.entry("2026-11-20", EntryKind::ill, animal);
      made.push_back(one);
    }
    const auto sets = sets_of(b, watched);
    EXPECT_THAT(sets, SizeIs(fewest_groups(made))) << i;
    for (const auto& set : sets) {
      for (const std::string& a : set) {
        for (const std::string& b2 : set) {
          EXPECT_TRUE(a == b2 ||
                      made[std::stoul(a.substr(1))].may_share(made[std::stoul(b2.substr(1))]))
              << i;
        }
      }
    }
  }
}

TEST(ToolNeeds, WhatIsThereSharedAndMissing) {
  RoomBuilder b;
  lives(b, "a", "corn_snake");
  lives(b, "b", "corn_snake");
  lives(b, "c", "leopard_gecko");
  lives(b, "d", "hermanns_tortoise");
  b.enclosure("empty");
  tool(b, "t1", ToolKind::tongs, "a");
  tool(b, "t2", ToolKind::tongs, "b");
  tool(b, "t3", ToolKind::tongs);
  tool(b, "t4", ToolKind::scoop, "empty");
  tool(b, "t5", ToolKind::bowl, "a");
  const auto test = judged(b);
  const ToolPlan plan = tool_plan(test.day, {});
  ASSERT_THAT(plan.sets, SizeIs(3));  // lizard, snakes, tortoise
  const ToolNeed& tongs = need(plan, ToolKind::tongs);
  EXPECT_THAT(tongs.there, SizeIs(3));
  EXPECT_THAT(tongs.wanted_by, ElementsAre(0, 1, 2));
  EXPECT_THAT(tongs.without, ElementsAre(0, 2));
  EXPECT_EQ(tongs.shared, 1);
  EXPECT_EQ(tongs.missing(), 1);
  const ToolNeed& scoop = need(plan, ToolKind::scoop);
  EXPECT_EQ(scoop.shared, 1);  // its enclosure is empty
  EXPECT_EQ(scoop.missing(), 2);
  EXPECT_EQ(need(plan, ToolKind::bin).missing(), 3);
  EXPECT_THAT(plan.kinds, SizeIs(4));  // no hook and no spray bottle there; bowls are left out
}

TEST(ToolNeeds, HooksAreForSnakesAndSprayBottlesForWhatIsMisted) {
  RoomBuilder b;
  lives(b, "a", "corn_snake");
  lives(b, "b", "bearded_dragon");
  lives(b, "c", "dyeing_dart_frog");
  tool(b, "hook", ToolKind::hook);
  tool(b, "spray", ToolKind::spray_bottle);
  const auto test = judged(b);
  const ToolPlan plan = tool_plan(test.day, {});
  ASSERT_THAT(plan.sets, SizeIs(3));  // frog, dragon, snake
  EXPECT_THAT(need(plan, ToolKind::hook).wanted_by, ElementsAre(2));
  EXPECT_THAT(need(plan, ToolKind::spray_bottle).wanted_by, ElementsAre(0));
  EXPECT_EQ(need(plan, ToolKind::hook).missing(), 0);
}

TEST(ToolMarks, KeepsAMarkThatIsOneSetsAndProposesOthers) {
  RoomBuilder b;
  lives(b, "a", "corn_snake");
  lives(b, "b", "leopard_gecko");
  lives(b, "c", "hermanns_tortoise");
  tool(b, "t1", ToolKind::tongs, "a", "name on tape");
  tool(b, "t2", ToolKind::tongs, "b", "name on tape");
  tool(b, "t3", ToolKind::tub, "b", "blue lid");
  tool(b, "t4", ToolKind::tub, "", "white");
  const auto test = judged(b);
  const ToolPlan plan = tool_plan(test.day, {});
  EXPECT_EQ(plan.sets[0].mark, "blue lid");
  EXPECT_TRUE(plan.sets[0].marked);
  EXPECT_EQ(plan.sets[1].mark, "blue");  // white is another tool's
  EXPECT_EQ(plan.sets[2].mark, "green");
  EXPECT_FALSE(plan.sets[2].marked);
}

TEST(ToolMarks, AreNeverTheSameTwice) {
  RoomBuilder b;
  std::set<room::AnimalId> watched;
  for (int i = 0; i < 30; ++i) {
    lives(b, fmt::format("e{}", i).c_str(), "corn_snake");
    watched.insert(room::AnimalId::trusted(fmt::format("a-e{}", i)));
  }
  const auto test = judged(b);
  std::set<std::string> marks;
  for (const ToolSet& set : tool_plan(test.day, watched).sets) marks.insert(set.mark);
  EXPECT_THAT(marks, SizeIs(30));
}

/// As a notebook would say it.
std::string note(const Disinfection& with) {
  return with.heat ? fmt::format("{} {}C", with.ingredient, with.heat->celsius())
                   : fmt::format("{} {}%", with.ingredient, with.strength->percent());
}

TEST(Disinfections, ReachAllThatWasAskedForAndNoWeakerOneDoes) {
  for (const std::set<Group>& groups :
       {std::set{Group::snake}, std::set{Group::frog}, std::set{Group::salamander},
        std::set{Group::frog, Group::lizard}}) {
    const auto wanted = everyday_organisms(groups);
    const auto found = disinfections_against(wanted);
    EXPECT_FALSE(found.empty());
    for (const Disinfection& with : found) {
      if (with.ingredient == "moist heat") continue;  // named "hot water" in notebooks
      const Coverage coverage = coverage_of(note(with), with.minutes);
      for (const Organism organism : wanted) EXPECT_TRUE(coverage.over(organism)) << note(with);
      Disinfection weaker = with;
      weaker.strength = *with.strength * 0.99;
      const Coverage less = coverage_of(note(weaker), with.minutes);
      EXPECT_FALSE(std::all_of(wanted.begin(), wanted.end(), [&](Organism organism) {
        return less.over(organism);
      })) << note(weaker);
    }
  }
}

TEST(Disinfections, WhatTheTableSays) {
  const auto names = [](std::vector<Organism> organisms) {
    std::vector<std::string> found;
    for (const Disinfection& with : disinfections_against(organisms)) {
      found.push_back(fmt::format("{}, {} min", note(with), with.minutes));
    }
    return found;
  };
  EXPECT_THAT(
      names(everyday_organisms({Group::snake})),
      ElementsAre("sodium hypochlorite 0.1%, 1 min", "accelerated hydrogen peroxide 0.5%, 10 min"));
  EXPECT_THAT(names(everyday_organisms({Group::frog})),
              ElementsAre("sodium hypochlorite 0.16%, 1 min"));
  EXPECT_THAT(names(everyday_organisms({Group::salamander})),
              ElementsAre("sodium hypochlorite 4%, 2 min"));
  // Cryptosporidium and coccidia: no bleach, no alcohol.
  EXPECT_THAT(
      names({Organism::oocysts}),
      ElementsAre("hydrogen peroxide 3%, 20 min", "ammonia 5%, 1080 min", "moist heat 60C, 9 min"));
  EXPECT_THAT(names({Organism::oocysts, Organism::bacteria}), IsEmpty());
  EXPECT_THAT(names({}), IsEmpty());
}

}  // namespace
}  // namespace warmside::hygiene
