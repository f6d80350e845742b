// Which row of the intervals holds, and the readers of the two tables. The precedence is that of
// the header of data/care_intervals.csv: a named situation goes before any, then a named group
// before any; of several situations that hold, the shortest interval.

#include "species/care_rules.h"

#include <fmt/format.h>
#include <gtest/gtest.h>

#include <string>
#include <vector>

namespace warmside::species {
namespace {

constexpr const char* kIntervalHeader = "task,group,situation,interval,status,source,note\n";
constexpr const char* kRuleHeader = "rule,value,status,source,note\n";

CareRules table(const std::string& rows) {
  auto read = CareRules::read(kIntervalHeader + rows, kRuleHeader);
  EXPECT_TRUE(read.ok());
  return std::move(read).value();
}

double days(const CareRules& rules, const char* task, Group group,
            const std::vector<Situation>& holding) {
  const CareInterval* row = rules.interval(task, group, holding);
  return row == nullptr ? 0 : row->every.days();
}

/// One row for each of the four ways a row can fit, all of different lengths, in two orders.
TEST(CareIntervals, ASituationGoesBeforeAnyAndAGroupBeforeAny) {
  const std::string rows[] = {
      "t,any,any,1d,common practice,c,\n", "t,snake,any,2d,common practice,c,\n",
      "t,any,quarantine,30d,common practice,c,\n", "t,snake,quarantine,40d,common practice,c,\n"};
  for (const bool reversed : {false, true}) {
    std::string text;
    for (const auto& row : rows) text = reversed ? row + text : text + row;
    const CareRules rules = table(text);
    EXPECT_EQ(days(rules, "t", Group::lizard, {}), 1);
    EXPECT_EQ(days(rules, "t", Group::snake, {}), 2);
    EXPECT_EQ(days(rules, "t", Group::lizard, {Situation::quarantine}), 30);
    EXPECT_EQ(days(rules, "t", Group::snake, {Situation::quarantine}), 40);
  }
}

TEST(CareIntervals, ASituationForAllGoesBeforeTheGroupsGeneralRow) {
  const CareRules rules = table(
      "t,snake,any,2d,common practice,c,\n"
      "t,any,quarantine,30d,common practice,c,\n");
  EXPECT_EQ(days(rules, "t", Group::snake, {Situation::quarantine}), 30);
}

TEST(CareIntervals, TheShortestOfSeveralSituationsHolds) {
  const CareRules rules = table(
      "t,any,any,1d,common practice,c,\n"
      "t,any,quarantine,30d,common practice,c,\n"
      "t,any,juvenile,14d,common practice,c,\n"
      "t,snake,brumation,60d,common practice,c,\n");
  using S = Situation;
  EXPECT_EQ(days(rules, "t", Group::snake, {S::quarantine, S::juvenile}), 14);
  EXPECT_EQ(days(rules, "t", Group::snake, {S::juvenile, S::quarantine}), 14);
  EXPECT_EQ(days(rules, "t", Group::snake, {S::brumation, S::quarantine}), 30);
  EXPECT_EQ(days(rules, "t", Group::snake, {S::brumation}), 60);
  // One that has no row for this group, and one that has none at all, change nothing.
  EXPECT_EQ(days(rules, "t", Group::frog, {S::brumation}), 1);
  EXPECT_EQ(days(rules, "t", Group::frog, {S::brumation, S::humid, S::juvenile}), 14);
}

TEST(CareIntervals, NoRowNoTask) {
  const CareRules rules = table(
      "t,any,humid,1d,common practice,c,\n"
      "u,snake,any,30d,common practice,c,\n");
  EXPECT_EQ(rules.interval("t", Group::snake, {}), nullptr);
  EXPECT_EQ(rules.interval("u", Group::frog, {}), nullptr);
  EXPECT_EQ(rules.interval("v", Group::snake, {}), nullptr);
  EXPECT_EQ(rules.interval("", Group::snake, {}), nullptr);
}

// Rows of data/care_intervals.csv as they stand there.
TEST(CareIntervals, BuiltInRows) {
  using S = Situation;
  const struct {
    const char* task;
    Group group;
    std::vector<Situation> holding;
    double days;
  } kRows[] = {
      {"water", Group::other, {}, 1},
      {"spot_clean", Group::lizard, {}, 1},
      {"spot_clean", Group::snake, {}, 3},
      {"spot_clean", Group::snake, {S::quarantine}, 1},
      {"full_clean", Group::snake, {}, 30},
      {"full_clean", Group::frog, {}, 90},
      {"full_clean", Group::salamander, {S::quarantine}, 7},
      {"full_clean", Group::other, {}, 0},  // no row
      {"misting", Group::lizard, {}, 0},
      {"misting", Group::lizard, {S::humid}, 1},
      {"weighing", Group::snake, {}, 30},
      {"weighing", Group::snake, {S::juvenile}, 14},
      {"weighing", Group::snake, {S::juvenile, S::observation}, 7},
      {"weighing", Group::snake, {S::brumation}, 30},
      {"weighing", Group::chelonian, {S::brumation}, 7},
      {"shed_check", Group::snake, {}, 0},
      {"shed_check", Group::snake, {S::in_shed}, 1},
      {"uv_reading", Group::other, {}, 30},
      {"jar_age", Group::other, {}, 180},
      {"quarantine_mite_check", Group::lizard, {S::quarantine}, 14},
      {"quarantine_faecal_test", Group::frog, {S::quarantine}, 21},
      {"thermostat_test", Group::other, {}, 30},
      {"smoke_alarm_test", Group::other, {}, 30},
  };
  for (const auto& row : kRows) {
    EXPECT_EQ(days(care_rules(), row.task, row.group, row.holding), row.days)
        << row.task << " " << word(row.group);
  }
}

// Rules of data/care_rules.csv as they stand there.
TEST(CareRules, BuiltInRules) {
  const CareRules& rules = care_rules();
  EXPECT_EQ(rules.value<Percentage>("fast_loss_limit"), Percentage::percent(10));
  EXPECT_EQ(rules.value<Percentage>("fast_loss_limit_small"), Percentage::percent(5));
  EXPECT_EQ(rules.value<Duration>("mass_loss_window"), Duration::days(90));
  EXPECT_EQ(rules.value<Mass>("small_frog_mass"), Mass::grams(10));
  EXPECT_EQ(rules.rule("quarantine_faecal_negatives").value, "3");
  EXPECT_EQ(rules.rule("fast_loss_limit").trust, Trust::verified_secondary);
  EXPECT_EQ(rules.rule("fast_loss_limit").source, "public_vet_summary");
  EXPECT_EQ(rules.rule("in_shed_believed").source, "common practice, no source");
}

TEST(CareRulesDeathTest, AskingForARuleThatIsNotThereIsOurMistake) {
  EXPECT_DEATH(care_rules().rule("no_such_rule"), "WS_CHECK|at->name");
}

TEST(CareRules, EachBadRowIsAProblemWithItsLine) {
  const struct {
    const char* row;
    const char* field;
    ProblemCode code;
  } kBad[] = {
      {"t,bird,any,1d,common practice,c,", "group", ProblemCode::bad_value},
      {"t,any,asleep,1d,common practice,c,", "situation", ProblemCode::bad_value},
      {"t,any,any,1,common practice,c,", "interval", ProblemCode::bad_value},
      {"t,any,any,1kg,common practice,c,", "interval", ProblemCode::bad_value},
      {"t,any,any,1d,rumour,c,", "status", ProblemCode::bad_value},
      {"t,any,any,1d,common practice,c", "", ProblemCode::bad_syntax},
  };
  for (const auto& bad : kBad) {
    const auto read = CareRules::read(
        std::string(kIntervalHeader) + "t,any,any,1d,common practice,c,\n" + bad.row + "\n",
        kRuleHeader);
    ASSERT_FALSE(read.ok()) << bad.row;
    ASSERT_EQ(read.problem().size(), 1u) << bad.row;
    EXPECT_EQ(read.problem()[0].code, bad.code) << bad.row;
    EXPECT_EQ(read.problem()[0].where, (Where{"care_intervals.csv", 3, bad.field})) << bad.row;
  }
  const auto rules =
      CareRules::read(kIntervalHeader, std::string(kRuleHeader) + "a,1,rumour,c,\nb,2\n");
  ASSERT_FALSE(rules.ok());
  ASSERT_EQ(rules.problem().size(), 2u);
  EXPECT_EQ(rules.problem()[0].where, (Where{"care_rules.csv", 2, "status"}));
  EXPECT_EQ(rules.problem()[1].where, (Where{"care_rules.csv", 3, ""}));
}

TEST(CareRules, WrongOrNoHeaderIsAProblem) {
  const auto wrong = CareRules::read("task,group\n", kRuleHeader);
  ASSERT_FALSE(wrong.ok());
  EXPECT_EQ(wrong.problem()[0].code, ProblemCode::bad_syntax);
  const auto none = CareRules::read(kIntervalHeader, "");
  ASSERT_FALSE(none.ok());
  EXPECT_EQ(none.problem()[0].code, ProblemCode::missing);
  EXPECT_EQ(none.problem()[0].where.file, "care_rules.csv");
}

}  // namespace
}  // namespace warmside::species
