// The signs of an animal joined to one finding.

#include "health/signs.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "support/room_builder.h"

namespace warmside::health {
namespace {

using test::date;
using test::RoomBuilder;
using testing::HasSubstr;
using testing::IsEmpty;

constexpr const char* kToday = "2026-11-25";

RoomBuilder gecko(std::initializer_list<const char*> masses, int every_days = 14) {
  RoomBuilder b = RoomBuilder().enclosure("tub").animal("a", "crested_gecko", {});
  int ago = every_days * static_cast<int>(masses.size() - 1);
  for (const char* mass : masses) {
    b.weighed(to_text(date(kToday) - ago), "a", mass);
    ago -= every_days;
  }
  return b;
}

TEST(Signs, ASteadyAnimalIsNoFinding) {
  const auto day = gecko({"45g", "45.3g", "44.8g", "45.1g", "45g", "45.2g", "44.9g"}).day(kToday);
  EXPECT_THAT(findings(day.day), IsEmpty());
  const auto signs = HealthOfDay(day.day).of(day.day.animals.front()).signs;
  ASSERT_FALSE(signs.empty());
  EXPECT_EQ(signs.front().response, Response::change_nothing);
  EXPECT_EQ(signs.front().says, "is steady");
}

// 8 % in eight weeks: below the rule's ten per cent, above the model's five.
TEST(Signs, ASlowSlipIsNoticedBeforeTheRule) {
  const auto day =
      gecko({"45g", "45.2g", "44.9g", "45g", "45.1g", "44.2g", "43.2g", "42.3g", "41.4g"})
          .day(kToday);
  const auto found = findings(day.day);
  ASSERT_EQ(found.size(), 1u);
  EXPECT_EQ(found[0].when, When::this_week);
  EXPECT_THAT(found[0].headline, HasSubstr("a is slipping"));
  EXPECT_THAT(found[0].evidence, HasSubstr("the chance that more than 5 % is lost"));
  EXPECT_EQ(found[0].module, "health");
}

// By rule and model at once it is one finding, with both in its evidence.
TEST(Signs, ALossIsOneFinding) {
  const auto day =
      gecko({"45g", "45.2g", "44.9g", "45g", "45.1g", "43g", "41g", "39g", "37g"}).day(kToday);
  const auto found = findings(day.day);
  ASSERT_EQ(found.size(), 1u);
  EXPECT_THAT(found[0].headline, HasSubstr("a has lost 18.0 % of its mass"));
  EXPECT_THAT(found[0].evidence, HasSubstr("It has lost 1"));
  EXPECT_THAT(found[0].advice, HasSubstr("Tell them: "));
}

/// A python that refuses since 15 weeks and was weighed every two weeks until some days ago.
Response of_fasting_python(int last_weighed_ago) {
  RoomBuilder b = RoomBuilder().enclosure("tub").animal("a", "royal_python");
  for (int ago = 245; ago >= 105; ago -= 14) {
    b.entry(to_text(date(kToday) - ago), room::EntryKind::fed, "a");
  }
  for (int ago = 84; ago >= 0; ago -= 21) {
    b.entry(to_text(date(kToday) - ago), room::EntryKind::refused, "a");
  }
  for (int ago = 238; ago >= last_weighed_ago; ago -= 14) {
    b.weighed(to_text(date(kToday) - ago), "a", "1650g");
  }
  const auto day = b.day(kToday);
  for (const Sign& sign : HealthOfDay(day.day).of(day.day.animals.front()).signs) {
    if (sign.says.starts_with("has eaten nothing for 105 days")) return sign.response;
  }
  ADD_FAILURE() << "no sign of the fast";
  return Response::call_vet;
}

// As the weight model sees it, not as a rate that is written into a test.
TEST(Signs, APythonThatFastsIsLeftAloneWhileItsMassIsKnown) {
  EXPECT_EQ(of_fasting_python(0), Response::change_nothing);
  EXPECT_EQ(of_fasting_python(21), Response::change_nothing);
  EXPECT_EQ(of_fasting_python(42), Response::weigh_again);
}

// The day ends where the next begins; what holds at its end is not of tomorrow.
TEST(Signs, NothingIsDatedTomorrow) {
  const auto day = gecko({"45g", "45g", "45g", "45.5g"}).day(kToday);
  const Sign sign = HealthOfDay(day.day).of(day.day.animals.front()).signs.front();
  EXPECT_EQ(sign.for_vet.find("2026-11-26"), std::string::npos) << sign.for_vet;
}

// Two slips with a true weighing between them do not confirm each other.
TEST(Signs, TwoMisplacedPointsAreNotBelieved) {
  const auto day = gecko({"46g", "45.5g", "45g", "4.5g", "44g", "4.4g", "42g", "41g"}).day(kToday);
  const auto weight = WeightsOfDay(day.day).of(day.day.animals.front());
  ASSERT_TRUE(weight);
  EXPECT_EQ(weight->left_out.size(), 2u);
  EXPECT_NEAR(weight->report.mass_g, 41, 2);
  // Two in a row do.
  const auto twice = gecko({"46g", "45.5g", "45g", "46g", "20g", "20.2g"}).day(kToday);
  const auto light = WeightsOfDay(twice.day).of(twice.day.animals.front());
  EXPECT_TRUE(light && light->left_out.empty());
}

TEST(Signs, AMisplacedPointIsNotBelieved) {
  const auto day = gecko({"45g", "45.2g", "44.9g", "4.5g", "45.1g", "45g"}).day(kToday);
  EXPECT_THAT(findings(day.day), IsEmpty());
  const auto weight = WeightsOfDay(day.day).of(day.day.animals.front());
  ASSERT_TRUE(weight);
  ASSERT_EQ(weight->left_out.size(), 1u);
  EXPECT_THAT(weight->left_out[0].why, HasSubstr("a tenth"));
  EXPECT_NEAR(weight->report.mass_g, 44, 2);
}

}  // namespace
}  // namespace warmside::health
