// What the notebook tells the weight model of an animal: meals, droppings, eggs, winters, the
// scale.

#include "health/animal_weight.h"

#include <gtest/gtest.h>

#include "support/room_builder.h"

namespace warmside::health {
namespace {

using room::EntryKind;
using test::date;
using test::q;
using test::RoomBuilder;

constexpr const char* kToday = "2026-11-25";

std::string days_ago(int days) {
  return to_text(date(kToday) - days);
}

/// Weighed every `every` days, the last time today at noon.
RoomBuilder weighed_as(const char* species, std::initializer_list<const char*> masses,
                       int every = 14, room::Sex sex = room::Sex::unknown) {
  RoomBuilder b;
  b.enclosure("tub").animal("a", species, [&](room::Animal& animal) {
    animal.born = date("2020-06-01");
    animal.sex = sex;
  });
  int ago = every * static_cast<int>(masses.size() - 1);
  for (const char* mass : masses) {
    b.weighed(days_ago(ago), "a", mass);
    ago -= every;
  }
  return b;
}

WeightReport report_on(const RoomBuilder& b) {
  const auto test = b.day(kToday);
  return WeightsOfDay(test.day).of(test.animal("a")).value().report;
}

/// A snake of 800 g that is weighed today with a mouse of 80 g inside.
RoomBuilder fed_snake() {
  RoomBuilder b = weighed_as("corn_snake", {"800g", "802g", "799g", "801g", "880g"});
  return b.entry(days_ago(0) + " 08:00", EntryKind::fed, "a",
                 [](room::Entry& e) { e.mass = q<Mass>("80g"); });
}

TEST(AnimalWeight, AMealInTheGutIsNotTakenForBody) {
  const RoomBuilder unfed = weighed_as("corn_snake", {"800g", "802g", "799g", "801g", "880g"});
  EXPECT_NEAR(report_on(fed_snake()).mass_g, 800, 8);
  EXPECT_GT(report_on(unfed).mass_g, report_on(fed_snake()).mass_g + 10);
}

TEST(AnimalWeight, DroppingsEmptyTheGut) {
  RoomBuilder b = weighed_as("corn_snake", {"800g", "802g", "799g", "801g", "800g"});
  b.entry(days_ago(3), EntryKind::fed, "a", [](room::Entry& e) { e.mass = q<Mass>("80g"); });
  const double full = report_on(b).mass_g;  // of the 800 g some are mouse
  b.entry(days_ago(1), EntryKind::droppings, "a");
  EXPECT_LT(full, 799);
  EXPECT_GT(report_on(b).mass_g, full + 2);
}

TEST(AnimalWeight, WhatWasLeftLyingIsNotInTheGut) {
  RoomBuilder b = fed_snake();
  const double eaten = report_on(b).mass_g;
  b.entry(days_ago(0) + " 11:00", EntryKind::leftovers, "a",
          [](room::Entry& e) { e.mass = q<Mass>("80g"); });
  EXPECT_GT(report_on(b).mass_g, eaten + 10);
}

// 12 % gone between two weighings: with eggs in between no loss, without them one.
TEST(AnimalWeight, EggsAreAKnownStep) {
  RoomBuilder b = weighed_as("corn_snake", {"600g", "603g", "601g", "602g", "530g", "531g", "529g"},
                             14, room::Sex::female);
  EXPECT_GT(report_on(b).p_loss_over_5, 0.9);
  b.entry(days_ago(35), EntryKind::laid_eggs, "a");
  EXPECT_LT(report_on(b).p_loss_over_5, 0.5);
  EXPECT_EQ(report_on(b).trend, Trend::steady);
}

// A tortoise may lose 1 % a month in brumation (rule brumation_loss_tortoise_month): after 90 days
// asleep 3 % less than in autumn, of 1200 g 36 g, is no loss.
TEST(AnimalWeight, AWinterThatIsOverIsAKnownStep) {
  RoomBuilder b = weighed_as("hermanns_tortoise",
                             {"1200g", "1202g", "1199g", "1201g", "1165g", "1164g", "1166g"}, 30);
  const WeightReport lost = report_on(b);
  b.entry(days_ago(88), EntryKind::brumation_started, "a");
  b.entry(days_ago(61), EntryKind::brumation_ended, "a");
  const WeightReport slept = report_on(b);
  // 27 days asleep: 0.9 %, 10.8 g.
  EXPECT_NEAR(lost.reference_g - slept.reference_g, 10.8, 5);
  EXPECT_LT(slept.p_loss_over_5, lost.p_loss_over_5);
}

TEST(AnimalWeight, AGrownFemalesRateIsLessSure) {
  const auto width = [](room::Sex sex) {
    const WeightReport r =
        report_on(weighed_as("leopard_gecko", {"70g", "70.2g", "69.9g", "70.1g", "70g"}, 14, sex));
    return r.rate_high - r.rate_low;
  };
  EXPECT_GT(width(room::Sex::female), width(room::Sex::male));
}

// A frog of 3 g on a scale of whole grams is known to 10 %, on one of 0.01 g better.
TEST(AnimalWeight, TheScalesStepWidensTheInterval) {
  const auto width = [](const char* resolution) {
    RoomBuilder b = weighed_as("dyeing_dart_frog", {"3g", "3g", "3g", "3g"});
    b.add<room::Instrument>("scale", [&](room::Instrument& scale) {
      scale.kind = room::InstrumentKind::scale;
      scale.resolution = q<Mass>(resolution);
    });
    const WeightReport report = report_on(b);
    return report.high_g / report.low_g;
  };
  EXPECT_GT(width("1g"), width("0.01g") * 1.02);
}

TEST(StepOf, TheCoarsestScaleThatShowsTheMass) {
  const std::vector<double> scales{1, 0.01};
  EXPECT_EQ(step_of(812, scales), 1);
  EXPECT_EQ(step_of(4.35, scales), 0.01);
  EXPECT_EQ(step_of(4.354, scales), 0.01);  // of neither
  EXPECT_EQ(step_of(4.3, {}), 0.1);
  EXPECT_EQ(step_of(430, {}), 1);
}

}  // namespace
}  // namespace warmside::health
