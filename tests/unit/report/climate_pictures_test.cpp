// Pictures of the warmth and the UV in an enclosure: the lines of equal value, what stands where in
// the picture, and what is refused.

#include "report/climate_pictures.h"

#include <cairo.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <functional>
#include <limits>
#include <random>
#include <set>

#include "report/contours.h"
#include "report/map_scale.h"
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

std::vector<double> even_edges(double length_m, int count) {
  std::vector<double> edges;
  for (int i = 0; i <= count; ++i) edges.push_back(length_m * i / count);
  return edges;
}

/// A plane whose rectangles hold what `value` says of their middles.
Plane plane_of(double width_m, int columns, double height_m, int rows,
               const std::function<double(double, double)>& value) {
  Plane plane{
      even_edges(width_m, columns), even_edges(height_m, rows), {}, "Floor", "across", "up"};
  for (int row = 0; row < rows; ++row)
    for (int column = 0; column < columns; ++column)
      plane.value.push_back(
          value(width_m * (column + 0.5) / columns, height_m * (row + 0.5) / rows));
  return plane;
}

/// 90 cm x 45 cm, from 34 degC on the left to 24 degC on the right.
ClimatePicture warm_left() {
  ClimatePicture picture;
  picture.title = "Enclosure 3";
  picture.plan = plane_of(0.9, 90, 0.45, 45, [](double x, double) { return 34 - 10 * x / 0.9; });
  return picture;
}

/// As warm_left(), with a UV index from 8 on the left to 0 on the right.
ClimatePicture bright_left() {
  ClimatePicture picture = warm_left();
  picture.uv_plan = plane_of(0.9, 90, 0.45, 45, [](double x, double) { return 8 - 8 * x / 0.9; });
  picture.uv_plan.title = "UV on the floor";
  return picture;
}

// ---- Contours -----------------------------------------------------------------------------------

TEST(Contours, OfAnEvenSlopeAreStraightAndRunFromRimToRim) {
  // t = 20 + 10 x: 25 degC at x = 0.5, wherever the grid lies.
  const Plane plane = plane_of(1, 7, 0.6, 4, [](double x, double) { return 20 + 10 * x; });
  const std::vector<Contour> lines = contours_of(plane, 25);
  ASSERT_EQ(lines.size(), 1u);
  EXPECT_FALSE(lines[0].closed);
  for (const Point& point : lines[0].points) EXPECT_NEAR(point.x, 0.5, 1e-12);
  // Warmth lies on the right, so with warmth on its left the line runs downwards.
  EXPECT_DOUBLE_EQ(lines[0].points.front().y, 0.6);
  EXPECT_DOUBLE_EQ(lines[0].points.back().y, 0);
  // The slope goes on over the last half rectangle: 20.2 is at x = 0.02, left of every middle, but
  // nothing is made up beyond the coldest value, 20.71.
  EXPECT_TRUE(contours_of(plane, 20.2).empty());
  EXPECT_EQ(contours_of(plane, 20.8).size(), 1u);
}

TEST(Contours, OfAHillCloseAndHaveTheWarmthOnTheirLeft) {
  const Plane plane = plane_of(1, 40, 1, 40, [](double x, double y) {
    return 30 - 40 * ((x - 0.5) * (x - 0.5) + (y - 0.5) * (y - 0.5));
  });
  const std::vector<Contour> lines = contours_of(plane, 26.4);  // radius 0.3
  ASSERT_EQ(lines.size(), 1u);
  EXPECT_TRUE(lines[0].closed);
  double area = 0;  // positive when run anticlockwise
  for (std::size_t i = 0; i < lines[0].points.size(); ++i) {
    const Point a = lines[0].points[i], b = lines[0].points[(i + 1) % lines[0].points.size()];
    area += (a.x * b.y - b.x * a.y) / 2;
  }
  EXPECT_NEAR(area, 0.09 * 3.14159265, 0.002);
}

TEST(Contours, ComeNearerToACircleWithTheSquareOfTheGrid) {
  // Straight pieces between nodes: the error in radius falls by 4 when the grid is halved.
  const auto worst = [](int cells) {
    const Plane plane = plane_of(1, cells, 1, cells, [](double x, double y) {
      return 30 - 40 * ((x - 0.5) * (x - 0.5) + (y - 0.5) * (y - 0.5));
    });
    double most = 0;
    const std::vector<Contour> lines = contours_of(plane, 26.4);
    for (const Point& point : lines.at(0).points)
      most = std::max(most, std::fabs(std::hypot(point.x - 0.5, point.y - 0.5) - 0.3));
    return most;
  };
  const double order = std::log2(worst(32) / worst(128)) / 2;
  EXPECT_NEAR(order, 2, 0.3);
}

TEST(Contours, OfASaddleDoNotCross) {
  // Warm in two opposite corners; the level lies a little above or below the middle (25).
  Plane plane{{0, 1, 2}, {0, 1, 2}, {30, 20, 20, 30}, "", "", ""};
  for (const double level : {24.0, 26.0}) {
    const std::vector<Contour> lines = contours_of(plane, level);
    ASSERT_EQ(lines.size(), 2u) << level;
    // Above: round the warm corners (0, 0) and (2, 2). Below: round the cold ones.
    for (const Contour& line : lines) {
      bool near_diagonal = true, near_other = true;
      for (const Point& point : line.points) {
        near_diagonal = near_diagonal && std::fabs(point.x - point.y) < 1.01;
        near_other = near_other && std::fabs(point.x + point.y - 2) < 1.01;
      }
      EXPECT_EQ(level > 25 ? near_other : near_diagonal, false) << level;
    }
  }
}

TEST(Contours, EndWhereNothingIs) {
  Plane plane = plane_of(0.9, 9, 0.9, 9, [](double x, double) { return 20 + 10 * x; });
  plane.value[4 * 9 + 4] = kNone;
  const std::vector<Contour> lines = contours_of(plane, 24.5);  // through the gap at (0.45, 0.45)
  ASSERT_EQ(lines.size(), 2u);
  for (const Contour& line : lines)
    for (const Point& point : line.points) {
      EXPECT_NEAR(point.x, 0.45, 1e-12);
      EXPECT_GT(std::fabs(point.y - 0.45), 0.05);
    }
}

TEST(Contours, OfAFlatPlaneDoNotExist) {
  const Plane plane = plane_of(1, 5, 1, 5, [](double, double) { return 25; });
  for (const double level : {24.0, 25.0, 26.0}) EXPECT_TRUE(contours_of(plane, level).empty());
}

TEST(Contours, OfAnythingCloseOrEndAtTheRim) {
  std::mt19937 random(20261125);
  std::uniform_real_distribution<double> any(20, 30);
  for (int round = 0; round < 50; ++round) {
    const Plane plane =
        plane_of(2, 1 + round % 9, 1, 1 + round % 7, [&](double, double) { return any(random); });
    for (const double level : {22.0, 25.0, plane.value[0]})
      for (const Contour& line : contours_of(plane, level)) {
        ASSERT_GE(line.points.size(), 2u);
        const auto at_rim = [](Point p) { return p.x == 0 || p.x == 2 || p.y == 0 || p.y == 1; };
        EXPECT_TRUE(line.closed || (at_rim(line.points.front()) && at_rim(line.points.back())))
            << "round " << round << ", level " << level;
      }
  }
}

// ---- Pictures -----------------------------------------------------------------------------------

// A map of at least twice its height in width fills the columns from 140 to 1040.
constexpr int kMapLeft = 140, kMapWidth = 900;

/// The rows of the first map: the longest run of `colour` in a column of it.
std::pair<int, int> rows_of(const Pixels& pixels, int x, const Colour& colour) {
  std::pair<int, int> longest{0, 0};
  for (int y = 0; y < pixels.height(); ++y) {
    int end = y;
    while (end < pixels.height() && pixels.is(x, end, colour)) ++end;
    if (end - y > longest.second - longest.first) longest = {y, end};
    y = end;
  }
  return longest;
}

TEST(ClimatePng, PaintsTheMapWithTheColoursOfTheScale) {
  // Equal columns have equal colours; the scale spans 24 to 34.
  const ClimatePicture picture = warm_left();
  const Pixels pixels(picture);
  EXPECT_EQ(pixels.width(), 1080);
  for (const double share : {0.05, 0.33, 0.77, 0.95}) {
    const int x = kMapLeft + static_cast<int>(kMapWidth * share);
    int rows = 0;
    for (int y = 0; y < pixels.height(); ++y)
      rows += pixels.is(x, y, heat_colour(1 - (x + 0.5 - kMapLeft) / kMapWidth)) ? 1 : 0;
    EXPECT_GT(rows, 400) << share;  // of 450; numbers on lines may stand in between
    EXPECT_LE(rows, 450) << share;
  }
}

TEST(ClimatePng, PutsTheFirstRowLowest) {
  ClimatePicture picture;
  picture.plan = {{0, 0.9}, {0, 0.2, 0.4}, {24, 34}, "Section", "", ""};
  const Pixels pixels(picture);
  int coldest = 0, warmest = 0;  // the lowest and highest row of the map with these colours
  for (int y = 0; y < 600; ++y) {
    if (pixels.is(500, y, heat_colour(0))) coldest = y;
    if (pixels.is(500, y, heat_colour(1))) warmest = y;
  }
  EXPECT_GT(warmest, 0);
  EXPECT_GT(coldest, warmest + 100);
}

TEST(ClimatePng, LeavesGreyWhereNothingIs) {
  ClimatePicture picture = warm_left();
  for (std::size_t i = 0; i < picture.plan.value.size(); ++i)
    if (i % 90 >= 40 && i % 90 < 50) picture.plan.value[i] = kNone;
  const Pixels pixels(picture);
  const auto [top, bottom] = rows_of(pixels, 200, heat_colour(1 - 60.5 / kMapWidth));
  int grey = 0;
  for (int y = top; y < bottom; ++y)
    for (int x = 545; x < 635; ++x) {
      const std::array<int, 3> p = pixels.at(x, y);
      grey += p[0] == p[1] && p[1] == p[2] && p[0] > 150 ? 1 : 0;
    }
  EXPECT_EQ(grey, (bottom - top) * 90);
}

TEST(ClimatePng, DrawsLinesAtRoundDegrees) {
  const Pixels pixels(warm_left());
  // Round degrees from 25 to 33 lie 90 px apart: a line there, white on dark or dark on light, and
  // none halfway between. Near the lower rim, where few numbers stand.
  const auto [top, bottom] = rows_of(pixels, 200, heat_colour(1 - 60.5 / kMapWidth));
  const int y = bottom - 12;
  ASSERT_GT(bottom - top, 100);
  for (int degree = 25; degree <= 33; ++degree) {
    const int x = kMapLeft + (34 - degree) * 90;
    EXPECT_FALSE(pixels.is(x, y, heat_colour((degree - 24) / 10.0))) << degree;
    EXPECT_TRUE(pixels.is(x + 45, y, heat_colour((degree - 24 - 0.505) / 10))) << degree;
  }
}

TEST(ClimatePng, DrawsTheEdgesOfAPreferredRangeHeavierThanOthers) {
  ClimatePicture picture = warm_left();
  const auto width_of_line = [&](bool preferred) {
    picture.bands = {{"warm side", 27, 30, preferred}};
    const Pixels pixels(picture);
    const auto [top, bottom] = rows_of(pixels, 200, heat_colour(1 - 60.5 / kMapWidth));
    int width = 0;  // the line at 30 degC, x = 500, where no tick leaves it
    int least = 99;
    for (int y = bottom - 40; y < bottom - 5; ++y) {
      width = 0;
      for (int x = 480; x < 520; ++x)
        width += pixels.is(x, y, heat_colour(1 - (x + 0.5 - kMapLeft) / kMapWidth)) ? 0 : 1;
      least = std::min(least, width);
    }
    return least;
  };
  EXPECT_LE(width_of_line(false), 4);
  EXPECT_GE(width_of_line(true), 7);
}

TEST(ClimatePng, ShowsTheWantedRangesAsBracketsUnderTheScale) {
  // The scale runs from column 40 (24 degC) to 1040 (34 degC): 27 to 30 is 340 to 640.
  ClimatePicture picture = warm_left();
  EXPECT_FALSE(Pixels(picture).has_dark_row(341, 639));
  picture.bands = {{"warm side", 27, 30}, {"hide", 29, 31}};
  const Pixels pixels(picture);
  EXPECT_TRUE(pixels.has_dark_row(341, 639));
  EXPECT_TRUE(pixels.has_dark_row(541, 739));
  EXPECT_GT(pixels.height(), Pixels(warm_left()).height());
}

TEST(ClimatePng, DrawsHeatersDashedAndProbesAsCrosses) {
  ClimatePicture picture = warm_left();
  picture.plan_marks = {{0.1, 0.1, 0.7, 0.2, "mat"}, {0.45, 0.02, 0, 0, "probe"}};
  const Pixels pixels(picture);
  const auto [top, bottom] = rows_of(pixels, 200, heat_colour(1 - 60.5 / kMapWidth));
  ASSERT_GT(top, 0);
  const int map_bottom = [&, from = bottom] {  // the frame below the map
    int y = from;
    while (!pixels.is_dark(150, y)) ++y;
    return y + 1;
  }();
  // The lower side of the mat, 10 cm (100 px) up, from column 240 to 940.
  EXPECT_GT(pixels.dark_runs(map_bottom - 102, 240, 940), 20);
  EXPECT_TRUE(pixels.is_dark(kMapLeft + 450, map_bottom - 20));
  EXPECT_TRUE(pixels.is_dark(kMapLeft + 450 + 10, map_bottom - 20));
  EXPECT_TRUE(pixels.is_white(kMapLeft + 450 + 6, map_bottom - 20 - 4));
}

DayStrip two_lines() {
  DayStrip day;
  for (int i = 0; i <= 24; ++i) day.hour.push_back(i);
  day.lines = {{"basking", std::vector<double>(25, 33)}, {"hide", std::vector<double>(25, 27)}};
  return day;
}

TEST(ClimatePng, TellsTheLinesOfADayApartByDashes) {
  ClimatePicture picture;
  picture.day = two_lines();
  const Pixels pixels(picture);
  std::set<int> runs;
  for (int y = 120; y < 520; ++y) runs.insert(pixels.dark_runs(y, 110, 800));
  EXPECT_TRUE(runs.count(1));  // the first is whole ...
  // ... and the second has dashes of 18 px and gaps of 9: 690 / 27 = 25. It is dark red.
  int red_runs = 0;
  for (int y = 120; y < 520; ++y) {
    int count = 0;
    bool before = false;
    for (int x = 110; x < 800; ++x) {
      const bool now = pixels.is(x, y, {0.60, 0.11, 0.16});
      count += now && !before ? 1 : 0;
      before = now;
    }
    red_runs = std::max(red_runs, count);
  }
  EXPECT_NEAR(red_runs, 25, 2);
}

TEST(ClimatePng, ShadesTheBandsOfADay) {
  ClimatePicture picture;
  picture.day = two_lines();
  const auto coloured = [](const ClimatePicture& drawn) {
    const Pixels pixels(drawn);
    int count = 0;
    for (int y = 0; y < pixels.height(); ++y) {
      const std::array<int, 3> p = pixels.at(400, y);
      count += std::max({p[0], p[1], p[2]}) - std::min({p[0], p[1], p[2]}) > 8 ? 1 : 0;
    }
    return count;
  };
  EXPECT_LT(coloured(picture), 10);
  picture.day.bands = {{"warm side", 28, 32}};
  EXPECT_GT(coloured(picture), 100);
}

TEST(ClimatePng, LeavesAGapWhereADayIsUnknown) {
  ClimatePicture picture;
  picture.day = two_lines();
  for (std::size_t i = 8; i < 16; ++i) picture.day.lines[0].value_c[i] = kNone;
  const Pixels pixels(picture);
  std::set<int> runs;
  for (int y = 120; y < 520; ++y) runs.insert(pixels.dark_runs(y, 110, 800));
  EXPECT_TRUE(runs.count(2));
}

TEST(ClimatePng, LeavesOutWhatIsEmpty) {
  ClimatePicture plan = warm_left();
  ClimatePicture both = plan, day;
  both.section = plan.plan;
  day.day = two_lines();
  ClimatePicture all = both;
  all.day = day.day;
  const int plan_height = Pixels(plan).height();
  EXPECT_GT(Pixels(both).height(), plan_height + 450);
  EXPECT_GT(Pixels(all).height(), Pixels(both).height() + 400);
  EXPECT_LT(Pixels(day).height(), 800);
}

TEST(ClimatePng, GrowsWithItsWidth) {
  const ClimatePicture picture = warm_left();
  const Pixels one(picture), two(picture, 2160), small(picture, 200);
  EXPECT_EQ(two.width(), 2160);
  EXPECT_EQ(two.height(), 2 * one.height());
  EXPECT_EQ(small.width(), 200);
  EXPECT_NEAR(small.height(), one.height() / 5.4, 1);
}

TEST(ClimatePictures, DrawWhatIsOddButPossible) {
  ClimatePicture picture = warm_left();
  // Nothing anywhere; one rectangle; very flat; very tall; a single value; marks far outside.
  for (const Plane& plane :
       {plane_of(0.9, 5, 0.4, 5, [](double, double) { return kNone; }),
        plane_of(0.9, 1, 0.4, 1, [](double, double) { return 25; }),
        plane_of(100, 3, 0.001, 3, [](double x, double) { return x; }),
        plane_of(0.001, 3, 100, 3, [](double, double y) { return y; }),
        plane_of(0.9, 4, 0.4, 4, [](double x, double) { return x > 0.4 ? 200 : -100; })}) {
    picture.plan = picture.section = plane;
    picture.plan_marks = {{-50, -50, 0, 0, "far"}, {-90, 3, 100, 0, "wide"}, {0.1, 0.1, 0, 9, ""}};
    picture.bands = {{"wanted", 25, 25, true}};
    picture.uv_plan = picture.uv_section = plane;
    for (double& value : picture.uv_plan.value) value = std::fabs(value);
    picture.uv_section.value.assign(plane.value.size(), kNone);
    picture.uv_bands = {{"wanted", 0, 0, true}};
    EXPECT_TRUE(as_png(picture).ok());
    EXPECT_TRUE(as_svg(picture).ok());
  }
  ClimatePicture unknown;
  unknown.day = two_lines();
  for (DayStrip::Line& line : unknown.day.lines)
    std::fill(line.value_c.begin(), line.value_c.end(), kNone);
  EXPECT_TRUE(as_png(unknown).ok());
}

TEST(ClimatePictures, AreTheSameBytesForTheSameInput) {
  ClimatePicture picture = warm_left();
  picture.section = picture.plan;
  picture.plan_marks = {{0.1, 0.1, 0.3, 0.2, "mat"}};
  picture.bands = {{"warm side", 27, 30, true}};
  picture.uv_plan = picture.uv_section = bright_left().uv_plan;
  picture.uv_bands = {{"zone 3", 2.9, 7.4, true}};
  picture.day = two_lines();
  const std::string png = as_png(picture).value(), svg = as_svg(picture).value();
  ClimatePicture other = warm_left();  // Cairo counts surfaces on in between
  EXPECT_TRUE(as_svg(other).ok());
  EXPECT_EQ(as_png(picture).value(), png);
  EXPECT_EQ(as_svg(picture).value(), svg);
}

// ---- UV maps ------------------------------------------------------------------------------------

/// The colour of bright_left()'s UV map in a column of the page.
Colour uv_at(int x) {
  return uv_colour(1 - (x + 0.5 - kMapLeft) / kMapWidth);
}
/// The column where that map has a UV index.
int column_of_uv(double uv) {
  return kMapLeft + static_cast<int>(std::lround((1 - uv / 8) * kMapWidth));
}
/// The first row of a map and the one below its last, where nothing else on the page has its
/// colour.
std::pair<int, int> map_rows(const Pixels& pixels, const Colour& at_column_200) {
  std::pair<int, int> rows{pixels.height(), 0};
  for (int y = 0; y < pixels.height(); ++y)
    if (pixels.is(200, y, at_column_200)) rows = {std::min(rows.first, y), y + 1};
  return rows;
}
std::pair<int, int> heat_rows(const Pixels& pixels) {
  return map_rows(pixels, heat_colour(1 - 60.5 / kMapWidth));
}
std::pair<int, int> uv_rows(const Pixels& pixels) {
  return map_rows(pixels, uv_at(200));
}

TEST(UvMap, ChangesNothingWhereThereIsNone) {
  ClimatePicture picture = warm_left();
  picture.section = picture.plan;
  picture.bands = {{"warm side", 27, 30, true}};
  picture.day = two_lines();
  const std::string png = as_png(picture).value(), svg = as_svg(picture).value();
  picture.uv_plan_marks = picture.uv_section_marks = {{0.1, 0.1, 0.3, 0.2, "tube"}};
  picture.uv_bands = {{"Ferguson zone 3", 2.9, 7.4, true}};
  picture.uv_note = "One reading.";
  picture.strongest_uv_colour = 9;
  EXPECT_EQ(as_png(picture).value(), png);
  EXPECT_EQ(as_svg(picture).value(), svg);
}

TEST(UvMap, LiesUnderItsHeatMapAndIsAsLarge) {
  const Pixels pixels(bright_left());
  const auto [heat_top, heat_bottom] = heat_rows(pixels);
  const auto [top, bottom] = uv_rows(pixels);
  EXPECT_NEAR(heat_bottom - heat_top, 450, 4);  // the frame takes some
  EXPECT_GT(top, heat_bottom);
  EXPECT_EQ(bottom - top, heat_bottom - heat_top);
  for (const double share : {0.02, 0.33, 0.55, 0.98}) {
    const int x = kMapLeft + static_cast<int>(kMapWidth * share);
    int rows = 0;
    for (int y = top; y < bottom; ++y) rows += pixels.is(x, y, uv_at(x)) ? 1 : 0;
    EXPECT_GT(rows, 400) << share;  // numbers may stand in between
  }
}

TEST(UvMap, OfASectionComesAfterTheSection) {
  ClimatePicture picture = bright_left();
  picture.section = picture.plan;
  picture.uv_section = picture.uv_plan;
  const Pixels pixels(picture);
  std::string order;  // of the maps down the column, each named where it begins
  bool heat_before = false, uv_before = false;
  for (int y = 0; y < pixels.height(); ++y) {
    const bool heat = pixels.is(200, y, heat_colour(1 - 60.5 / kMapWidth));
    const bool uv = pixels.is(200, y, uv_at(200));
    if (heat && !heat_before && !order.ends_with('h')) order += 'h';
    if (uv && !uv_before && !order.ends_with('u')) order += 'u';
    heat_before = heat;
    uv_before = uv;
  }
  EXPECT_EQ(order, "huhu");
}

TEST(UvMap, HasLinesAtRoundNumbersAndAtAHalf) {
  const Pixels pixels(bright_left());
  const int y = uv_rows(pixels).second - 12;
  for (const double uv : {0.5, 1.0, 2.0, 3.0, 4.0, 5.0, 6.0, 7.0})
    EXPECT_FALSE(pixels.is(column_of_uv(uv), y, uv_at(column_of_uv(uv)))) << uv;
  for (const double uv : {0.25, 0.75, 1.5, 2.5, 4.5, 6.5})
    EXPECT_TRUE(pixels.is(column_of_uv(uv), y, uv_at(column_of_uv(uv)))) << uv;
}

TEST(UvMap, DrawsTheEdgesOfTheWantedRangeHeavyWithTicksInwards) {
  ClimatePicture picture = bright_left();
  picture.uv_bands = {{"", 3.5, 5.5, true}};  // far from the lines at round numbers
  const Pixels pixels(picture);
  const auto [top, bottom] = uv_rows(pixels);
  struct Edge {
    double uv;
    int inwards;  // greater values are to the left
  };
  for (const Edge edge : {Edge{3.5, -1}, Edge{5.5, 1}}) {
    const int x = column_of_uv(edge.uv);
    int least = 99, ticks_in = 0, ticks_out = 0;
    for (int y = bottom - 120; y < bottom - 5; ++y) {
      int width = 0;
      for (int i = x - 20; i < x + 20; ++i) width += pixels.is(i, y, uv_at(i)) ? 0 : 1;
      least = std::min(least, width);
      ticks_in += pixels.is(x + 12 * edge.inwards, y, uv_at(x + 12 * edge.inwards)) ? 0 : 1;
      ticks_out += pixels.is(x - 12 * edge.inwards, y, uv_at(x - 12 * edge.inwards)) ? 0 : 1;
    }
    EXPECT_GE(least, 7) << edge.uv;
    EXPECT_LE(least, 9) << edge.uv;
    EXPECT_GT(ticks_in, 8) << edge.uv;  // four ticks, 26 apart and 4 thick, in 115 rows
    EXPECT_EQ(ticks_out, 0) << edge.uv;
  }
}

TEST(UvMap, HasItsOwnScaleWithTheWantedRange) {
  // The scale runs from column 40 (0) to 1040 (8): 2.9 to 7.4 is 402.5 to 965.
  ClimatePicture picture = bright_left();
  EXPECT_FALSE(Pixels(picture).has_dark_row(405, 963));
  picture.uv_bands = {{"Ferguson zone 3", 2.9, 7.4, true}};
  const Pixels pixels(picture);
  EXPECT_TRUE(pixels.has_dark_row(405, 963));
  const auto runs_on = [&](const Colour& colour) {  // rows of a scale with the colour at its middle
    int rows = 0;
    for (int y = uv_rows(pixels).second; y < pixels.height(); ++y)
      rows += pixels.is(539, y, colour) ? 1 : 0;
    return rows;
  };
  EXPECT_GT(runs_on(heat_colour(0.4995)), 30);  // both scales, one under the other, 40 high
  EXPECT_GT(runs_on(uv_colour(0.4995)), 30);
}

TEST(UvMap, PaintsStrongerPlacesInTheLastColour) {
  ClimatePicture picture = bright_left();
  picture.strongest_uv_colour = 4;
  const Pixels pixels(picture);
  const auto [top, bottom] = rows_of(pixels, 200, uv_colour(1));
  EXPECT_GT(bottom - top, 400);
  // Without lines among them: 7 is at column 253.
  EXPECT_TRUE(pixels.is(column_of_uv(7), bottom - 12, uv_colour(1)));
}

TEST(UvMap, BearsTheMarksOfTheHeatMapAndItsOwn) {
  ClimatePicture picture = bright_left();
  picture.plan_marks = {{0.45, 0.1, 0, 0, ""}};  // a cross 100 px above the lower side
  picture.uv_plan_marks = {{0.65, 0.1, 0, 0, ""}};
  const Pixels pixels(picture);
  const auto has_cross = [&](std::pair<int, int> rows, int x) {
    const int y = rows.second + 2 - 100;  // half of the frame lies inside
    return pixels.is_dark(x, y) && pixels.is_dark(x + 10, y) && pixels.is_dark(x, y - 10) &&
           pixels.is_white(x + 6, y - 4);
  };
  EXPECT_TRUE(has_cross(heat_rows(pixels), kMapLeft + 450));
  EXPECT_TRUE(has_cross(uv_rows(pixels), kMapLeft + 450));
  EXPECT_FALSE(has_cross(heat_rows(pixels), kMapLeft + 650));
  EXPECT_TRUE(has_cross(uv_rows(pixels), kMapLeft + 650));
}

TEST(UvMap, HasItsNoteBelow) {
  // The section has no UV map, so that the note stands between the floor's and the section.
  ClimatePicture picture = bright_left();
  picture.section = picture.plan;
  const Pixels without(picture);
  picture.uv_note = "One reading.";
  const Pixels with(picture);
  EXPECT_EQ(uv_rows(with), uv_rows(without));
  EXPECT_GT(heat_rows(with).second, heat_rows(without).second + 25);  // of the section
  EXPECT_EQ(with.height() - without.height(), heat_rows(with).second - heat_rows(without).second);
}

TEST(UvMap, NeedsNoHeatMap) {
  ClimatePicture picture = bright_left();
  picture.plan = {};
  const Pixels pixels(picture);
  const auto [top, bottom] = uv_rows(pixels);
  EXPECT_GT(bottom - top, 400);
  EXPECT_LT(pixels.height(), Pixels(bright_left()).height() - 450);
  EXPECT_THAT(as_svg(picture).value(), Not(HasSubstr("°C")));
}

TEST(UvMap, IsSpokenToo) {
  ClimatePicture picture = bright_left();
  picture.uv_bands = {{"Ferguson zone 3", 2.9, 7.4, true}, {"", 0, 0.5}};
  picture.uv_note = "One reading & a guess.";
  picture.units = UnitSystem::us;  // has no UV index of its own
  const std::string svg = as_svg(picture).value();
  EXPECT_TRUE(is_well_formed(svg));
  // The middles of the first and last of 90 columns lie 1/180 inside: 7.96 and 0.04.
  EXPECT_THAT(svg, HasSubstr("UV on the floor: UV index 0.0 to 8.0\n"));
  EXPECT_THAT(svg, HasSubstr("Wanted UV index: Ferguson zone 3: 2.9 to 7.4\n"));
  EXPECT_THAT(svg, HasSubstr("Wanted UV index: 0 to 0.5\n"));
  EXPECT_THAT(svg, HasSubstr("One reading &amp; a guess."));
}

TEST(UvMap, NeverTellsATraceOrAnUnknownAsZero) {
  ClimatePicture picture = bright_left();
  const auto told = [&](double value) {
    picture.uv_plan = plane_of(0.9, 2, 0.45, 2, [&](double, double) { return value; });
    picture.uv_plan.title = "UV";
    return as_svg(picture).value();
  };
  EXPECT_THAT(told(0), HasSubstr("UV: UV index 0<"));
  EXPECT_THAT(told(0.04), HasSubstr("UV: UV index under 0.05<"));
  EXPECT_THAT(told(0.06), HasSubstr("UV: UV index 0.1 to 0.1<"));
  EXPECT_THAT(told(kNone), HasSubstr("UV: no UV index<"));
  EXPECT_THAT(told(136.9), HasSubstr("UV: UV index 137 to 137<"));
}

// ---- SVG ----------------------------------------------------------------------------------------

TEST(ClimateSvg, IsWellFormedAndSaysWhatItShows) {
  ClimatePicture picture = warm_left();
  picture.bands = {{"warm side", 27, 30, true}};
  picture.day = two_lines();
  const std::string svg = as_svg(picture).value();
  EXPECT_THAT(svg, StartsWith("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<svg "));
  EXPECT_TRUE(is_well_formed(svg));
  EXPECT_THAT(svg, HasSubstr("width=\"1080px\""));
  EXPECT_THAT(svg, HasSubstr("<title>Enclosure 3</title>"));
  // The middles of the first and last of 90 columns lie 1/180 inside: 33.94 and 24.06.
  EXPECT_THAT(svg, HasSubstr("Floor: 24.1 to 33.9 °C"));
  EXPECT_THAT(svg, HasSubstr("Wanted: warm side 27 to 30 °C"));
  EXPECT_THAT(svg, HasSubstr("Through the day, basking: 33.0 to 33.0 °C"));
}

TEST(ClimateSvg, SpeaksTheUnitsOfTheRoom) {
  ClimatePicture picture = warm_left();
  picture.units = UnitSystem::us;
  picture.bands = {{"warm side", 25, 30}};
  const std::string svg = as_svg(picture).value();
  EXPECT_THAT(svg, HasSubstr("Wanted: warm side 77 to 86 °F"));
  EXPECT_THAT(svg, Not(HasSubstr("°C")));
}

TEST(ClimatePictures, TakeAnyBytesAsNames) {
  for (const std::string& name : hostile_names()) {
    ClimatePicture picture = warm_left();
    picture.section = picture.plan;
    picture.uv_plan = picture.uv_section = bright_left().uv_plan;
    picture.title = picture.subtitle = picture.plan.title = name;
    picture.uv_plan.title = picture.uv_section.x_label = picture.uv_note = name;
    picture.uv_plan_marks = {{0.2, 0.1, 0.3, 0.2, name}};
    picture.uv_bands = {{name, 2.9, 7.4, true}};
    picture.plan.x_label = picture.plan.y_label = name;
    picture.plan_marks = {{0.1, 0.1, 0.3, 0.2, name}, {0.5, 0.2, 0, 0, name}};
    picture.bands = {{name, 27, 30, true}};
    picture.day = two_lines();
    picture.day.title = picture.day.lines[0].name = name;
    picture.day.bands = picture.bands;
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
  std::function<void(ClimatePicture&)> make;
  ProblemCode code;
  const char* field;
};

TEST(ClimatePictures, RefuseBadInput) {
  constexpr double kEndless = std::numeric_limits<double>::infinity();
  const std::vector<Fault> faults = {
      {"nothing", [](auto& p) { p.plan = {}; }, ProblemCode::missing, ""},
      {"no y edges", [](auto& p) { p.plan.y_edges_m.clear(); }, ProblemCode::missing,
       "plan.y_edges_m"},
      {"one edge", [](auto& p) { p.plan.x_edges_m = {0}; }, ProblemCode::missing, "plan.x_edges_m"},
      {"only edges", [](auto& p) { p.plan.value.clear(); }, ProblemCode::bad_value, "plan.value"},
      {"a value short", [](auto& p) { p.plan.value.pop_back(); }, ProblemCode::bad_value,
       "plan.value"},
      {"equal edges", [](auto& p) { p.plan.x_edges_m[1] = 0; }, ProblemCode::bad_value,
       "plan.x_edges_m"},
      {"falling edges", [](auto& p) { std::swap(p.plan.y_edges_m[1], p.plan.y_edges_m[2]); },
       ProblemCode::bad_value, "plan.y_edges_m"},
      {"NaN edge", [](auto& p) { p.plan.x_edges_m[1] = kNone; }, ProblemCode::out_of_range,
       "plan.x_edges_m"},
      {"endless edge", [](auto& p) { p.plan.x_edges_m.back() = kEndless; },
       ProblemCode::out_of_range, "plan.x_edges_m"},
      {"too small",
       [](auto& p) {
         p.plan.x_edges_m = {0, 1e-9};
       },
       ProblemCode::out_of_range, "plan.x_edges_m"},
      {"endless value", [](auto& p) { p.plan.value[5] = kEndless; }, ProblemCode::out_of_range,
       "plan.value"},
      {"kelvin", [](auto& p) { p.plan.value[5] = 300; }, ProblemCode::out_of_range, "plan.value"},
      {"the section too", [](auto& p) { p.section.value = {25}; }, ProblemCode::missing,
       "section.x_edges_m"},
      {"many rectangles",
       [](auto& p) {
         p.plan.x_edges_m = even_edges(1, 2001);
         p.plan.y_edges_m = even_edges(1, 2000);
       },
       ProblemCode::out_of_range, "plan"},
      {"NaN mark",
       [](auto& p) {
         p.plan_marks = {{kNone, 0, 0, 0, ""}};
       },
       ProblemCode::out_of_range, "plan_marks"},
      {"negative mark",
       [](auto& p) {
         p.section_marks = {{0, 0, 1, -1, ""}};
       },
       ProblemCode::out_of_range, "section_marks"},
      {"many marks", [](auto& p) { p.plan_marks.resize(51); }, ProblemCode::out_of_range,
       "plan_marks"},
      {"NaN band",
       [](auto& p) {
         p.bands = {{"", 20, kNone}};
       },
       ProblemCode::out_of_range, "bands"},
      {"band upside down",
       [](auto& p) {
         p.bands = {{"", 30, 20}};
       },
       ProblemCode::bad_value, "bands"},
      {"many bands",
       [](auto& p) {
         p.bands.assign(9, {"", 20, 30});
       },
       ProblemCode::out_of_range, "bands"},
      {"hour 25", [](auto& p) { p.day.hour.back() = 25; }, ProblemCode::out_of_range, "day.hour"},
      {"NaN hour", [](auto& p) { p.day.hour[3] = kNone; }, ProblemCode::out_of_range, "day.hour"},
      {"hours fall", [](auto& p) { std::swap(p.day.hour[3], p.day.hour[4]); },
       ProblemCode::bad_value, "day.hour"},
      {"one hour", [](auto& p) { p.day.hour = {1}; }, ProblemCode::out_of_range, "day.hour"},
      {"no lines", [](auto& p) { p.day.lines.clear(); }, ProblemCode::out_of_range, "day.lines"},
      {"many lines", [](auto& p) { p.day.lines.assign(7, p.day.lines[0]); },
       ProblemCode::out_of_range, "day.lines"},
      {"short line", [](auto& p) { p.day.lines[1].value_c.pop_back(); }, ProblemCode::bad_value,
       "day.lines"},
      {"hot line", [](auto& p) { p.day.lines[1].value_c[2] = 1000; }, ProblemCode::out_of_range,
       "day.lines"},
      {"negative UV", [](auto& p) { p.uv_plan.value[5] = -0.1; }, ProblemCode::out_of_range,
       "uv_plan.value"},
      {"UV in mW", [](auto& p) { p.uv_plan.value[5] = 1001; }, ProblemCode::out_of_range,
       "uv_plan.value"},
      {"UV short", [](auto& p) { p.uv_plan.value.pop_back(); }, ProblemCode::bad_value,
       "uv_plan.value"},
      {"UV of a section", [](auto& p) { p.uv_section.value = {1}; }, ProblemCode::missing,
       "uv_section.x_edges_m"},
      {"UV of another place", [](auto& p) { p.uv_plan.x_edges_m.back() += 0.01; },
       ProblemCode::bad_value, "uv_plan"},
      {"UV begins elsewhere", [](auto& p) { p.uv_plan.x_edges_m.front() -= 0.01; },
       ProblemCode::bad_value, "uv_plan"},
      {"UV higher up",
       [](auto& p) {
         for (double& edge : p.uv_plan.y_edges_m) edge += 0.01;
       },
       ProblemCode::bad_value, "uv_plan"},
      {"UV mark",
       [](auto& p) {
         p.uv_section_marks = {{0, kNone, 1, 1, ""}};
       },
       ProblemCode::out_of_range, "uv_section_marks"},
      {"many UV marks", [](auto& p) { p.uv_plan_marks.resize(51); }, ProblemCode::out_of_range,
       "uv_plan_marks"},
      {"UV band",
       [](auto& p) {
         p.uv_bands = {{"", -1, 3}};
       },
       ProblemCode::out_of_range, "uv_bands"},
      {"UV band upside down",
       [](auto& p) {
         p.uv_bands = {{"", 7.4, 2.9}};
       },
       ProblemCode::bad_value, "uv_bands"},
      {"band of the day",
       [](auto& p) {
         p.day.bands = {{"", 30, 20}};
       },
       ProblemCode::bad_value, "day.bands"}};
  ClimatePicture whole = bright_left();
  whole.day = two_lines();
  ASSERT_TRUE(as_svg(whole).ok());  // each fault below is its only one
  for (const Fault& fault : faults) {
    const bool nothing = std::string(fault.name) == "nothing";
    ClimatePicture picture = nothing ? warm_left() : bright_left();
    if (!nothing) picture.day = two_lines();
    fault.make(picture);
    for (const Result<std::string>& drawn : {as_png(picture), as_svg(picture)}) {
      ASSERT_FALSE(drawn.ok()) << fault.name;
      EXPECT_EQ(drawn.problem().code, fault.code) << fault.name;
      EXPECT_EQ(drawn.problem().where.field, fault.field) << fault.name;
      EXPECT_FALSE(drawn.problem().what.empty()) << fault.name;
    }
  }
}

TEST(ClimatePictures, RefuseAWidthOutside200To8000) {
  for (const int width : {-1, 0, 199, 8001, std::numeric_limits<int>::max()}) {
    EXPECT_FALSE(as_png(warm_left(), width).ok()) << width;
    EXPECT_FALSE(as_svg(warm_left(), width).ok()) << width;
  }
  EXPECT_TRUE(as_svg(warm_left(), 8000).ok());
}

TEST(ClimatePictures, TakeFourMillionRectangles) {
  ClimatePicture picture;
  picture.plan.x_edges_m = even_edges(1, 2000);
  picture.plan.y_edges_m = even_edges(0.5, 2000);
  picture.plan.value.assign(4'000'000, 25);
  EXPECT_TRUE(as_png(picture, 200).ok());
}

}  // namespace
}  // namespace warmside::report
