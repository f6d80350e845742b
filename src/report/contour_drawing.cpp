#include "report/contour_drawing.h"

#include <cairo.h>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>
#include <optional>
#include <utility>

#include "report/clean_text.h"

namespace warmside::report {
namespace {

/// The line with its corners cut twice (G. Chaikin, An algorithm for high-speed curve generation,
/// 1974), so that a coarse grid does not make it look like a polygon.
std::vector<Point> rounded(std::vector<Point> points) {
  for (int pass = 0; pass < 2 && points.size() > 2; ++pass) {
    std::vector<Point> cut{points.front()};
    for (std::size_t i = 0; i + 1 < points.size(); ++i) {
      const Point a = points[i], b = points[i + 1];
      if (i > 0) cut.push_back({std::lerp(a.x, b.x, 0.25), std::lerp(a.y, b.y, 0.25)});
      if (i + 2 < points.size())
        cut.push_back({std::lerp(a.x, b.x, 0.75), std::lerp(a.y, b.y, 0.75)});
    }
    cut.push_back(points.back());
    points = std::move(cut);
  }
  return points;
}

Track track_of(const Contour& contour, const Frame& frame) {
  Track track;
  track.closed = contour.closed;
  for (const Point& point : contour.points) track.points.push_back(frame.at(point));
  if (contour.closed) {  // starts in the middle of a piece, where there is no corner
    const Point a = track.points.front(), b = track.points.back();
    const Point middle{(a.x + b.x) / 2, (a.y + b.y) / 2};
    track.points.insert(track.points.begin(), middle);
    track.points.push_back(middle);
  }
  track.points = rounded(std::move(track.points));
  for (std::size_t i = 0; i < track.points.size(); ++i)
    track.way.push_back(i == 0 ? 0
                               : track.way.back() + distance(track.points[i - 1], track.points[i]));
  return track;
}

}  // namespace

Point Track::at(double along) const {
  const auto after = std::upper_bound(way.begin(), way.end(), along);
  if (after == way.end()) return points.back();
  if (after == way.begin()) return points.front();
  const std::size_t i = static_cast<std::size_t>(after - way.begin());
  const double part = (along - way[i - 1]) / (way[i] - way[i - 1]);
  return {std::lerp(points[i - 1].x, points[i].x, part),
          std::lerp(points[i - 1].y, points[i].y, part)};
}

std::vector<Level> ContourDrawing::levels(const Extent& range,
                                          const std::vector<Band>& bands) const {
  std::vector<Level> levels;
  for (const Band& band : bands) {
    if (!band.preferred) continue;
    levels.push_back({band.low, Level::lower_edge, clean(band.name)});
    levels.push_back({band.high, Level::upper_edge, clean(band.name)});
  }
  // Above the last colour one line would lie on the next.
  const Extent coloured{range.low, std::max(range.low, std::min(range.high, scale_.range.high))};
  const std::vector<double> values = scale_.line_values(coloured);
  const std::size_t count = values.size();
  const double step = count < 2 ? 0 : values[count - 1] - values[count - 2];
  const std::vector<Level> edges = levels;
  for (const double value : values) {  // those close to an edge would blur it
    const bool is_free = std::none_of(edges.begin(), edges.end(), [&](const Level& edge) {
      return std::fabs(edge.value - value) < std::max(0.3 * step, 1e-9);
    });
    if (is_free) levels.push_back({value, Level::round, ""});
  }
  return levels;
}

std::vector<Contours> ContourDrawing::lines(const Plane& plane, const Extent& range,
                                            const std::vector<Band>& bands,
                                            const Frame& frame) const {
  constexpr double kShortest = 15;  // less is a speck
  std::vector<Contours> all;
  if (range.empty()) return all;
  for (const Level& level : levels(range, bands)) {
    all.push_back({level, {}});
    for (const Contour& contour : contours_of(plane, level.value)) {
      Track track = track_of(contour, frame);
      if (track.length() >= kShortest) all.back().tracks.push_back(std::move(track));
    }
  }
  for (const bool heavy : {false, true})
    for (const Contours& contours : all)
      if (heavy == (contours.level.kind != Level::round))
        for (const Track& track : contours.tracks) line(track, contours.level);
  return all;
}

void ContourDrawing::trace(const Track& track) const {
  cairo_t* cr = pen_.cairo();
  for (const Point& point : track.points) cairo_line_to(cr, point.x, point.y);
  if (track.closed) cairo_close_path(cr);
}

void ContourDrawing::line(const Track& track, const Level& level) const {
  const Colour colour = scale_.line_on(level.value);
  if (level.kind == Level::round) {
    pen_.ink(colour, 0.85);
    trace(track);
    pen_.stroke(2.5);
    return;
  }
  pen_.ink(colour);
  trace(track);
  pen_.stroke(7);
  // Ticks towards the inside: the greater values, which are on the left, for a lower edge.
  constexpr double kApart = 26;
  const double tick = std::min(17.0, track.length() / 20);
  const double side = level.kind == Level::lower_edge ? 1 : -1;
  for (double along = kApart / 2; along < track.length(); along += kApart) {
    const Point at = track.at(along), before = track.at(along - 3), after = track.at(along + 3);
    const double gap = distance(before, after);
    if (gap <= 0) continue;
    const double left_x = (after.y - before.y) / gap, left_y = -(after.x - before.x) / gap;
    pen_.line(at, {at.x + side * tick * left_x, at.y + side * tick * left_y}, 4);
  }
}

void ContourDrawing::numbers(const std::vector<Contours>& all, Ground ground) const {
  for (const Contours& contours : all)
    for (const Track& track : contours.tracks) number(track, contours.level, ground);
}

/// Long lines get several numbers, and the line of an edge the name of its range.
void ContourDrawing::number(const Track& track, const Level& level, Ground& ground) const {
  const double length = track.length();
  if (length < 110) return;
  const bool heavy = level.kind != Level::round;
  const Weight weight = heavy ? Weight::bold : Weight::normal;
  const std::string number = scale_.unit.line_text(level.value);
  const std::string named = number + " " + pen_.fitted(level.name, 280, kSmall, weight);
  const bool has_room = length > 3 * pen_.width(named, kSmall, weight);
  const int parts = std::clamp(static_cast<int>(length / 900), 1, 4);
  for (int part = 0; part < parts; ++part) {
    const double from = length * part / parts, to = length * (part + 1) / parts;
    const bool with_name = heavy && has_room && part == 0 && !level.name.empty();
    if (!with_name || !place_number(track, from, to, named, weight, ground))
      place_number(track, from, to, number, weight, ground);
  }
}

/// Puts words where the line is straight and nothing else stands.
bool ContourDrawing::place_number(const Track& track, double from, double to,
                                  const std::string& words, Weight weight, Ground& ground) const {
  const double width = pen_.width(words, kSmall, weight) + 12, height = kSmall + 8;
  std::optional<Box> best;
  double least = std::numeric_limits<double>::infinity();
  for (double along = from + 8; along < to; along += 8) {
    const Box box = Box::around(track.at(along), width, height);
    if (!ground.frame.contains(box) || overlaps_any(box.grown(8), ground.taken)) continue;
    const double half = width / 2;
    const double bend = 1 - distance(track.at(along - half), track.at(along + half)) / width;
    const double off_middle = std::fabs(along - (from + to) / 2) / (to - from);
    const double cost = bend + 0.3 * off_middle + (overlaps_any(box, ground.outlines) ? 1 : 0);
    if (cost >= least) continue;
    least = cost;
    best = box;
  }
  if (!best) return false;
  ground.taken.push_back(*best);
  pen_.label(*best, words, weight);
  return true;
}

}  // namespace warmside::report
