// The chart of an animal's weights: what stands where in it, what is refused, what an SVG says.

#include "report/weight_picture.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <functional>
#include <limits>

#include "support/pictures.h"

namespace warmside::report {
namespace {

using test::hostile_names;
using test::is_well_formed;
using test::Pixels;
using testing::HasSubstr;
using testing::Not;
using testing::StartsWith;

constexpr double kNone = std::numeric_limits<double>::quiet_NaN();
constexpr Colour kReference{0.60, 0.11, 0.16};

/// A year of one animal: 500 g each month, with a course, no reference and no lanes.
WeightPicture steady() {
  WeightPicture picture;
  picture.title = "Moss, crested gecko";
  picture.subtitle = "It is steady: change nothing.";
  picture.first = parse_date("2025-11-26").value();
  picture.days = 365;
  for (int day = 5; day < 365; day += 30) {
    picture.weighings.push_back({day + 0.5, Mass::grams(500)});
    picture.course.push_back({day + 0.5, Mass::grams(495), Mass::grams(480), Mass::grams(510)});
  }
  return picture;
}

WeightPicture::Lane meals() {
  return {"meals", WeightPicture::Shape::tick, {3, 60, 200}, {}, 0};
}

/// All that a chart can hold.
WeightPicture full() {
  using enum WeightPicture::Shape;
  WeightPicture picture = steady();
  picture.weighings.push_back({100, Mass::grams(50), false});
  picture.weighings.push_back({200, Mass::grams(5000), false});
  picture.weighings.push_back({300, Mass::grams(470), false});
  picture.reference = Mass::grams(520);
  picture.reference_words = "520 g, had nothing been lost since 2026-01-01";
  for (const auto shape : {tick, dot, ring, triangle, diamond, egg, arrow})
    picture.lanes.push_back({"events", shape, {0, 100, 365}, {}, 0});
  picture.lanes.push_back({"ill", tick, {}, {{0, 20}, {364.9, 365}}, 60});
  return picture;
}

// ---- Pictures -----------------------------------------------------------------------------------

TEST(WeightPng, GrowsWithItsWidth) {
  const WeightPicture picture = full();
  const Pixels one(picture), two(picture, 2160), small(picture, 200);
  EXPECT_EQ(one.width(), 1080);
  EXPECT_EQ(two.width(), 2160);
  EXPECT_EQ(two.height(), 2 * one.height());
  EXPECT_NEAR(small.height(), one.height() / 5.4, 1);
}

TEST(WeightPng, HasALaneForEachThatIsGiven) {
  WeightPicture picture = steady();
  picture.lanes = {meals()};
  const int one = Pixels(picture).height();
  picture.lanes.push_back(meals());
  const int two = Pixels(picture).height();
  picture.lanes.push_back(meals());
  EXPECT_GT(two, one + 26);  // room for a name of 26 px
  EXPECT_EQ(Pixels(picture).height() - two, two - one);
}

TEST(WeightPng, PutsEventsWhereTheirDaysAre) {
  // Without masses and with a name that is short, the lane runs over the same columns as its
  // lowest line. A dot in the middle of the days stands in the middle of that line.
  WeightPicture picture;
  picture.first = parse_date("2026-01-01").value();
  picture.days = 100;
  picture.lanes = {{"x", WeightPicture::Shape::dot, {50}, {}, 0}};
  const Pixels pixels(picture);
  int left = 0, right = 0;  // the axis: the longest dark run
  for (int y = 0; y < pixels.height(); ++y) {
    int from = 0;
    for (int x = 0; x < pixels.width(); ++x) {
      if (!pixels.is_dark(x, y)) from = x + 1;
      if (x - from > right - left) left = from, right = x;
    }
  }
  ASSERT_GT(right - left, 700);
  // The dot is the only thing dark above the axis and right of the name.
  int first = pixels.width(), last = 0;
  for (int y = 0; y < pixels.height(); ++y) {
    if (pixels.is_dark(left + 100, y)) break;  // the axis
    for (int x = left + 20; x < right; ++x) {
      if (!pixels.is_dark(x, y)) continue;
      first = std::min(first, x);
      last = std::max(last, x);
    }
  }
  EXPECT_NEAR((first + last) / 2.0, (left + right) / 2.0, 1.5);
  EXPECT_LT(last - first, 30);
}

TEST(WeightPng, DrawsTheReferenceDashed) {
  WeightPicture picture = steady();
  const auto runs = [&] {
    const Pixels pixels(picture);
    int most = 0;
    for (int y = 0; y < pixels.height(); ++y) {
      int count = 0;
      for (int x = 1; x < pixels.width(); ++x)
        count += pixels.is(x, y, kReference) && !pixels.is(x - 1, y, kReference) ? 1 : 0;
      most = std::max(most, count);
    }
    return most;
  };
  EXPECT_EQ(runs(), 0);
  picture.reference = Mass::grams(520);
  EXPECT_GT(runs(), 20);
}

TEST(WeightPng, DrawsWhatIsNotBelievedDifferently) {
  WeightPicture picture = steady();
  picture.course.clear();
  const std::string all = as_png(picture).value();
  picture.weighings[5].believed = false;
  EXPECT_NE(as_png(picture).value(), all);
  // A tenth of the mass needs a strip of its own below the others, ten times another above.
  const int height = Pixels(picture).height();
  picture.weighings[5].mass = Mass::grams(50);
  const int with_one = Pixels(picture).height();
  EXPECT_GT(with_one, height + 40);
  picture.weighings[7] = {picture.weighings[7].day, Mass::grams(5000), false};
  EXPECT_GT(Pixels(picture).height(), with_one + 40);
}

TEST(WeightPng, DoesNotMakeACliffOfANoise) {
  // 1 % between two weighings is less than a tenth of the plot's height.
  WeightPicture picture = steady();
  picture.course = {{1, Mass::grams(500), Mass::grams(500), Mass::grams(500)},
                    {364, Mass::grams(505), Mass::grams(505), Mass::grams(505)}};
  picture.weighings.clear();
  const Pixels pixels(picture);
  constexpr Colour kCourse{0.10, 0.27, 0.60};
  int top = pixels.height(), bottom = 0;
  for (int y = 240; y < pixels.height(); ++y)  // below the legend
    for (int x = 0; x < pixels.width(); ++x) {
      if (!pixels.is(x, y, kCourse)) continue;
      top = std::min(top, y);
      bottom = std::max(bottom, y);
    }
  EXPECT_GT(bottom - top, 10);
  EXPECT_LT(bottom - top, 46);
}

TEST(WeightPictures, DrawWhatIsOddButPossible) {
  for (const double mass_g : {1e-6, 0.02, 0.4, 3.0, 999.0, 1e9}) {
    for (const UnitSystem units : {UnitSystem::metric, UnitSystem::us}) {
      WeightPicture picture = steady();
      picture.course.clear();
      picture.units = units;
      for (auto& weighing : picture.weighings) weighing.mass = Mass::grams(mass_g);
      EXPECT_TRUE(as_png(picture).ok()) << mass_g;
    }
  }
  WeightPicture one = steady();  // a single weighing, and a course of one moment
  one.weighings.resize(1);
  one.course.resize(1);
  EXPECT_TRUE(as_png(one).ok());
  one.weighings[0].believed = false;
  one.course.clear();
  EXPECT_TRUE(as_png(one).ok());
  one.weighings.clear();
  one.lanes = {meals()};
  EXPECT_TRUE(as_svg(one).ok());
  for (const int days : {1, 20, 75, 76, 5000}) {
    WeightPicture picture;
    picture.first = parse_date("2025-12-31").value();
    picture.days = days;
    picture.weighings = {{0, Mass::grams(10)}, {1, Mass::grams(11)}};
    EXPECT_TRUE(as_png(picture).ok()) << days;
  }
  WeightPicture wide = steady();  // a band that knows nothing
  for (auto& moment : wide.course) moment.low = Mass::grams(1e-9), moment.high = Mass::grams(1e9);
  EXPECT_TRUE(as_png(wide).ok());
  WeightPicture doubted = steady();
  doubted.weighings.assign(5000, {100, Mass::grams(5000), false});
  EXPECT_TRUE(as_png(doubted).ok());
}

TEST(WeightPictures, AreTheSameBytesForTheSameInput) {
  const WeightPicture picture = full();
  const std::string png = as_png(picture).value(), svg = as_svg(picture).value();
  EXPECT_TRUE(as_svg(steady()).ok());  // Cairo counts surfaces on in between
  EXPECT_EQ(as_png(picture).value(), png);
  EXPECT_EQ(as_svg(picture).value(), svg);
}

// ---- SVG ----------------------------------------------------------------------------------------

TEST(WeightSvg, IsWellFormedAndSaysWhatItShows) {
  WeightPicture picture = full();
  picture.lanes.push_back(meals());
  const std::string svg = as_svg(picture).value();
  EXPECT_THAT(svg, StartsWith("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<svg "));
  EXPECT_TRUE(is_well_formed(svg));
  EXPECT_THAT(svg, HasSubstr("<title>Moss, crested gecko</title>"));
  EXPECT_THAT(svg, HasSubstr("It is steady: change nothing."));
  EXPECT_THAT(svg, HasSubstr("From 2025-11-26 to 2026-11-25."));
  EXPECT_THAT(svg, HasSubstr("Weighed 500 g on 2025-12-01."));
  EXPECT_THAT(svg, HasSubstr("Weighed 50 g on 2026-03-06, not believed."));
  EXPECT_THAT(svg, HasSubstr("Empty body on 2026-10-27: 495 g, 90 % interval 480 g to 510 g."));
  EXPECT_THAT(svg, HasSubstr("Reference: 520 g, had nothing been lost since 2026-01-01."));
  EXPECT_THAT(svg, HasSubstr("meals: 3, the latest on 2026-06-14."));
  EXPECT_THAT(svg, HasSubstr("ill: 2025-11-26 to 2025-12-16."));
}

TEST(WeightSvg, SpeaksTheUnitsOfTheRoom) {
  WeightPicture picture = steady();
  picture.units = UnitSystem::us;
  // 500 g / 453.59237 g = 1.102 lb.
  EXPECT_THAT(as_svg(picture).value(), HasSubstr("Weighed 1.1 lb on"));
  EXPECT_THAT(as_svg(picture).value(), Not(HasSubstr(" g on")));
}

TEST(WeightPictures, TakeAnyBytesAsNames) {
  for (const std::string& name : hostile_names()) {
    WeightPicture picture = full();
    picture.title = picture.subtitle = picture.reference_words = name;
    for (WeightPicture::Lane& lane : picture.lanes) lane.name = name;
    EXPECT_TRUE(as_png(picture).ok());
    const auto svg = as_svg(picture);
    ASSERT_TRUE(svg.ok());
    EXPECT_TRUE(is_well_formed(*svg)) << name.substr(0, 60);
    EXPECT_THAT(*svg, Not(HasSubstr("<script")));
  }
}

// ---- Refusals -----------------------------------------------------------------------------------

struct Fault {
  const char* name;
  std::function<void(WeightPicture&)> make;
  ProblemCode code;
  const char* field;
};

TEST(WeightPictures, RefuseBadInput) {
  constexpr double kEndless = std::numeric_limits<double>::infinity();
  const std::vector<Fault> faults = {
      {"nothing", [](auto& p) { p = {}; }, ProblemCode::missing, ""},
      {"no days", [](auto& p) { p.days = 0; }, ProblemCode::out_of_range, "days"},
      {"many days", [](auto& p) { p.days = 5001; }, ProblemCode::out_of_range, "days"},
      {"early weighing", [](auto& p) { p.weighings[0].day = -0.1; }, ProblemCode::out_of_range,
       "weighings"},
      {"NaN weighing", [](auto& p) { p.weighings[0].day = kNone; }, ProblemCode::out_of_range,
       "weighings"},
      {"no mass", [](auto& p) { p.weighings[0].mass = Mass::grams(0); }, ProblemCode::out_of_range,
       "weighings"},
      {"NaN mass", [](auto& p) { p.weighings[0].mass = Mass::grams(kNone); },
       ProblemCode::out_of_range, "weighings"},
      {"many weighings", [](auto& p) { p.weighings.resize(5001, p.weighings[0]); },
       ProblemCode::out_of_range, "weighings"},
      {"falling days", [](auto& p) { std::swap(p.course[0], p.course[1]); }, ProblemCode::bad_value,
       "course"},
      {"late moment", [](auto& p) { p.course.back().day = 365.5; }, ProblemCode::out_of_range,
       "course"},
      {"endless band", [](auto& p) { p.course[0].high = Mass::grams(kEndless); },
       ProblemCode::out_of_range, "course"},
      {"outside its band", [](auto& p) { p.course[0].low = Mass::grams(496); },
       ProblemCode::bad_value, "course"},
      {"many moments", [](auto& p) { p.course.resize(20001, p.course.back()); },
       ProblemCode::out_of_range, "course"},
      {"no reference", [](auto& p) { p.reference = Mass::grams(-1); }, ProblemCode::out_of_range,
       "reference"},
      {"late event", [](auto& p) { p.lanes[0].events[0] = 366; }, ProblemCode::out_of_range,
       "lanes"},
      {"NaN bar", [](auto& p) { p.lanes.back().bars[0].to = kNone; }, ProblemCode::out_of_range,
       "lanes"},
      {"bar upside down",
       [](auto& p) {
         p.lanes.back().bars[0] = {5, 4};
       },
       ProblemCode::bad_value, "lanes"},
      {"known from never", [](auto& p) { p.lanes[0].known_from = kNone; },
       ProblemCode::out_of_range, "lanes"},
      {"many events", [](auto& p) { p.lanes[0].events.resize(5001, 1); }, ProblemCode::out_of_range,
       "lanes"},
      {"many lanes", [](auto& p) { p.lanes.resize(21, p.lanes[0]); }, ProblemCode::out_of_range,
       "lanes"}};
  ASSERT_TRUE(as_svg(full()).ok());  // each fault below is its only one
  for (const Fault& fault : faults) {
    WeightPicture picture = full();
    fault.make(picture);
    for (const Result<std::string>& drawn : {as_png(picture), as_svg(picture)}) {
      ASSERT_FALSE(drawn.ok()) << fault.name;
      EXPECT_EQ(drawn.problem().code, fault.code) << fault.name;
      EXPECT_EQ(drawn.problem().where.field, fault.field) << fault.name;
      EXPECT_FALSE(drawn.problem().what.empty()) << fault.name;
    }
  }
}

TEST(WeightPictures, RefuseAWidthOutside200To8000) {
  for (const int width : {-1, 0, 199, 8001, std::numeric_limits<int>::max()}) {
    EXPECT_FALSE(as_png(steady(), width).ok()) << width;
    EXPECT_FALSE(as_svg(steady(), width).ok()) << width;
  }
}

}  // namespace
}  // namespace warmside::report
