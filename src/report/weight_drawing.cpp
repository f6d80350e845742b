#include "report/weight_drawing.h"

#include <cairo.h>
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <numbers>
#include <string>
#include <utility>
#include <vector>

#include "report/clean_text.h"
#include "report/map_scale.h"
#include "report/pen_internal.h"
#include "report/shapes.h"

namespace warmside::report {
namespace {

constexpr Colour kGrid{0.86, 0.86, 0.87}, kBandWash{0.78, 0.84, 0.93}, kBandEdge{0.45, 0.55, 0.72};
constexpr Colour kCourse{0.10, 0.27, 0.60}, kReference{0.60, 0.11, 0.16};
constexpr double kPlotHeight = 460, kLaneHeight = 44, kMark = 9;  // half the size of a mark
constexpr std::size_t kMostWords = 40;  // of weighings that are not believed, and their crosses
constexpr double kStrip = 56;           // at an edge of the plot, for masses beyond it
constexpr double kMassSteps = 8;
constexpr int kMassDecimals = 3;
/// The band is followed as far as this factor beyond what was weighed.
constexpr double kFarthestBand = 1.5;
/// The plot spans this share of the mass at least, lest the noise of a scale look like a fall.
/// Common practice, no source.
constexpr double kLeastSpan = 0.15;
constexpr std::array kMonths{"Jan", "Feb", "Mar", "Apr", "May", "Jun",
                             "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"};
/// Up to here single days are named.
constexpr int kFewDays = 75;

/// The unit of the mass axis: that in which people read its upper end (for_people).
struct MassUnit {
  const char* name;
  double per_gram;
};
MassUnit mass_unit(double most_g, UnitSystem units) {
  if (units == UnitSystem::us) {
    const Mass gram = Mass::grams(1);
    return most_g >= Mass::pounds(1).grams() ? MassUnit{"lb", gram.pounds()}
                                             : MassUnit{"oz", gram.ounces()};
  }
  return most_g >= 1000  ? MassUnit{"kg", 1e-3}
         : most_g >= 0.1 ? MassUnit{"g", 1}
                         : MassUnit{"mg", 1000};
}

/// The masses from and to which the plot goes, g. Weighings that are not believed do not count
/// unless there are no others.
Extent masses_of(const WeightPicture& picture) {
  Extent range;
  for (const bool believed : {true, false}) {
    if (!range.empty()) break;
    for (const WeightPicture::Weighing& weighing : picture.weighings)
      if (weighing.believed == believed) range.add(weighing.mass.grams());
    for (const WeightPicture::Moment& moment : picture.course) range.add(moment.mass.grams());
  }
  const Extent told = range;
  for (const WeightPicture::Moment& moment : picture.course) {
    range.add(std::max(moment.low.grams(), told.low / kFarthestBand));
    range.add(std::min(moment.high.grams(), told.high * kFarthestBand));
  }
  if (picture.reference) range.add(picture.reference->grams());
  const double clear =
      std::max(0.08 * range.width(), (kLeastSpan * range.high - range.width()) / 2);
  return {std::max(0.0, range.low - clear), range.high + clear};
}

class WeightArtist {
 public:
  WeightArtist(const Pen& pen, const WeightPicture& picture) : pen_(pen), picture_(picture) {}

  double draw(double y) {
    range_g_ = masses_of(picture_);
    unit_ = mass_unit(range_g_.high, picture_.units);
    for (const WeightPicture::Lane& lane : picture_.lanes)
      names_.push_back(pen_.fitted(clean(lane.name), 260, kSmall));
    double column = 90;
    for (const std::string& name : names_) column = std::max(column, pen_.width(name, kSmall));
    const double left = kMargin + column + 20;
    const bool plotted = !picture_.weighings.empty() || !picture_.course.empty();
    y = legend(y);
    const double top = y + (plotted ? kSmall + 14 : 0);
    plot_ = {left, top, kPage - kMargin - left, plotted ? kPlotHeight : 0};
    scaled_ = plot_;
    for (const WeightPicture::Weighing& weighing : picture_.weighings) {
      if (weighing.mass.grams() > range_g_.high) scaled_.y = plot_.y + kStrip;
      if (weighing.mass.grams() < range_g_.low) plot_.height = kPlotHeight + kStrip;
    }
    plot_.height += scaled_.y - plot_.y;
    const double lanes_top = plot_.bottom() + 20;
    const double bottom = lanes_top + kLaneHeight * static_cast<double>(picture_.lanes.size()) +
                          (picture_.lanes.empty() ? -20 : 8);
    date_lines(bottom);
    if (plotted) masses();
    for (std::size_t i = 0; i < names_.size(); ++i)
      lane(picture_.lanes[i], names_[i], lanes_top + kLaneHeight * (static_cast<double>(i) + 0.5));
    pen_.ink(kInk);
    pen_.line({plot_.x, bottom}, {plot_.right(), bottom}, 3);
    return dates(bottom);
  }

 private:
  double x(double day) const { return plot_.x + plot_.width * day / picture_.days; }
  double y(double mass_g) const {
    return scaled_.bottom() - scaled_.height * (mass_g - range_g_.low) / range_g_.width();
  }

  // ---- What means what ----

  /// Samples with their words, in rows as wide as the page.
  double legend(double y) const {
    constexpr double kWide = 56, kNarrow = 2 * kMark, kGap = 12, kBetween = 36, kRow = 42;
    double left = kMargin, row = y + kRow / 2;
    const auto next = [&](double sample, const std::string& text, const auto& draw_sample) {
      const std::string words =
          pen_.fitted(clean(text), kPage - 2 * kMargin - sample - kGap, kSmall);
      const double width = sample + kGap + pen_.width(words, kSmall);
      if (left > kMargin && left + width > kPage - kMargin) {
        left = kMargin;
        row += kRow;
      }
      draw_sample(Box{left, row - 15, sample, 30});
      pen_.ink(kInk);
      pen_.text(left + sample + kGap, row + kSmall * Pen::kHalfCapital, words, kSmall);
      left += width + kBetween;
    };
    const auto any = [&](bool believed) {
      return std::any_of(picture_.weighings.begin(), picture_.weighings.end(),
                         [&](const auto& weighing) { return weighing.believed == believed; });
    };
    if (any(true)) next(kNarrow, "weighed", [&](const Box& box) { point(box.middle()); });
    if (any(false)) next(kNarrow, "not believed", [&](const Box& box) { cross(box.middle()); });
    if (!picture_.course.empty()) {
      next(kWide, "empty body and its 90 % interval", [&](const Box& box) {
        pen_.fill(box, kBandWash);
        pen_.ink(kBandEdge);
        for (const double edge : {box.y, box.bottom()})
          pen_.line({box.x, edge}, {box.right(), edge}, 2);
        pen_.ink(kCourse);
        pen_.line({box.x, box.middle().y}, {box.right(), box.middle().y}, 5);
      });
    }
    if (picture_.reference) {
      next(kWide, "reference " + picture_.reference_words,
           [&](const Box& box) { reference(box.x, box.right(), box.middle().y); });
    }
    const auto& lanes = picture_.lanes;
    if (std::any_of(lanes.begin(), lanes.end(), [](const auto& l) { return l.known_from > 0; })) {
      next(kWide, "not looked up",
           [&](const Box& box) { unknown(box.x, box.right(), box.middle().y); });
    }
    return row + kRow / 2 + 6;
  }

  void point(Point at) const {
    pen_.ink(kInk);
    cairo_arc(pen_.cairo(), at.x, at.y, kMark, 0, 2 * std::numbers::pi);
    cairo_fill(pen_.cairo());
  }

  void cross(Point at) const {
    pen_.ink(kInk);
    pen_.line({at.x - kMark, at.y - kMark}, {at.x + kMark, at.y + kMark}, 4);
    pen_.line({at.x - kMark, at.y + kMark}, {at.x + kMark, at.y - kMark}, 4);
  }

  // ---- Masses ----

  void masses() const {
    const std::vector<double> numbers = round_numbers(
        range_g_.low * unit_.per_gram, range_g_.high * unit_.per_gram, kMassSteps, kMassDecimals);
    pen_.ink(kGrid);
    for (const double number : numbers) {
      const double at = y(number / unit_.per_gram);
      pen_.line({plot_.x, at}, {plot_.right(), at}, 1.5);
    }
    for (const double edge : {scaled_.y, scaled_.bottom()})
      pen_.line({plot_.x, edge}, {plot_.right(), edge}, 3);
    cairo_t* cr = pen_.cairo();
    cairo_save(cr);
    pen_.rectangle(scaled_);
    cairo_clip(cr);
    band();
    course();
    if (picture_.reference) reference(plot_.x, plot_.right(), y(picture_.reference->grams()));
    cairo_restore(cr);
    for (const WeightPicture::Weighing& weighing : picture_.weighings)
      if (weighing.believed) point({x(weighing.day), y(weighing.mass.grams())});
    std::vector<Box> taken;
    for (const WeightPicture::Weighing& weighing : picture_.weighings)
      if (!weighing.believed) doubted(weighing, taken);
    pen_.ink(kInk);
    pen_.rectangle(plot_);
    pen_.stroke(3);
    for (const double number : numbers) {
      const double at = y(number / unit_.per_gram);
      pen_.line({plot_.x - 9, at}, {plot_.x, at}, 3);
      pen_.text_right(plot_.x - 16, at + kSmall * Pen::kHalfCapital, fmt::format("{:g}", number),
                      kSmall);
    }
    pen_.text(plot_.x, plot_.y - 12, fmt::format("mass, {}", unit_.name), kSmall);
  }

  void band() const {
    const auto& course = picture_.course;
    if (course.empty()) return;
    cairo_t* cr = pen_.cairo();
    for (const auto& moment : course) cairo_line_to(cr, x(moment.day), y(moment.low.grams()));
    for (auto moment = course.rbegin(); moment != course.rend(); ++moment)
      cairo_line_to(cr, x(moment->day), y(moment->high.grams()));
    cairo_close_path(cr);
    pen_.ink(kBandWash);
    cairo_fill(cr);
    for (const auto edge : {&WeightPicture::Moment::low, &WeightPicture::Moment::high}) {
      for (const auto& moment : course) cairo_line_to(cr, x(moment.day), y((moment.*edge).grams()));
      pen_.ink(kBandEdge);
      pen_.stroke(2);
    }
  }

  void course() const {
    for (const auto& moment : picture_.course)
      cairo_line_to(pen_.cairo(), x(moment.day), y(moment.mass.grams()));
    pen_.ink(kCourse);
    pen_.stroke(5);
  }

  void reference(double from, double to, double at) const {
    pen_.ink(kReference);
    pen_.dashes({16, 10});
    pen_.line({from, at}, {to, at}, 4);
    pen_.dashes({});
  }

  /// How many points of what is drawn lie in a box.
  int crossings(const Box& box) const {
    int count = 0;
    const auto add = [&](double day, Mass mass, double by) {
      count += box.grown(by).overlaps({x(day), y(mass.grams()), 0, 0}) ? 1 : 0;
    };
    for (const auto& weighing : picture_.weighings) add(weighing.day, weighing.mass, kMark);
    for (const auto& moment : picture_.course) add(moment.day, moment.mass, 3);
    return count;
  }

  /// A cross with its words, where they hide least; in the strip at the edge, with an arrow, where
  /// the mass lies beyond the plot. Where words would lie on words there is the cross alone.
  void doubted(const WeightPicture::Weighing& weighing, std::vector<Box>& taken) const {
    const double mass_g = weighing.mass.grams();
    const bool above = mass_g > range_g_.high, below = mass_g < range_g_.low;
    const double strip = above   ? plot_.y + kStrip / 2
                         : below ? plot_.bottom() - kStrip / 2
                                 : y(mass_g);
    const double outward = above ? -1 : below ? 1 : 0;
    const Point at{x(weighing.day), strip - outward * 1.3 * kMark};
    cross(at);
    if (outward != 0) arrow_head({at.x, strip + outward * 1.3 * kMark}, 0, outward);
    if (taken.size() > kMostWords) return;
    const std::string words = for_people(weighing.mass, picture_.units) + ", not believed";
    const double width = pen_.width(words, kSmall) + 16, height = kSmall + 8;
    const double side = kMark + 8 + width / 2;
    std::vector<Box> all = taken;
    all.push_back(Box::around({at.x, strip}, 2 * kMark, outward == 0 ? 2 * kMark : kStrip));
    Box best;
    int least = -1;
    for (const double down : {0.0, -34.0, 34.0, -68.0, 68.0})
      for (const double along : {side, -side}) {
        if (outward != 0 && down != 0) continue;
        const Box box = Box::around({at.x + along, strip + down}, width, height);
        const int cost = crossings(box);
        if (!plot_.contains(box) || overlaps_any(box, all) || (least >= 0 && cost >= least))
          continue;
        least = cost;
        best = box;
      }
    taken.push_back(all.back());
    if (least < 0) return;
    pen_.label(best, words, Weight::normal);
    taken.push_back(best);
  }

  // ---- Lanes ----

  void lane(const WeightPicture::Lane& lane, const std::string& name, double middle) const {
    pen_.ink(kInk);
    pen_.text_right(plot_.x - 16, middle + kSmall * Pen::kHalfCapital, name, kSmall);
    const double from = x(lane.known_from);
    pen_.ink(kGrid);
    pen_.line({from, middle}, {plot_.right(), middle}, 2);
    if (lane.known_from > 0) unknown(plot_.x, from, middle);
    for (const WeightPicture::Bar& bar : lane.bars) {
      const double width = std::max(6.0, x(bar.to) - x(bar.from));
      const Box box = Box{x(bar.from), middle - 11, width, 22}.moved_into(
          {plot_.x, middle - 11, plot_.width, 22});
      pen_.fill(box, kFaint);
    }
    for (const double day : lane.events) mark(lane.shape, {x(day), middle});
  }

  /// The part of a lane for which nothing was looked up.
  void unknown(double from, double to, double middle) const {
    pen_.ink(kFaint);
    pen_.dashes({3, 9});
    pen_.line({from, middle}, {to, middle}, 3);
    pen_.dashes({});
  }

  /// A filled arrow head with its tip in the direction (dx, dy).
  void arrow_head(Point at, double dx, double dy) const {
    cairo_t* cr = pen_.cairo();
    cairo_move_to(cr, at.x + kMark * dx, at.y + kMark * dy);
    cairo_line_to(cr, at.x - kMark * dx - kMark * dy, at.y - kMark * dy + kMark * dx);
    cairo_line_to(cr, at.x - kMark * dx + kMark * dy, at.y - kMark * dy - kMark * dx);
    cairo_close_path(cr);
    cairo_fill(cr);
  }

  void mark(WeightPicture::Shape shape, Point at) const {
    using enum WeightPicture::Shape;
    cairo_t* cr = pen_.cairo();
    pen_.ink(kInk);
    switch (shape) {
      case tick:
        return pen_.line({at.x, at.y - 12}, {at.x, at.y + 12}, 2.5);
      case dot:
        return point(at);
      case ring:
        cairo_new_sub_path(cr);
        cairo_arc(cr, at.x, at.y, kMark, 0, 2 * std::numbers::pi);
        return pen_.stroke(3.5);
      case triangle:
        return arrow_head(at, 0, -1);
      case diamond:
        cairo_move_to(cr, at.x, at.y - 1.4 * kMark);
        cairo_line_to(cr, at.x + kMark, at.y);
        cairo_line_to(cr, at.x, at.y + 1.4 * kMark);
        cairo_line_to(cr, at.x - kMark, at.y);
        cairo_close_path(cr);
        return cairo_fill(cr);
      case egg:
        cairo_save(cr);
        cairo_translate(cr, at.x, at.y);
        cairo_scale(cr, 0.75, 1.3);
        cairo_arc(cr, 0, 0, kMark, 0, 2 * std::numbers::pi);
        cairo_restore(cr);
        return cairo_fill(cr);
      case arrow:
        return arrow_head(at, 1, 0);
    }
  }

  // ---- Dates ----

  /// A named day or month: from its first day to before the next.
  struct Period {
    int from, to;  // days of the chart; may reach beyond it
    std::string name;
  };

  /// The first days of months from the one that holds the chart's first day to the one after its
  /// last.
  std::vector<Period> months() const {
    std::vector<Period> months;
    Date at = picture_.first - (picture_.first.day() - 1);
    while (at - picture_.first < picture_.days) {
      const Date in_next = at + 31;
      const Date next = in_next - (in_next.day() - 1);
      months.push_back({at - picture_.first, next - picture_.first,
                        kMonths[static_cast<std::size_t>(at.month() - 1)]});
      at = next;
    }
    return months;
  }

  void date_lines(double bottom) const {
    pen_.ink(kGrid);
    for (const Period& month : months()) {
      if (month.from <= 0) continue;
      const bool new_year = (picture_.first + month.from).month() == 1;
      pen_.line({x(month.from), plot_.y}, {x(month.from), bottom}, new_year ? 4 : 1.5);
    }
  }

  /// The names of days or months, and of years below.
  double dates(double bottom) const {
    const double base = bottom + 14 + kSmall * 0.8;
    if (picture_.days <= kFewDays)
      day_names(base, bottom);
    else
      month_names(base, bottom);
    int from = 0;
    pen_.ink(kInk);
    while (from < picture_.days) {
      const int year = (picture_.first + from).year();
      int to = from;
      while (to < picture_.days && (picture_.first + to).year() == year) ++to;
      const std::string name = fmt::format("{}", year);
      if (pen_.width(name, kSmall, Weight::bold) < x(to) - x(from))
        pen_.text_centred({(x(from) + x(to)) / 2, base + 10 + kSmall * (1 - Pen::kHalfCapital)},
                          name, kSmall, Weight::bold);
      from = to;
    }
    return base + kSmall * 1.6;
  }

  void month_names(double base, double bottom) const {
    pen_.ink(kInk);
    const std::vector<Period> all = months();
    const double month_width = 30.4 * plot_.width / picture_.days;
    const double room = pen_.width("Mmm", kSmall) + 8;
    int every = 1;
    for (const int step : {1, 2, 3, 6, 12}) {
      every = step;
      if (month_width * step >= room) break;
    }
    for (const Period& month : all) {
      if (month.from > 0) pen_.line({x(month.from), bottom}, {x(month.from), bottom + 9}, 3);
      if (((picture_.first + std::max(0, month.from)).month() - 1) % every != 0) continue;
      const double middle = (x(month.from) + x(month.to)) / 2;
      const double half = pen_.width(month.name, kSmall) / 2;
      if (middle - half < plot_.x - 10 || middle + half > plot_.right() + 10) continue;
      pen_.text_centred({middle, base - kSmall * Pen::kHalfCapital}, month.name, kSmall);
    }
  }

  void day_names(double base, double bottom) const {
    pen_.ink(kInk);
    const double week = 7 * plot_.width / picture_.days;
    const bool weekly = week > pen_.width("22 Mmm", kSmall) + 10;
    for (int day = 0; day < picture_.days; ++day) {
      const Date date = picture_.first + day;
      const int of_month = date.day();
      if (of_month > 22 || of_month % 7 != 1 || (!weekly && of_month % 14 != 1)) continue;
      const std::string name =
          fmt::format("{} {}", of_month, kMonths[static_cast<std::size_t>(date.month() - 1)]);
      pen_.line({x(day), bottom}, {x(day), bottom + 9}, 3);
      const double half = pen_.width(name, kSmall) / 2;
      if (x(day) + half > kPage - 10) continue;
      pen_.text_centred({x(day), base - kSmall * Pen::kHalfCapital}, name, kSmall);
    }
  }

  const Pen& pen_;
  const WeightPicture& picture_;
  Extent range_g_;
  MassUnit unit_{};
  Box plot_;
  Box scaled_;                      // without the strips for masses beyond it
  std::vector<std::string> names_;  // of the lanes
};

}  // namespace

double draw_weights(const Pen& pen, const WeightPicture& picture, double y) {
  return WeightArtist(pen, picture).draw(y);
}

}  // namespace warmside::report
