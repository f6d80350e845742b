#include "report/day_drawing.h"

#include <cairo.h>
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <limits>
#include <string>
#include <vector>

#include "report/clean_text.h"
#include "report/pen_internal.h"
#include "report/shapes.h"

namespace warmside::report {
namespace {

constexpr Colour kGrid{0.86, 0.86, 0.87};
constexpr double kDaySteps = 10;
constexpr double kSample = 44;  // of each line's dashes, before its name

struct DayFrame {
  Box box;
  Extent range;
  double x(double hour) const { return box.x + box.width * hour / 24; }
  double y(double value_c) const {
    return box.bottom() - box.height * (value_c - range.low) / range.width();
  }
};

std::vector<double> dashes_of(std::size_t line) {
  static const std::array<std::vector<double>, kMostLines> kDashes{
      {{}, {18, 9}, {3, 8}, {26, 8, 4, 8}, {9, 7}, {26, 7, 4, 7, 4, 7}}};
  return kDashes[line];
}

Colour ink_of(std::size_t line) {
  static constexpr std::array<Colour, kMostLines> kInks{{{0.13, 0.13, 0.15},
                                                         {0.60, 0.11, 0.16},
                                                         {0.10, 0.27, 0.60},
                                                         {0.36, 0.15, 0.50},
                                                         {0.08, 0.37, 0.27},
                                                         {0.47, 0.28, 0.05}}};
  return kInks[line];
}

class DayArtist {
 public:
  DayArtist(const Pen& pen, const DayStrip& day, const MapScale& scale)
      : pen_(pen), day_(day), scale_(scale) {}

  double draw(double y) {
    y = draw_heading(pen_, y, day_.title, scale_.unit.name());
    std::vector<std::string> names;
    double name_width = 0;
    for (const DayStrip::Line& line : day_.lines) {
      names.push_back(pen_.fitted(clean(line.name), 240, kSmall));
      name_width = std::max(name_width, pen_.width(names.back(), kSmall));
    }
    Extent range = range_of(day_);
    if (range.empty()) range = scale_.range;  // lines without any value
    DayFrame frame;
    const double left = kMargin + 64;
    frame.box = {left, y + 8, kPage - kMargin - name_width - kSample - 24 - left, 440};
    frame.range = scale_.unit.rounded(range, kDaySteps);

    day_grid(frame);
    cairo_t* cr = pen_.cairo();
    cairo_save(cr);
    pen_.rectangle(frame.box);
    cairo_clip(cr);
    for (const Band& band : day_.bands) shade(band, frame);
    for (std::size_t i = 0; i < day_.lines.size(); ++i) day_line(day_.lines[i], i, frame);
    cairo_restore(cr);
    pen_.ink(kInk);
    for (const PlacedName& name : band_names(frame))
      pen_.text_centred(name.box.middle(), name.words, kSmall);
    pen_.rectangle(frame.box);
    pen_.stroke(3);
    line_names(names, frame);
    return day_numbers(frame) + kPartGap;
  }

 private:
  void day_grid(const DayFrame& frame) const {
    pen_.ink(kGrid);
    for (int hour = 3; hour < 24; hour += 3)
      pen_.line({frame.x(hour), frame.box.y}, {frame.x(hour), frame.box.bottom()},
                hour % 6 == 0 ? 3 : 1.5);
    for (const double value_c : scale_.numbers(frame.range, kDaySteps))
      pen_.line({frame.box.x, frame.y(value_c)}, {frame.box.right(), frame.y(value_c)}, 1.5);
  }

  double day_numbers(const DayFrame& frame) const {
    pen_.ink(kInk);
    for (const double value_c : scale_.numbers(frame.range, kDaySteps)) {
      const double y = frame.y(value_c);
      pen_.line({frame.box.x - 9, y}, {frame.box.x, y}, 3);
      pen_.text_right(frame.box.x - 16, y + kSmall * Pen::kHalfCapital,
                      number_text(scale_.unit.shown(value_c)), kSmall);
    }
    const double base = frame.box.bottom() + 14 + kSmall * 0.8;
    for (int hour = 0; hour <= 24; hour += 6) {
      pen_.line({frame.x(hour), frame.box.bottom()}, {frame.x(hour), frame.box.bottom() + 9}, 3);
      pen_.text_centred({frame.x(hour), base - kSmall * Pen::kHalfCapital}, fmt::format("{}", hour),
                        kSmall);
    }
    pen_.ink(kFaint);
    pen_.text_centred({frame.box.middle().x, base + 8 + kSmall * 0.7}, "hour", kSmall);
    return base + kSmall * 1.5;
  }

  Box band_box(const Band& band, const DayFrame& frame) const {
    const double top = frame.y(band.high), bottom = frame.y(band.low);
    return {frame.box.x, top, frame.box.width, bottom - top};
  }

  /// A wash of the range's colour on the scale, with fine lines at its edges.
  void shade(const Band& band, const DayFrame& frame) const {
    const Box box = band_box(band, frame);
    pen_.fill(box, scale_.colour((band.low + band.high) / 2), 0.22);
    pen_.ink(kFaint);
    for (const double y : {box.y, box.bottom()})
      pen_.line({box.x, y}, {box.right(), y}, band.preferred ? 4 : 2);
  }

  /// Where the bands' names fit best: within their band, clear of the lines and of each other.
  std::vector<PlacedName> band_names(const DayFrame& frame) const {
    std::vector<PlacedName> names;
    for (const Band& band : day_.bands) {
      const std::string words = pen_.fitted(clean(band.name), 420, kSmall);
      const double width = pen_.width(words, kSmall) + 16, height = kSmall + 6;
      const Box all = band_box(band, frame);
      const double high = std::max(all.y, frame.box.y) + height / 2 + 2;
      const double low = std::max(high, all.bottom() - height / 2 - 2);
      PlacedName best{{}, words};
      double least = std::numeric_limits<double>::infinity();
      for (const double y : {high, (high + low) / 2, low})
        for (double x = frame.box.x + 6; x + width <= frame.box.right() - 6; x += 20) {
          const Box box = Box::around({x + width / 2, y}, width, height).moved_into(frame.box);
          double cost = (x - frame.box.x) / 1000 + 4 * crossings(box, frame);
          for (const PlacedName& other : names) cost += other.box.overlaps(box) ? 1000 : 0;
          if (cost >= least) continue;
          least = cost;
          best.box = box;
        }
      names.push_back(best);
    }
    return names;
  }

  /// How many points of the lines lie in a box; every line is looked at 97 times a day or less.
  double crossings(const Box& box, const DayFrame& frame) const {
    double count = 0;
    const std::vector<double>& hours = day_.hour;
    const std::size_t step = std::max<std::size_t>(1, hours.size() / 96);
    for (const DayStrip::Line& line : day_.lines)
      for (std::size_t i = 0; i < hours.size(); i += step) {
        const Box dot{frame.x(hours[i]), frame.y(line.value_c[i]), 0, 0};
        count += box.grown(3).overlaps(dot) ? 1 : 0;
      }
    return count;
  }

  void day_line(const DayStrip::Line& line, std::size_t index, const DayFrame& frame) const {
    cairo_t* cr = pen_.cairo();
    bool gap = true;
    for (std::size_t i = 0; i < line.value_c.size(); ++i) {
      const double x = frame.x(day_.hour[i]), value = line.value_c[i];
      if (!std::isnan(value) && gap) cairo_move_to(cr, x, frame.y(value));
      if (!std::isnan(value)) cairo_line_to(cr, x, frame.y(value));
      gap = std::isnan(value);
    }
    pen_.ink(ink_of(index));
    pen_.dashes(dashes_of(index));
    pen_.stroke(5);
    pen_.dashes({});
  }

  /// The names beside the lines' ends, pushed apart, each with a piece of its line.
  void line_names(const std::vector<std::string>& names, const DayFrame& frame) const {
    constexpr double kApart = 36;
    struct End {
      std::size_t line;
      double end_y, y;
    };
    std::vector<End> order;
    for (std::size_t i = 0; i < names.size(); ++i) {
      const std::vector<double>& values = day_.lines[i].value_c;
      const auto last =
          std::find_if(values.rbegin(), values.rend(), [](double v) { return !std::isnan(v); });
      const double y = last == values.rend() ? frame.box.bottom() : frame.y(*last);
      order.push_back({i, y, y});
    }
    std::stable_sort(order.begin(), order.end(),
                     [](const End& a, const End& b) { return a.end_y < b.end_y; });
    // Down from the top, then up from the bottom.
    double free_from = frame.box.y + 10;
    for (End& name : order) {
      name.y = std::max(name.y, free_from);
      free_from = name.y + kApart;
    }
    double free_to = frame.box.bottom() - 10;
    for (auto name = order.rbegin(); name != order.rend(); ++name) {
      name->y = std::min(name->y, free_to);
      free_to = name->y - kApart;
    }
    for (const End& name : order) {
      const double x = frame.box.right() + 14;
      pen_.ink(ink_of(name.line));
      pen_.line({frame.box.right() + 3, name.end_y}, {x, name.y}, 2);
      pen_.dashes(dashes_of(name.line));
      pen_.line({x, name.y}, {x + kSample, name.y}, 5);
      pen_.dashes({});
      pen_.text(x + kSample + 10, name.y + kSmall * Pen::kHalfCapital, names[name.line], kSmall);
    }
  }

  const Pen& pen_;
  const DayStrip& day_;
  const MapScale& scale_;
};

}  // namespace

double draw_day(const Pen& pen, const DayStrip& day, const MapScale& scale, double y) {
  return DayArtist(pen, day, scale).draw(y);
}

}  // namespace warmside::report
