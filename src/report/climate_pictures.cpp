#include "report/climate_pictures.h"

#include <cairo-svg.h>
#include <cairo.h>
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <limits>
#include <memory>
#include <numbers>
#include <optional>
#include <string_view>

#if defined(__SANITIZE_ADDRESS__)
#define WS_LEAKS_ARE_LOOKED_FOR
#elif defined(__has_feature)
#if __has_feature(address_sanitizer)
#define WS_LEAKS_ARE_LOOKED_FOR
#endif
#endif
#ifdef WS_LEAKS_ARE_LOOKED_FOR
// Fontconfig links its patterns, which Cairo keeps until the process ends, by offsets instead of
// pointers; the leak checker cannot follow those and takes them for lost (about 1 kB, however much
// is drawn).
extern "C" const char* __lsan_default_suppressions();
extern "C" const char* __lsan_default_suppressions() {
  return "leak:libfontconfig";
}
extern "C" const char* __lsan_default_options();
extern "C" const char* __lsan_default_options() {
  return "print_suppressions=0";
}
#endif

namespace warmside::report {
namespace {

constexpr std::size_t kMostCells = 4'000'000;
constexpr std::size_t kMostHours = 100'000;
constexpr std::size_t kMostMarks = 50;
constexpr std::size_t kMostBands = 8;
constexpr std::size_t kMostLines = 6;
constexpr double kColdest_c = -100, kHottest_c = 200;
constexpr double kFarthest_m = 100, kSmallest_m = 0.001;

// ---- Input: is it fit to draw? ------------------------------------------------------------------

using Trouble = std::optional<Problem>;

Problem problem(ProblemCode code, std::string field, std::string what, std::string expected) {
  return {code, std::move(what), {"", 0, std::move(field)}, std::move(expected), ""};
}

bool within(double value, double low, double high) {
  return value >= low && value <= high;  // false for NaN
}

Trouble trouble_in_edges(const std::vector<double>& edges, const std::string& field) {
  if (edges.size() < 2)
    return problem(ProblemCode::missing, field, "a plane needs edges on both sides",
                   "2 edges or more");
  for (std::size_t i = 0; i < edges.size(); ++i) {
    if (!within(edges[i], -kFarthest_m, kFarthest_m))
      return problem(ProblemCode::out_of_range, field, "an edge is not a length", "-100 to 100 m");
    if (i > 0 && edges[i] <= edges[i - 1])
      return problem(ProblemCode::bad_value, field, "the edges do not ascend",
                     "each greater than the one before");
  }
  if (edges.back() - edges.front() < kSmallest_m)
    return problem(ProblemCode::out_of_range, field, "the plane is too small to draw",
                   "1 mm or more");
  return {};
}

bool is_empty(const Plane& plane) {
  return plane.x_edges_m.empty() && plane.y_edges_m.empty() && plane.value_c.empty();
}

bool is_empty(const DayStrip& day) {
  return day.hour.empty() && day.lines.empty();
}

bool is_temperature(double value_c) {
  return within(value_c, kColdest_c, kHottest_c);
}

Trouble trouble_in_plane(const Plane& plane, const std::string& field) {
  if (is_empty(plane)) return {};
  if (auto trouble = trouble_in_edges(plane.x_edges_m, field + ".x_edges_m")) return trouble;
  if (auto trouble = trouble_in_edges(plane.y_edges_m, field + ".y_edges_m")) return trouble;
  const std::size_t columns = plane.x_edges_m.size() - 1, rows = plane.y_edges_m.size() - 1;
  if (columns > kMostCells / rows)
    return problem(ProblemCode::out_of_range, field, "the plane has too many rectangles",
                   "at most 4000000");
  if (plane.value_c.size() != columns * rows)
    return problem(ProblemCode::bad_value, field + ".value_c",
                   "the count of temperatures does not match the edges",
                   fmt::format("{} ({} columns, {} rows)", columns * rows, columns, rows));
  for (const double value : plane.value_c) {
    if (!std::isnan(value) && !is_temperature(value))
      return problem(ProblemCode::out_of_range, field + ".value_c", "a temperature is out of range",
                     "-100 to 200 degC, or NaN");
  }
  return {};
}

Trouble trouble_in_marks(const std::vector<Mark>& marks, const std::string& field) {
  if (marks.size() > kMostMarks)
    return problem(ProblemCode::out_of_range, field, "too many marks", "at most 50");
  for (const Mark& mark : marks) {
    if (!within(mark.x_m, -kFarthest_m, kFarthest_m) ||
        !within(mark.y_m, -kFarthest_m, kFarthest_m))
      return problem(ProblemCode::out_of_range, field, "a mark is at no place", "-100 to 100 m");
    if (!within(mark.width_m, 0, kFarthest_m) || !within(mark.height_m, 0, kFarthest_m))
      return problem(ProblemCode::out_of_range, field, "a mark has no possible size", "0 to 100 m");
  }
  return {};
}

Trouble trouble_in_bands(const std::vector<Band>& bands, const std::string& field) {
  if (bands.size() > kMostBands)
    return problem(ProblemCode::out_of_range, field, "too many ranges", "at most 8");
  for (const Band& band : bands) {
    if (!is_temperature(band.low_c) || !is_temperature(band.high_c))
      return problem(ProblemCode::out_of_range, field, "a temperature is out of range",
                     "-100 to 200 degC");
    if (band.high_c < band.low_c)
      return problem(ProblemCode::bad_value, field, "a range ends below its start",
                     "low, then high");
  }
  return {};
}

Trouble trouble_in_day(const DayStrip& day) {
  if (is_empty(day)) return {};
  if (day.hour.size() < 2 || day.hour.size() > kMostHours)
    return problem(ProblemCode::out_of_range, "day.hour", "the count of hours cannot be drawn",
                   "2 to 100000");
  for (std::size_t i = 0; i < day.hour.size(); ++i) {
    if (!within(day.hour[i], 0, 24))
      return problem(ProblemCode::out_of_range, "day.hour", "an hour is not of the day", "0 to 24");
    if (i > 0 && day.hour[i] <= day.hour[i - 1])
      return problem(ProblemCode::bad_value, "day.hour", "the hours do not ascend",
                     "each greater than the one before");
  }
  if (day.lines.empty() || day.lines.size() > kMostLines)
    return problem(ProblemCode::out_of_range, "day.lines", "the count of lines cannot be drawn",
                   "1 to 6");
  for (const DayStrip::Line& line : day.lines) {
    if (line.value_c.size() != day.hour.size())
      return problem(ProblemCode::bad_value, "day.lines",
                     "the count of temperatures does not match the hours",
                     fmt::format("{}", day.hour.size()));
    for (const double value : line.value_c) {
      if (!std::isnan(value) && !is_temperature(value))
        return problem(ProblemCode::out_of_range, "day.lines", "a temperature is out of range",
                       "-100 to 200 degC, or NaN");
    }
  }
  return {};
}

Trouble trouble_in(const ClimatePicture& picture, int width_px) {
  if (width_px < 200 || width_px > 8000)
    return problem(ProblemCode::out_of_range, "width_px", "the picture cannot be so wide",
                   "200 to 8000");
  if (is_empty(picture.plan) && is_empty(picture.section) && is_empty(picture.day))
    return problem(ProblemCode::missing, "", "there is nothing to draw", "a map or a day");
  Trouble trouble = trouble_in_plane(picture.plan, "plan");
  if (!trouble) trouble = trouble_in_plane(picture.section, "section");
  if (!trouble) trouble = trouble_in_marks(picture.plan_marks, "plan_marks");
  if (!trouble) trouble = trouble_in_marks(picture.section_marks, "section_marks");
  if (!trouble) trouble = trouble_in_bands(picture.bands, "bands");
  if (!trouble) trouble = trouble_in_day(picture.day);
  if (!trouble) trouble = trouble_in_bands(picture.day.bands, "day.bands");
  return trouble;
}

// ---- Text ---------------------------------------------------------------------------------------

constexpr char32_t kUnreadable = 0xFFFD;

/// The character of UTF-8 (RFC 3629) at `at`, which moves behind it.
char32_t next_character(std::string_view text, std::size_t& at) {
  const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[i]); };
  const unsigned lead = byte(at++);
  if (lead < 0x80) return lead;
  const std::size_t more = lead < 0xC2   ? 0
                           : lead < 0xE0 ? 1
                           : lead < 0xF0 ? 2
                           : lead < 0xF5 ? 3
                                         : 0;
  if (more == 0 || at + more > text.size()) return kUnreadable;
  char32_t code = lead & (0x3Fu >> more);
  for (std::size_t i = 0; i < more; ++i) {
    if ((byte(at + i) & 0xC0) != 0x80) return kUnreadable;
    code = (code << 6) | (byte(at + i) & 0x3Fu);
  }
  const bool overlong = (more == 2 && code < 0x800) || (more == 3 && code < 0x10000);
  const bool surrogate = code >= 0xD800 && code < 0xE000;
  if (overlong || surrogate || code > 0x10FFFF) return kUnreadable;
  at += more;
  return code;
}

/// A name from outside as Cairo and XML take it: UTF-8 of at most 200 characters; control
/// characters become blanks, and what is no character becomes U+FFFD.
std::string clean(std::string_view text) {
  constexpr int kMostCharacters = 200;
  std::string out;
  int characters = 0;
  for (std::size_t at = 0; at < text.size();) {
    if (++characters > kMostCharacters) return out + "…";
    const std::size_t start = at;
    const char32_t code = next_character(text, at);
    const bool control = code < 0x20 || (code >= 0x7F && code < 0xA0);
    const bool none = code == kUnreadable || code == 0xFFFE || code == 0xFFFF;
    if (control || none)
      out += control ? " " : "\uFFFD";
    else
      out += text.substr(start, at - start);
  }
  return out;
}

std::string escaped(std::string_view text) {
  std::string out;
  for (const char c : text) {
    switch (c) {
      case '&':
        out += "&amp;";
        break;
      case '<':
        out += "&lt;";
        break;
      case '>':
        out += "&gt;";
        break;
      default:
        out += c;
    }
  }
  return out;
}

/// At most one decimal, none where it is a zero unless asked for; with a true minus sign.
std::string number_text(double value, int least_decimals = 0) {
  const double tenths = std::fabs(std::round(value * 10));
  const bool whole = least_decimals == 0 && std::fmod(tenths, 10) == 0;
  return (tenths > 0 && value < 0 ? "−" : "") + fmt::format("{:.{}f}", tenths / 10, whole ? 0 : 1);
}

// ---- Numbers on a scale -------------------------------------------------------------------------

/// The smallest of 0.1, 0.2, 0.5, 1, 2, 5, ... that divides `range` into at most `most` parts. In
/// tenths, so that its multiples are the nearest doubles to round numbers.
long round_step_tenths(double range, double most) {
  long step = 1;
  for (int i = 0; range * 10 > most * static_cast<double>(step); ++i)
    step = step * (i % 3 == 1 ? 5 : 4) / 2;
  return step;
}

constexpr double kSlack = 1e-9;  // so that an end which is a multiple of a step counts as one

/// The multiples of a round step from low to high.
std::vector<double> round_numbers(double low, double high, double most) {
  const long step = round_step_tenths(high - low, most);
  const double scale = static_cast<double>(step) / 10;
  std::vector<double> numbers;
  for (long k = std::lround(std::ceil(low / scale - kSlack));
       k <= std::lround(std::floor(high / scale + kSlack)); ++k)
    numbers.push_back(static_cast<double>(k * step) / 10);
  return numbers;
}

struct Range {
  double low = std::numeric_limits<double>::infinity();
  double high = -std::numeric_limits<double>::infinity();
  bool empty() const { return low > high; }
  double width() const { return high - low; }
  void add(double value) {
    if (std::isnan(value)) return;
    low = std::min(low, value);
    high = std::max(high, value);
  }
  void add(const std::vector<double>& values) {
    for (const double value : values) add(value);
  }
  void add(const std::vector<Band>& bands) {
    for (const Band& band : bands) {
      add(band.low_c);
      add(band.high_c);
    }
  }
};

/// Celsius into the room's unit and back.
struct Unit {
  UnitSystem system = UnitSystem::metric;
  double shown(double value_c) const {
    return system == UnitSystem::us ? Temperature::celsius(value_c).fahrenheit() : value_c;
  }
  double celsius(double shown) const {
    return system == UnitSystem::us ? Temperature::fahrenheit(shown).celsius() : shown;
  }
  const char* name() const { return system == UnitSystem::us ? "°F" : "°C"; }
  double length(double metres) const {
    const Length length = Length::metres(metres);
    return system == UnitSystem::us ? length.inches() : length.centimetres();
  }
  double metres(double shown) const {
    return (system == UnitSystem::us ? Length::inches(shown) : Length::centimetres(shown)).metres();
  }
  const char* length_name() const { return system == UnitSystem::us ? "in" : "cm"; }

  std::string range_text(double low_c, double high_c) const {
    return number_text(shown(low_c)) + " to " + number_text(shown(high_c));
  }
  std::string exact_range_text(double low_c, double high_c) const {
    return number_text(shown(low_c), 1) + " to " + number_text(shown(high_c), 1) + " " + name();
  }
  /// `range` widened to round numbers of the unit, at least 4 K apart.
  Range rounded(Range range_c, double most) const {
    const double middle = (range_c.low + range_c.high) / 2;
    if (range_c.width() < 4) range_c = {middle - 2, middle + 2};
    const double low = shown(range_c.low), high = shown(range_c.high);
    const double step = static_cast<double>(round_step_tenths(high - low, most)) / 10;
    return {celsius(std::floor(low / step + kSlack) * step),
            celsius(std::ceil(high / step - kSlack) * step)};
  }
};

std::string with_range(const std::string& name, const Band& band, const Unit& unit) {
  const std::string range = unit.range_text(band.low_c, band.high_c);
  return name.empty() ? range : name + " " + range;
}

// ---- Colour -------------------------------------------------------------------------------------

// The helix: lightness from low to high while the colour goes round a circle in (a, b), from blue
// by way of red to yellow. All of it lies inside sRGB (a test looks).
constexpr double kDarkest = 0.34, kLightest = 0.92;
constexpr double kMiddle_a = 0.01, kMiddle_b = -0.05, kRadius = 0.16;
constexpr double kFrom_deg = -95, kTo_deg = 105;

double srgb_encoded(double linear) {  // IEC 61966-2-1:1999, 5.2
  const double x = std::clamp(linear, 0.0, 1.0);
  return x <= 0.0031308 ? 12.92 * x : 1.055 * std::pow(x, 1 / 2.4) - 0.055;
}

double heat_lightness(double share) {
  return kDarkest + (kLightest - kDarkest) * std::clamp(share, 0.0, 1.0);
}

constexpr Colour kPaper{1, 1, 1}, kInk{0.13, 0.13, 0.15}, kFaint{0.38, 0.38, 0.41},
    kGrid{0.86, 0.86, 0.87}, kNothing{0.93, 0.93, 0.93}, kHatch{0.72, 0.72, 0.72};

// ---- Contours -----------------------------------------------------------------------------------

/// Where temperatures are known along one axis: the middles of the rectangles, and both ends so
/// that nothing is left open at the rim.
struct Nodes {
  std::vector<double> at_m;
  std::vector<std::size_t> cell;
  std::size_t size() const { return at_m.size(); }
};

Nodes nodes_along(const std::vector<double>& edges, std::size_t most_cells) {
  const std::size_t cells = edges.size() - 1, kept = std::min(cells, most_cells);
  Nodes nodes{{edges.front()}, {0}};
  for (std::size_t k = 0; k < kept; ++k) {
    const std::size_t cell = (2 * k + 1) * cells / (2 * kept);  // all of them, or evenly chosen
    nodes.at_m.push_back((edges[cell] + edges[cell + 1]) / 2);
    nodes.cell.push_back(cell);
  }
  nodes.at_m.push_back(edges.back());
  nodes.cell.push_back(cells - 1);
  return nodes;
}

/// A plane's temperatures at nodes. At the rim they go on as straight lines from the two middles
/// before it, yet never beyond what occurs inside.
class Field {
 public:
  Nodes x, y;

  Field(const Plane& plane, std::size_t most_cells)
      : x(nodes_along(plane.x_edges_m, most_cells)), y(nodes_along(plane.y_edges_m, most_cells)) {
    const std::size_t columns = plane.x_edges_m.size() - 1;
    values_.reserve(x.size() * y.size());
    for (const std::size_t row : y.cell)
      for (const std::size_t column : x.cell)
        values_.push_back(plane.value_c[row * columns + column]);
    inside_.add(values_);
    for (std::size_t row = 0; row < y.size(); ++row) extend(x, row * x.size(), 1);
    for (std::size_t column = 0; column < x.size(); ++column) extend(y, column, x.size());
  }

  double value(std::size_t row, std::size_t column) const {
    return values_[row * x.size() + column];
  }

 private:
  /// Both ends of a row or column: its values start at `first` and lie `stride` apart.
  void extend(const Nodes& nodes, std::size_t first, std::size_t stride) {
    const std::size_t last = nodes.size() - 1;
    if (last < 3) return;  // one rectangle
    const auto end = [&](std::size_t rim, std::size_t near, std::size_t far) {
      const double beyond =
          (nodes.at_m[rim] - nodes.at_m[near]) / (nodes.at_m[near] - nodes.at_m[far]);
      const double at_near = values_[first + near * stride];
      const double value = at_near + beyond * (at_near - values_[first + far * stride]);
      if (std::isnan(value)) return;
      values_[first + rim * stride] = std::clamp(value, inside_.low, inside_.high);
    };
    end(0, 1, 2);
    end(last, last - 1, last - 2);
  }

  std::vector<double> values_;
  Range inside_;
};

/// Marching squares. Every edge between two nodes has a number; a line through a square goes from
/// the edge where the way round the square (anticlockwise) leaves the warm side to the edge where
/// it comes back to it. In the neighbour the same edge plays the other part, so lines join up.
class Tracer {
 public:
  Tracer(const Field& field, double level_c)
      : field_(field), level_c_(level_c), next_(2 * field.x.size() * field.y.size(), kNone) {}

  std::vector<Contour> lines() {
    for (std::size_t row = 0; row + 1 < field_.y.size(); ++row)
      for (std::size_t column = 0; column + 1 < field_.x.size(); ++column) cross(row, column);
    std::vector<bool> entered(next_.size(), false);
    for (const std::size_t edge : next_)
      if (edge != kNone) entered[edge] = true;
    std::vector<Contour> lines;
    for (const bool closed : {false, true})  // first from the open ends, then what is left
      for (std::size_t edge = 0; edge < next_.size(); ++edge)
        if (next_[edge] != kNone && (closed || !entered[edge]))
          lines.push_back(follow(edge, closed));
    return lines;
  }

 private:
  static constexpr std::size_t kNone = std::numeric_limits<std::size_t>::max();

  std::size_t across(std::size_t row, std::size_t column) const {
    return row * field_.x.size() + column;
  }
  std::size_t upward(std::size_t row, std::size_t column) const {
    return field_.x.size() * field_.y.size() + across(row, column);
  }

  void cross(std::size_t row, std::size_t column) {
    const std::array<double, 4> corner{field_.value(row, column), field_.value(row, column + 1),
                                       field_.value(row + 1, column + 1),
                                       field_.value(row + 1, column)};
    const double middle = (corner[0] + corner[1] + corner[2] + corner[3]) / 4;
    if (std::isnan(middle)) return;
    const std::array<std::size_t, 4> edge{across(row, column), upward(row, column + 1),
                                          across(row + 1, column), upward(row, column)};
    const auto warm = [&](std::size_t k) { return corner[k % 4] >= level_c_; };
    for (std::size_t k = 0; k < 4; ++k) {
      if (!warm(k) || warm(k + 1)) continue;
      // Back by the nearest edge that returns to the warm side; in a saddle the middle decides
      // which of two that is.
      std::size_t back = (k + 1) % 4;
      const bool saddle = warm(k + 2) && !warm(k + 3);
      if (saddle && middle < level_c_) back = (k + 3) % 4;
      while (!saddle && !(!warm(back) && warm(back + 1))) back = (back + 1) % 4;
      next_[edge[k]] = edge[back];
    }
  }

  Contour follow(std::size_t edge, bool closed) {
    Contour line{{}, closed};
    while (edge != kNone) {
      const std::size_t after = next_[edge];
      if (closed && after == kNone) break;  // round once
      line.points.push_back(place(edge));
      next_[edge] = kNone;
      edge = after;
    }
    return line;
  }

  Point place(std::size_t edge) const {
    const bool up = edge >= field_.x.size() * field_.y.size();
    const std::size_t node = up ? edge - field_.x.size() * field_.y.size() : edge;
    const std::size_t row = node / field_.x.size(), column = node % field_.x.size();
    const double from = field_.value(row, column);
    const double to = up ? field_.value(row + 1, column) : field_.value(row, column + 1);
    const double part = (level_c_ - from) / (to - from);
    const double x = field_.x.at_m[column], y = field_.y.at_m[row];
    return up ? Point{x, y + part * (field_.y.at_m[row + 1] - y)}
              : Point{x + part * (field_.x.at_m[column + 1] - x), y};
  }

  const Field& field_;
  double level_c_;
  std::vector<std::size_t> next_;  // the edge that follows each edge along a line
};

constexpr std::size_t kMostNodes = 300;  // finer than can be seen at 3 px each

// ---- Drawing ------------------------------------------------------------------------------------

// The page is laid out at 1080 px; everything below is in these.
constexpr double kPage = kPictureWidth_px, kMargin = 40;
constexpr double kMapLeft = 140, kMapRight = kPage - kMargin, kMapHighest = 900;
constexpr double kTitle = 46, kHeading = 34, kText = 28, kSmall = 26;

struct Surface {
  std::unique_ptr<cairo_surface_t, decltype(&cairo_surface_destroy)> owned;
  explicit Surface(cairo_surface_t* surface) : owned(surface, &cairo_surface_destroy) { check(); }
  cairo_surface_t* get() const { return owned.get(); }
  void check() const {
    const cairo_status_t status = cairo_surface_status(get());
    if (status != CAIRO_STATUS_SUCCESS)
      throw MachineFailure(fmt::format("cannot draw: {}", cairo_status_to_string(status)));
  }
};

struct Box {
  double x = 0, y = 0, width = 0, height = 0;
  double right() const { return x + width; }
  double bottom() const { return y + height; }
  Point middle() const { return {x + width / 2, y + height / 2}; }
  bool overlaps(const Box& other) const {
    return x < other.right() && other.x < right() && y < other.bottom() && other.y < bottom();
  }
  bool contains(const Box& other) const {
    return x <= other.x && y <= other.y && other.right() <= right() && other.bottom() <= bottom();
  }
  Box grown(double by) const { return {x - by, y - by, width + 2 * by, height + 2 * by}; }
  static Box around(Point middle, double width, double height) {
    return {middle.x - width / 2, middle.y - height / 2, width, height};
  }
  Box moved_into(const Box& frame) const {
    return {std::max(frame.x, std::min(x, frame.right() - width)),
            std::max(frame.y, std::min(y, frame.bottom() - height)), width, height};
  }
};

enum class Weight { normal, bold };

/// A thin layer over Cairo: colours, text, strokes.
class Pen {
 public:
  explicit Pen(const Surface& surface)
      : owned_(cairo_create(surface.get()), &cairo_destroy), cr_(owned_.get()) {
    // Without hints text has the same shape and width at every scale and on every desktop.
    cairo_font_options_t* options = cairo_font_options_create();
    cairo_font_options_set_hint_style(options, CAIRO_HINT_STYLE_NONE);
    cairo_font_options_set_hint_metrics(options, CAIRO_HINT_METRICS_OFF);
    cairo_font_options_set_antialias(options, CAIRO_ANTIALIAS_GRAY);
    cairo_set_font_options(cr_, options);
    cairo_font_options_destroy(options);
    cairo_set_line_join(cr_, CAIRO_LINE_JOIN_ROUND);
  }

  cairo_t* cairo() const { return cr_; }

  void check() const {
    const cairo_status_t status = cairo_status(cr_);
    if (status != CAIRO_STATUS_SUCCESS)
      throw MachineFailure(fmt::format("cannot draw: {}", cairo_status_to_string(status)));
  }

  void ink(const Colour& colour, double opacity = 1) const {
    cairo_set_source_rgba(cr_, colour.red, colour.green, colour.blue, opacity);
  }
  void dashes(const std::vector<double>& lengths) const {
    cairo_set_dash(cr_, lengths.data(), static_cast<int>(lengths.size()), 0);
  }
  void stroke(double width) const {
    cairo_set_line_width(cr_, width);
    cairo_stroke(cr_);
  }
  void line(Point from, Point to, double width) const {
    cairo_move_to(cr_, from.x, from.y);
    cairo_line_to(cr_, to.x, to.y);
    stroke(width);
  }
  void rectangle(const Box& box) const {
    cairo_rectangle(cr_, box.x, box.y, box.width, box.height);
  }
  void fill(const Box& box, const Colour& colour, double opacity = 1) const {
    ink(colour, opacity);
    rectangle(box);
    cairo_fill(cr_);
  }
  /// Lighter ground for words on a map.
  void plate(const Box& box) const {
    constexpr double kCorner = 7, kQuarter = std::numbers::pi / 2;
    cairo_new_sub_path(cr_);
    cairo_arc(cr_, box.right() - kCorner, box.y + kCorner, kCorner, -kQuarter, 0);
    cairo_arc(cr_, box.right() - kCorner, box.bottom() - kCorner, kCorner, 0, kQuarter);
    cairo_arc(cr_, box.x + kCorner, box.bottom() - kCorner, kCorner, kQuarter, 2 * kQuarter);
    cairo_arc(cr_, box.x + kCorner, box.y + kCorner, kCorner, 2 * kQuarter, 3 * kQuarter);
    cairo_close_path(cr_);
    ink(kPaper, 0.9);
    cairo_fill(cr_);
  }

  double width(const std::string& text, double size, Weight weight = Weight::normal) const {
    font(size, weight);
    cairo_text_extents_t extents;
    cairo_text_extents(cr_, text.c_str(), &extents);
    return extents.x_advance;
  }
  /// The text's left end at x, its base line at y.
  void text(double x, double y, const std::string& text, double size,
            Weight weight = Weight::normal) const {
    font(size, weight);
    cairo_move_to(cr_, x, y);
    cairo_show_text(cr_, text.c_str());
  }
  void text_centred(Point middle, const std::string& words, double size,
                    Weight weight = Weight::normal) const {
    text(middle.x - width(words, size, weight) / 2, middle.y + kHalfCapital * size, words, size,
         weight);
  }
  void text_right(double right, double y, const std::string& words, double size) const {
    text(right - width(words, size), y, words, size);
  }

  /// As much of a text as fits, with an ellipsis where something is cut.
  std::string fitted(const std::string& text, double room, double size,
                     Weight weight = Weight::normal) const {
    if (width(text, size, weight) <= room) return text;
    std::string kept = text;
    while (!kept.empty()) {
      while (!kept.empty() && (static_cast<unsigned char>(kept.back()) & 0xC0) == 0x80)
        kept.pop_back();
      if (!kept.empty()) kept.pop_back();
      if (width(kept + "…", size, weight) <= room) break;
    }
    return kept + "…";
  }

  /// The text over at most `most` lines, broken at blanks.
  std::vector<std::string> wrapped(const std::string& text, double room, double size, Weight weight,
                                   std::size_t most) const {
    std::vector<std::string> lines;
    std::size_t start = 0;
    while (start < text.size()) {
      std::size_t end = text.size();
      if (lines.size() + 1 < most)
        while (width(text.substr(start, end - start), size, weight) > room) {
          const std::size_t blank = text.find_last_of(' ', end - 1);
          if (blank == std::string::npos || blank <= start) break;
          end = blank;
        }
      lines.push_back(fitted(text.substr(start, end - start), room, size, weight));
      start = end + (end < text.size() ? 1 : 0);
    }
    return lines;
  }

  static constexpr double kHalfCapital = 0.365;  // of the font's size: DejaVu's capitals are 0.73

 private:
  void font(double size, Weight weight) const {
    cairo_select_font_face(
        cr_, "DejaVu Sans", CAIRO_FONT_SLANT_NORMAL,
        weight == Weight::bold ? CAIRO_FONT_WEIGHT_BOLD : CAIRO_FONT_WEIGHT_NORMAL);
    cairo_set_font_size(cr_, size);
  }

  std::unique_ptr<cairo_t, decltype(&cairo_destroy)> owned_;
  cairo_t* cr_;
};

/// The scale from colour to temperature, and its numbers.
struct HeatScale {
  Range range_c;
  Unit unit;
  bool cut = false;  // there are hotter places than its end
  double share(double value_c) const { return (value_c - range_c.low) / range_c.width(); }
  Colour colour(double value_c) const { return heat_colour(share(value_c)); }
  /// What stands out against the colour of a temperature.
  Colour line_on(double value_c) const {
    constexpr double kTurn = 0.6;  // in OKLab lightness
    return heat_lightness(share(value_c)) < kTurn ? kPaper : kInk;
  }
  std::vector<double> numbers_c(const Range& within_c, double most) const {
    std::vector<double> numbers =
        round_numbers(unit.shown(within_c.low), unit.shown(within_c.high), most);
    for (double& number : numbers) number = unit.celsius(number);
    return numbers;
  }
};

/// Bands may touch the frame of a day, lines keep off it.
Range range_of(const DayStrip& day) {
  Range lines;
  for (const DayStrip::Line& line : day.lines) lines.add(line.value_c);
  const double clear = lines.empty() ? 0 : 0.04 * lines.width();
  Range range{lines.low - clear, lines.high + clear};
  range.add(day.bands);
  return range;
}

HeatScale scale_of(const ClimatePicture& picture) {
  Range range;
  range.add(picture.plan.value_c);
  range.add(picture.section.value_c);
  if (!is_empty(picture.plan) || !is_empty(picture.section)) range.add(picture.bands);
  if (range.empty()) range = range_of(picture.day);
  if (range.empty()) range = {20, 30};  // nothing is known; no colour will be seen
  const bool cut = picture.hottest_colour_c && *picture.hottest_colour_c > range.low &&
                   *picture.hottest_colour_c < range.high;
  if (cut) range.high = *picture.hottest_colour_c;
  const Unit unit{picture.units};
  return {unit.rounded(range, 12), unit, cut};
}

/// A plane's place on the page.
struct Frame {
  Box box;
  double left_m, bottom_m, px_per_m_x, px_per_m_y;
  Point at(Point metres) const {
    return {box.x + (metres.x - left_m) * px_per_m_x,
            box.bottom() - (metres.y - bottom_m) * px_per_m_y};
  }
};

/// A contour on the page, measured along its length.
struct Track {
  std::vector<Point> points;
  std::vector<double> way;  // from the start
  bool closed = false;
  double length() const { return way.back(); }
  Point at(double along) const {
    const auto after = std::upper_bound(way.begin(), way.end(), along);
    if (after == way.end()) return points.back();
    if (after == way.begin()) return points.front();
    const std::size_t i = static_cast<std::size_t>(after - way.begin());
    const double part = (along - way[i - 1]) / (way[i] - way[i - 1]);
    return {std::lerp(points[i - 1].x, points[i].x, part),
            std::lerp(points[i - 1].y, points[i].y, part)};
  }
};

double distance(Point a, Point b) {
  return std::hypot(b.x - a.x, b.y - a.y);
}

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

/// An edge of a preferred range, or a round number, as a level on the maps.
struct Level {
  double value_c;
  enum Kind { round, lower_edge, upper_edge } kind = round;
  std::string name;  // of the range
};

struct Contours {
  Level level;
  std::vector<Track> tracks;
};

/// The name of a mark or a band, placed.
struct Name {
  Box box;
  std::string words;
};

class Artist {
 public:
  Artist(const ClimatePicture& picture, const HeatScale& scale, const Surface& surface,
         double page_scale, double map_fineness)
      : picture_(picture), scale_(scale), pen_(surface), map_fineness_(map_fineness) {
    cairo_scale(pen_.cairo(), page_scale, page_scale);
  }

  /// Draws everything and returns the height it took.
  double draw() {
    pen_.ink(kPaper);
    cairo_paint(pen_.cairo());
    double y = titles(kMargin);
    y = maps(y);
    if (!is_empty(picture_.plan) || !is_empty(picture_.section)) y = colour_bar(y);
    if (!is_empty(picture_.day)) y = day(y);
    pen_.check();
    return y - kPartGap + kMargin;
  }

 private:
  static constexpr double kPartGap = 44;

  double titles(double y) {
    const auto lines = [&](const std::string& text, double size, Weight weight, Colour colour,
                           int most) {
      for (const std::string& line :
           pen_.wrapped(clean(text), kPage - 2 * kMargin, size, weight, most)) {
        pen_.ink(colour);
        y += size * 1.25;
        pen_.text(kMargin, y - size * 0.25, line, size, weight);
      }
    };
    lines(picture_.title, kTitle, Weight::bold, kInk, 2);
    lines(picture_.subtitle, kText, Weight::normal, kFaint, 5);
    return picture_.title.empty() && picture_.subtitle.empty() ? y : y + 28;
  }

  // -- Maps --

  double maps(double y) {
    // One scale for both, so that they can be compared and lie above each other.
    double px_per_m = std::numeric_limits<double>::infinity();
    for (const Plane* plane : {&picture_.plan, &picture_.section}) {
      if (is_empty(*plane)) continue;
      px_per_m = std::min(
          {px_per_m, (kMapRight - kMapLeft) / width_m(*plane), kMapHighest / height_m(*plane)});
    }
    if (!is_empty(picture_.plan)) y = map(picture_.plan, picture_.plan_marks, px_per_m, y);
    if (!is_empty(picture_.section)) y = map(picture_.section, picture_.section_marks, px_per_m, y);
    return y;
  }

  static double width_m(const Plane& plane) {
    return plane.x_edges_m.back() - plane.x_edges_m.front();
  }
  static double height_m(const Plane& plane) {
    return plane.y_edges_m.back() - plane.y_edges_m.front();
  }

  double map(const Plane& plane, const std::vector<Mark>& marks, double px_per_m, double y) {
    Range range;
    range.add(plane.value_c);
    y = heading(y, plane.title,
                range.empty() ? "" : scale_.unit.exact_range_text(range.low, range.high));
    Frame frame;
    frame.box.width = std::max(160.0, std::round(width_m(plane) * px_per_m));
    frame.box.height = std::max(80.0, std::round(height_m(plane) * px_per_m));
    frame.box.x = std::round((kMapLeft + kMapRight - frame.box.width) / 2);
    frame.box.y = std::round(y);
    frame.left_m = plane.x_edges_m.front();
    frame.bottom_m = plane.y_edges_m.front();
    frame.px_per_m_x = frame.box.width / width_m(plane);
    frame.px_per_m_y = frame.box.height / height_m(plane);

    cairo_t* cr = pen_.cairo();
    cairo_save(cr);
    pen_.rectangle(frame.box);
    cairo_clip(cr);
    ground(frame.box);
    colours(plane, frame.box);
    const std::vector<Contours> lines = contours(plane, range, frame);
    cairo_restore(cr);
    outlines(marks, frame);
    const std::vector<Name> names = names_of(marks, frame);
    contour_numbers(lines, marks, names, frame);
    for (const Name& name : names) write(name.box, name.words, Weight::normal);

    pen_.ink(kInk);
    pen_.rectangle(frame.box);
    pen_.stroke(3);
    return rulers(plane, frame) + kPartGap;
  }

  double heading(double y, const std::string& title, const std::string& note) {
    const double note_width = note.empty() ? 0 : pen_.width(note, kText) + 24;
    pen_.ink(kInk);
    pen_.text(kMargin, y + kHeading,
              pen_.fitted(clean(title), kPage - 2 * kMargin - note_width, kHeading, Weight::bold),
              kHeading, Weight::bold);
    pen_.text_right(kPage - kMargin, y + kHeading, note, kText);
    return y + kHeading + 26;
  }

  /// What is seen where nothing is: grey with slanting lines.
  void ground(const Box& box) const {
    pen_.fill(box, kNothing);
    pen_.ink(kHatch);
    for (double x = box.x - box.height; x < box.right(); x += 16)
      pen_.line({x, box.bottom()}, {x + box.height, box.y}, 2);
  }

  /// Which nodes lie on both sides of the middle of a pixel, how near the second is, and the
  /// rectangle that holds it.
  struct Place {
    std::size_t node, cell;
    double part;
  };
  static std::vector<Place> places_along(const std::vector<double>& edges, const Nodes& nodes,
                                         int pixels) {
    std::vector<Place> places;
    std::size_t node = 0, cell = 0;
    for (int i = 0; i < pixels; ++i) {
      const double at = std::lerp(edges.front(), edges.back(), (i + 0.5) / pixels);
      while (node + 2 < nodes.size() && nodes.at_m[node + 1] <= at) ++node;
      while (cell + 2 < edges.size() && edges[cell + 1] <= at) ++cell;
      const double gap = nodes.at_m[node + 1] - nodes.at_m[node];
      places.push_back({node, cell, gap > 0 ? (at - nodes.at_m[node]) / gap : 0});
    }
    return places;
  }

  void colours(const Plane& plane, const Box& box) const {
    const int width = std::max(1, static_cast<int>(std::lround(box.width * map_fineness_)));
    const int height = std::max(1, static_cast<int>(std::lround(box.height * map_fineness_)));
    const Field field(plane, kMostCells);
    const std::vector<Place> across = places_along(plane.x_edges_m, field.x, width);
    const std::vector<Place> up = places_along(plane.y_edges_m, field.y, height);
    const std::vector<std::uint32_t> shades = pixel_shades();
    const std::size_t columns = plane.x_edges_m.size() - 1;

    const Surface image(cairo_image_surface_create(CAIRO_FORMAT_ARGB32, width, height));
    cairo_surface_flush(image.get());
    unsigned char* bytes = cairo_image_surface_get_data(image.get());
    const int stride = cairo_image_surface_get_stride(image.get());
    for (int row = 0; row < height; ++row) {
      auto* pixels =
          reinterpret_cast<std::uint32_t*>(bytes + static_cast<std::ptrdiff_t>(row) * stride);
      const Place& y = up[static_cast<std::size_t>(height - 1 - row)];
      for (int column = 0; column < width; ++column) {
        const Place& x = across[static_cast<std::size_t>(column)];
        const bool nothing = std::isnan(plane.value_c[y.cell * columns + x.cell]);
        pixels[column] = nothing ? 0 : shades[shade_index(value_at(field, x, y), shades.size())];
      }
    }
    cairo_surface_mark_dirty(image.get());

    cairo_t* cr = pen_.cairo();
    cairo_save(cr);
    cairo_translate(cr, box.x, box.y);
    cairo_scale(cr, box.width / width, box.height / height);
    cairo_set_source_surface(cr, image.get(), 0, 0);
    cairo_paint(cr);
    cairo_restore(cr);
  }

  /// Bilinear between the four nodes around; those where nothing is do not count.
  static double value_at(const Field& field, const Place& x, const Place& y) {
    double sum = 0, weights = 0;
    for (const std::size_t up : {0, 1})
      for (const std::size_t right : {0, 1}) {
        const double value = field.value(y.node + up, x.node + right);
        const double weight = (up ? y.part : 1 - y.part) * (right ? x.part : 1 - x.part);
        if (std::isnan(value)) continue;
        sum += weight * value;
        weights += weight;
      }
    return sum / weights;
  }

  std::vector<std::uint32_t> pixel_shades() const {
    constexpr std::size_t kShades = 2048;
    std::vector<std::uint32_t> shades(kShades);
    const auto byte = [](double part) {
      return static_cast<std::uint32_t>(std::lround(part * 255));
    };
    for (std::size_t i = 0; i < kShades; ++i) {
      const Colour colour = heat_colour(static_cast<double>(i) / (kShades - 1));
      shades[i] =
          0xFF000000u | byte(colour.red) << 16 | byte(colour.green) << 8 | byte(colour.blue);
    }
    return shades;
  }
  std::size_t shade_index(double value_c, std::size_t shades) const {
    const double share = std::clamp(scale_.share(value_c), 0.0, 1.0);
    return static_cast<std::size_t>(std::lround(share * static_cast<double>(shades - 1)));
  }

  // -- Lines of equal temperature --

  std::vector<Level> levels(const Range& range) const {
    std::vector<Level> levels;
    for (const Band& band : picture_.bands) {
      if (!band.preferred) continue;
      levels.push_back({band.low_c, Level::lower_edge, clean(band.name)});
      levels.push_back({band.high_c, Level::upper_edge, clean(band.name)});
    }
    // Above the last colour one line would lie on the next.
    const Range coloured{range.low, std::max(range.low, std::min(range.high, scale_.range_c.high))};
    const std::vector<double> numbers_c = scale_.numbers_c(coloured, 10);
    const double step = numbers_c.size() < 2 ? 0 : numbers_c[1] - numbers_c[0];
    const std::vector<Level> edges = levels;
    for (const double value_c : numbers_c) {  // those close to an edge would blur it
      const bool is_free = std::none_of(edges.begin(), edges.end(), [&](const Level& edge) {
        return std::fabs(edge.value_c - value_c) < std::max(0.3 * step, 1e-9);
      });
      if (is_free) levels.push_back({value_c, Level::round, ""});
    }
    return levels;
  }

  /// Draws the lines, thin ones below heavy ones.
  std::vector<Contours> contours(const Plane& plane, const Range& range, const Frame& frame) const {
    constexpr double kShortest = 15;  // less is a speck
    std::vector<Contours> all;
    if (range.empty()) return all;
    for (const Level& level : levels(range)) {
      all.push_back({level, {}});
      for (const Contour& contour : contours_of(plane, level.value_c)) {
        Track track = track_of(contour, frame);
        if (track.length() >= kShortest) all.back().tracks.push_back(std::move(track));
      }
    }
    for (const bool heavy : {false, true})
      for (const Contours& contours : all)
        if (heavy == (contours.level.kind != Level::round))
          for (const Track& track : contours.tracks) contour_line(track, contours.level);
    return all;
  }

  void trace(const Track& track) const {
    cairo_t* cr = pen_.cairo();
    for (const Point& point : track.points) cairo_line_to(cr, point.x, point.y);
    if (track.closed) cairo_close_path(cr);
  }

  void contour_line(const Track& track, const Level& level) const {
    const Colour colour = scale_.line_on(level.value_c);
    if (level.kind == Level::round) {
      pen_.ink(colour, 0.85);
      trace(track);
      pen_.stroke(2.5);
      return;
    }
    pen_.ink(colour);
    trace(track);
    pen_.stroke(7);
    // Ticks towards the inside: the warmer side, which is on the left, for a lower edge.
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

  /// What stands on a map already: numbers keep off it, and rather off the outlines.
  struct Ground {
    Box frame;
    std::vector<Box> taken, outlines;
  };

  /// The numbers on the lines; those of heavy lines, which come first, choose their place first.
  void contour_numbers(const std::vector<Contours>& all, const std::vector<Mark>& marks,
                       const std::vector<Name>& names, const Frame& frame) const {
    Ground ground{frame.box.grown(-6), {}, {}};
    for (const Name& name : names) ground.taken.push_back(name.box);
    for (const Mark& mark : marks) {
      const Box box = mark_box(mark, frame);
      if (is_probe(mark)) {
        ground.taken.push_back(box.grown(16));
        continue;
      }
      for (const Box& side :
           {Box{box.x, box.y, box.width, 0}, Box{box.x, box.bottom(), box.width, 0},
            Box{box.x, box.y, 0, box.height}, Box{box.right(), box.y, 0, box.height}})
        ground.outlines.push_back(side.grown(6));
    }
    for (const Contours& contours : all)
      for (const Track& track : contours.tracks) contour_number(track, contours.level, ground);
  }

  /// Long lines get several numbers, and the line of an edge the name of its range.
  void contour_number(const Track& track, const Level& level, Ground& ground) const {
    const double length = track.length();
    if (length < 110) return;
    const bool heavy = level.kind != Level::round;
    const Weight weight = heavy ? Weight::bold : Weight::normal;
    const std::string number = number_text(scale_.unit.shown(level.value_c)) + "°";
    const std::string named = number + " " + pen_.fitted(level.name, 220, kSmall, weight);
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
  bool place_number(const Track& track, double from, double to, const std::string& words,
                    Weight weight, Ground& ground) const {
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
    write(*best, words, weight);
    return true;
  }

  static bool overlaps_any(const Box& box, const std::vector<Box>& others) {
    return std::any_of(others.begin(), others.end(),
                       [&](const Box& other) { return other.overlaps(box); });
  }

  void write(const Box& box, const std::string& words, Weight weight) const {
    pen_.plate(box);
    pen_.ink(kInk);
    pen_.text_centred(box.middle(), words, kSmall, weight);
  }

  // -- Marks --

  static bool is_probe(const Mark& mark) { return mark.width_m <= 0 && mark.height_m <= 0; }

  /// Its place on the page, cut off at the edges of the map; thin things keep some thickness.
  static Box mark_box(const Mark& mark, const Frame& frame) {
    constexpr double kThinnest = 8;
    const Box& all = frame.box;
    const Point low = frame.at({mark.x_m, mark.y_m});
    const Point high = frame.at({mark.x_m + mark.width_m, mark.y_m + mark.height_m});
    const double left = std::clamp(low.x, all.x, all.right());
    const double right = std::clamp(high.x, all.x, all.right());
    const double top = std::clamp(high.y, all.y, all.bottom());
    const double bottom = std::clamp(low.y, all.y, all.bottom());
    if (is_probe(mark)) return Box::around({left, top}, 0, 0);
    return Box::around({(left + right) / 2, (top + bottom) / 2}, std::max(right - left, kThinnest),
                       std::max(bottom - top, kThinnest))
        .moved_into(all);
  }

  void outlines(const std::vector<Mark>& marks, const Frame& frame) const {
    for (const Mark& mark : marks) {
      const Box box = mark_box(mark, frame);
      if (is_probe(mark)) {
        constexpr double kArm = 13;
        for (const bool under : {true, false}) {
          const double arm = under ? kArm + 3 : kArm;
          pen_.ink(under ? kPaper : kInk);
          pen_.line({box.x - arm, box.y}, {box.x + arm, box.y}, under ? 10 : 4);
          pen_.line({box.x, box.y - arm}, {box.x, box.y + arm}, under ? 10 : 4);
        }
        continue;
      }
      pen_.ink(kPaper, 0.9);
      pen_.rectangle(box.grown(-2));
      pen_.stroke(7);
      pen_.ink(kInk);
      pen_.dashes({16, 10});
      pen_.rectangle(box.grown(-2));
      pen_.stroke(4);
      pen_.dashes({});
    }
  }

  /// A place for every name: near its mark, clear of the other names and of the probes.
  std::vector<Name> names_of(const std::vector<Mark>& marks, const Frame& frame) const {
    std::vector<Box> taken;
    for (const Mark& mark : marks)
      if (is_probe(mark)) taken.push_back(mark_box(mark, frame).grown(16));
    const Box inside = frame.box.grown(-6);
    std::vector<Name> names;
    for (const Mark& mark : marks) {
      const std::string words =
          pen_.fitted(clean(mark.name), std::min(420.0, inside.width - 14), kSmall);
      if (words.empty()) continue;
      const double width = pen_.width(words, kSmall) + 14, height = kSmall + 10;
      std::vector<Box> places;
      for (const Point& point : name_places(mark_box(mark, frame), is_probe(mark), width, height))
        places.push_back(Box::around(point, width, height).moved_into(inside));
      const auto free = std::find_if(places.begin(), places.end(),
                                     [&](const Box& box) { return !overlaps_any(box, taken); });
      names.push_back({free == places.end() ? places.front() : *free, words});
      taken.push_back(names.back().box);
    }
    return names;
  }

  /// Middles of places for a name of this size, best first: within a large outline, then around.
  static std::vector<Point> name_places(const Box& mark, bool probe, double width, double height) {
    const double gap = probe ? 20 : 8;
    const Point middle = mark.middle();
    const double right = mark.right() + gap + width / 2, left = mark.x - gap - width / 2;
    const double above = mark.y - gap - height / 2, below = mark.bottom() + gap + height / 2;
    std::vector<Point> places;
    if (mark.width > width + 20 && mark.height > height + 20)
      places = {{middle.x, mark.y + 10 + height / 2},
                {middle.x, mark.bottom() - 10 - height / 2},
                middle};
    for (const Point& place : {Point{right, middle.y}, Point{left, middle.y},
                               Point{middle.x, below}, Point{middle.x, above}, Point{right, below},
                               Point{right, above}, Point{left, below}, Point{left, above}})
      places.push_back(place);
    return places;
  }

  // -- Rulers --

  /// Lengths along the left and lower side; returns where they end.
  double rulers(const Plane& plane, const Frame& frame) const {
    const Unit& unit = scale_.unit;
    const Box& box = frame.box;
    pen_.ink(kInk);
    const auto numbers = [&](const std::vector<double>& edges, double pixels) {
      constexpr double kApart = 90;
      return round_numbers(unit.length(edges.front()), unit.length(edges.back()),
                           std::max(1.0, pixels / kApart));
    };
    const double base = box.bottom() + 14 + kSmall * 0.8;
    for (const double number : numbers(plane.x_edges_m, box.width)) {
      const double x = frame.at({unit.metres(number), 0}).x;
      pen_.line({x, box.bottom()}, {x, box.bottom() + 9}, 3);
      pen_.text_centred({x, base - kSmall * Pen::kHalfCapital}, number_text(number), kSmall);
    }
    double widest = 0;
    for (const double number : numbers(plane.y_edges_m, box.height)) {
      const double y = frame.at({0, unit.metres(number)}).y;
      const std::string text = number_text(number);
      pen_.line({box.x - 9, y}, {box.x, y}, 3);
      pen_.text_right(box.x - 16, y + kSmall * Pen::kHalfCapital, text, kSmall);
      widest = std::max(widest, pen_.width(text, kSmall));
    }
    const auto label = [&](const std::string& words, double room) {
      return pen_.fitted(
          words.empty() ? unit.length_name() : clean(words) + ", " + unit.length_name(), room,
          kSmall);
    };
    pen_.ink(kFaint);
    pen_.text_centred({box.middle().x, base + 8 + kSmall * 0.7},
                      label(plane.x_label, kMapRight - kMapLeft), kSmall);
    cairo_t* cr = pen_.cairo();
    cairo_save(cr);
    cairo_translate(cr, box.x - 16 - widest - 10 - kSmall * 0.5, box.middle().y);
    cairo_rotate(cr, -std::numbers::pi / 2);
    pen_.text_centred({0, 0}, label(plane.y_label, box.height + 60), kSmall);
    cairo_restore(cr);
    return base + kSmall * 1.5;
  }

  // -- The scale --

  double colour_bar(double y) {
    y = heading(y, std::string("Scale, ") + scale_.unit.name(),
                scale_.cut ? "hotter places: the last colour" : "");
    const Box bar{kMargin, y, kPage - 2 * kMargin, 40};
    cairo_pattern_t* run = cairo_pattern_create_linear(bar.x, 0, bar.right(), 0);
    constexpr int kStops = 64;
    for (int i = 0; i <= kStops; ++i) {
      const Colour colour = heat_colour(static_cast<double>(i) / kStops);
      cairo_pattern_add_color_stop_rgb(run, static_cast<double>(i) / kStops, colour.red,
                                       colour.green, colour.blue);
    }
    cairo_t* cr = pen_.cairo();
    cairo_set_source(cr, run);
    cairo_pattern_destroy(run);
    pen_.rectangle(bar);
    cairo_fill(cr);
    pen_.ink(kInk);
    pen_.rectangle(bar);
    pen_.stroke(3);
    const auto at = [&](double value_c) { return bar.x + scale_.share(value_c) * bar.width; };
    for (const double value_c : scale_.numbers_c(scale_.range_c, 12)) {
      const double x = at(value_c);
      pen_.line({x, bar.bottom()}, {x, bar.bottom() + 9}, 3);
      pen_.text_centred({x, bar.bottom() + 28}, number_text(scale_.unit.shown(value_c)), kSmall);
    }
    return brackets(bar.bottom() + 56, at) + kPartGap;
  }

  /// The wanted ranges as brackets with their names, in as many rows as keep them apart.
  template <class At>
  double brackets(double y, At at) const {
    constexpr double kRow = 62, kWidest = 700;
    std::vector<double> row_ends;
    std::vector<Band> bands = picture_.bands;
    std::stable_sort(bands.begin(), bands.end(),
                     [](const Band& a, const Band& b) { return a.low_c < b.low_c; });
    for (const Band& band : bands) {
      const double left = at(band.low_c), right = at(band.high_c);
      const Weight weight = band.preferred ? Weight::bold : Weight::normal;
      const std::string words =
          with_range(pen_.fitted(clean(band.name), kWidest, kSmall, weight), band, scale_.unit);
      const double width = pen_.width(words, kSmall, weight);
      const double start = std::clamp((left + right - width) / 2, kMargin, kPage - kMargin - width);
      std::size_t row = 0;
      while (row < row_ends.size() && row_ends[row] + 28 > std::min(left, start)) ++row;
      if (row == row_ends.size()) row_ends.push_back(0);
      row_ends[row] = std::max(right, start + width);
      const double top = y + static_cast<double>(row) * kRow;
      pen_.ink(kInk);
      cairo_t* cr = pen_.cairo();
      cairo_move_to(cr, left, top);
      cairo_line_to(cr, left, top + 14);
      cairo_line_to(cr, right, top + 14);
      cairo_line_to(cr, right, top);
      pen_.stroke(band.preferred ? 7 : 3);
      pen_.text(start, top + 14 + 8 + kSmall, words, kSmall, weight);
    }
    return y + static_cast<double>(row_ends.size()) * kRow;
  }

  // -- The day --

  struct DayFrame {
    Box box;
    Range range_c;
    double x(double hour) const { return box.x + box.width * hour / 24; }
    double y(double value_c) const {
      return box.bottom() - box.height * (value_c - range_c.low) / range_c.width();
    }
  };

  static std::vector<double> dashes_of(std::size_t line) {
    static const std::array<std::vector<double>, kMostLines> kDashes{
        {{}, {18, 9}, {3, 8}, {26, 8, 4, 8}, {9, 7}, {26, 7, 4, 7, 4, 7}}};
    return kDashes[line];
  }
  static Colour ink_of(std::size_t line) {
    static constexpr std::array<Colour, kMostLines> kInks{{{0.13, 0.13, 0.15},
                                                           {0.60, 0.11, 0.16},
                                                           {0.10, 0.27, 0.60},
                                                           {0.36, 0.15, 0.50},
                                                           {0.08, 0.37, 0.27},
                                                           {0.47, 0.28, 0.05}}};
    return kInks[line];
  }

  double day(double y) {
    const DayStrip& day = picture_.day;
    y = heading(y, day.title, scale_.unit.name());
    std::vector<std::string> names;
    double name_width = 0;
    for (const DayStrip::Line& line : day.lines) {
      names.push_back(pen_.fitted(clean(line.name), 240, kSmall));
      name_width = std::max(name_width, pen_.width(names.back(), kSmall));
    }
    Range range = range_of(day);
    if (range.empty()) range = scale_.range_c;  // lines without any value
    DayFrame frame;
    const double left = kMargin + 64;
    frame.box = {left, y + 8, kPage - kMargin - name_width - kSample - 24 - left, 440};
    frame.range_c = scale_.unit.rounded(range, kDaySteps);

    day_grid(frame);
    cairo_t* cr = pen_.cairo();
    cairo_save(cr);
    pen_.rectangle(frame.box);
    cairo_clip(cr);
    for (const Band& band : day.bands) shade(band, frame);
    for (std::size_t i = 0; i < day.lines.size(); ++i) day_line(day.lines[i], i, frame);
    cairo_restore(cr);
    pen_.ink(kInk);
    for (const Name& name : band_names(frame))
      pen_.text_centred(name.box.middle(), name.words, kSmall);
    pen_.rectangle(frame.box);
    pen_.stroke(3);
    line_names(names, frame);
    return day_numbers(frame) + kPartGap;
  }

  static constexpr double kDaySteps = 10;
  static constexpr double kSample = 44;  // of each line's dashes, before its name

  void day_grid(const DayFrame& frame) const {
    pen_.ink(kGrid);
    for (int hour = 3; hour < 24; hour += 3)
      pen_.line({frame.x(hour), frame.box.y}, {frame.x(hour), frame.box.bottom()},
                hour % 6 == 0 ? 3 : 1.5);
    for (const double value_c : scale_.numbers_c(frame.range_c, kDaySteps))
      pen_.line({frame.box.x, frame.y(value_c)}, {frame.box.right(), frame.y(value_c)}, 1.5);
  }

  double day_numbers(const DayFrame& frame) const {
    pen_.ink(kInk);
    for (const double value_c : scale_.numbers_c(frame.range_c, kDaySteps)) {
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
    const double top = frame.y(band.high_c), bottom = frame.y(band.low_c);
    return {frame.box.x, top, frame.box.width, bottom - top};
  }

  /// A wash of the range's colour on the scale, with fine lines at its edges.
  void shade(const Band& band, const DayFrame& frame) const {
    const Box box = band_box(band, frame);
    pen_.fill(box, scale_.colour((band.low_c + band.high_c) / 2), 0.22);
    pen_.ink(kFaint);
    for (const double y : {box.y, box.bottom()})
      pen_.line({box.x, y}, {box.right(), y}, band.preferred ? 4 : 2);
  }

  /// Where the bands' names fit best: within their band, clear of the lines and of each other.
  std::vector<Name> band_names(const DayFrame& frame) const {
    std::vector<Name> names;
    for (const Band& band : picture_.day.bands) {
      const std::string words = pen_.fitted(clean(band.name), 420, kSmall);
      const double width = pen_.width(words, kSmall) + 16, height = kSmall + 6;
      const Box all = band_box(band, frame);
      const double high = std::max(all.y, frame.box.y) + height / 2 + 2;
      const double low = std::max(high, all.bottom() - height / 2 - 2);
      Name best{{}, words};
      double least = std::numeric_limits<double>::infinity();
      for (const double y : {high, (high + low) / 2, low})
        for (double x = frame.box.x + 6; x + width <= frame.box.right() - 6; x += 20) {
          const Box box = Box::around({x + width / 2, y}, width, height).moved_into(frame.box);
          double cost = (x - frame.box.x) / 1000 + 4 * crossings(box, frame);
          for (const Name& other : names) cost += other.box.overlaps(box) ? 1000 : 0;
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
    const std::vector<double>& hours = picture_.day.hour;
    const std::size_t step = std::max<std::size_t>(1, hours.size() / 96);
    for (const DayStrip::Line& line : picture_.day.lines)
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
      const double x = frame.x(picture_.day.hour[i]), value = line.value_c[i];
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
      const std::vector<double>& values = picture_.day.lines[i].value_c;
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

  const ClimatePicture& picture_;
  const HeatScale& scale_;
  Pen pen_;
  double map_fineness_;  // pixels of a map's image for each of the page
};

// ---- Files --------------------------------------------------------------------------------------

/// Drawn once on a single pixel.
double page_height(const ClimatePicture& picture, const HeatScale& scale) {
  const Surface surface(cairo_image_surface_create(CAIRO_FORMAT_ARGB32, 1, 1));
  return std::ceil(Artist(picture, scale, surface, 1, 0.01).draw());
}

cairo_status_t append(void* text, const unsigned char* bytes, unsigned int count) {
  static_cast<std::string*>(text)->append(reinterpret_cast<const char*>(bytes), count);
  return CAIRO_STATUS_SUCCESS;
}

/// Cairo numbers surfaces and images through the life of the process; here they count from 0, so
/// that equal pictures are equal files.
std::string renumbered(const std::string& svg) {
  std::string out;
  std::vector<std::string> met;
  std::size_t copied = 0;
  const auto is_digit = [](char c) { return c >= '0' && c <= '9'; };
  for (std::size_t at = svg.find_first_of("\"#"); at != std::string::npos;
       at = svg.find_first_of("\"#", at + 1)) {
    for (const std::string_view kind : {"surface", "image"}) {
      const std::size_t number = at + 1 + kind.size();
      if (svg.compare(at + 1, kind.size(), kind) != 0 || !is_digit(svg[number])) continue;
      std::size_t end = number;
      while (is_digit(svg[end])) ++end;
      const std::string name = svg.substr(at + 1, end - at - 1);
      const auto known = std::find(met.begin(), met.end(), name);
      out.append(svg, copied, number - copied).append(fmt::format("{}", known - met.begin()));
      if (known == met.end()) met.push_back(name);
      copied = end;
    }
  }
  return out.append(svg, copied);
}

/// What the picture shows, in words.
std::string in_words(const ClimatePicture& picture, const Unit& unit) {
  std::string words = clean(picture.subtitle);
  const auto add = [&](const std::string& sentence) {
    words += (words.empty() ? "" : "\n") + sentence;
  };
  const auto span = [&](const std::string& name, const std::vector<double>& values) {
    Range range;
    range.add(values);
    add(clean(name) + ": " +
        (range.empty() ? "no temperature" : unit.exact_range_text(range.low, range.high)));
  };
  for (const Plane* plane : {&picture.plan, &picture.section})
    if (!is_empty(*plane)) span(plane->title, plane->value_c);
  for (const Band& band : picture.bands)
    add("Wanted: " + with_range(clean(band.name), band, unit) + " " + unit.name());
  for (const DayStrip::Line& line : picture.day.lines)
    span(picture.day.title + ", " + line.name, line.value_c);
  return words;
}

}  // namespace

Colour heat_colour(double share) {
  const double along = std::isnan(share) ? 0 : std::clamp(share, 0.0, 1.0);
  const double angle = (kFrom_deg + (kTo_deg - kFrom_deg) * along) * std::numbers::pi / 180;
  const double L = heat_lightness(along);
  const double a = kMiddle_a + kRadius * std::cos(angle);
  const double b = kMiddle_b + kRadius * std::sin(angle);
  // OKLab to linear sRGB: Ottosson 2020, the function oklab_to_linear_srgb.
  const double l = std::pow(L + 0.3963377774 * a + 0.2158037573 * b, 3);
  const double m = std::pow(L - 0.1055613458 * a - 0.0638541728 * b, 3);
  const double s = std::pow(L - 0.0894841775 * a - 1.2914855480 * b, 3);
  return {srgb_encoded(4.0767416621 * l - 3.3077115913 * m + 0.2309699292 * s),
          srgb_encoded(-1.2684380046 * l + 2.6097574011 * m - 0.3413193965 * s),
          srgb_encoded(-0.0041960863 * l - 0.7034186147 * m + 1.7076147010 * s)};
}

std::vector<Contour> contours_of(const Plane& plane, double level_c) {
  const Field field(plane, kMostNodes);
  return Tracer(field, level_c).lines();
}

Result<std::string> as_png(const ClimatePicture& picture, int width_px) {
  if (auto trouble = trouble_in(picture, width_px)) return *trouble;
  const HeatScale scale = scale_of(picture);
  const double times = width_px / kPage;
  const int height_px = static_cast<int>(std::ceil(page_height(picture, scale) * times));
  const Surface surface(cairo_image_surface_create(CAIRO_FORMAT_RGB24, width_px, height_px));
  Artist(picture, scale, surface, times, times).draw();
  std::string png;
  const cairo_status_t status = cairo_surface_write_to_png_stream(surface.get(), append, &png);
  if (status != CAIRO_STATUS_SUCCESS)
    throw MachineFailure(fmt::format("cannot write a PNG: {}", cairo_status_to_string(status)));
  return png;
}

Result<std::string> as_svg(const ClimatePicture& picture, int width_px) {
  if (auto trouble = trouble_in(picture, width_px)) return *trouble;
  const HeatScale scale = scale_of(picture);
  const double times = width_px / kPage;
  std::string svg;
  {
    const Surface surface(cairo_svg_surface_create_for_stream(
        append, &svg, width_px, std::ceil(page_height(picture, scale) * times)));
    cairo_svg_surface_set_document_unit(surface.get(), CAIRO_SVG_UNIT_PX);
    Artist(picture, scale, surface, times, 1).draw();
    cairo_surface_finish(surface.get());
    surface.check();
  }
  svg = renumbered(svg);
  const std::size_t start = svg.find("<svg ");
  const std::size_t inside = start == std::string::npos ? start : svg.find('>', start);
  WS_CHECK(inside != std::string::npos);
  svg.insert(inside + 1, "\n<title>" + escaped(clean(picture.title)) + "</title>\n<desc>" +
                             escaped(in_words(picture, scale.unit)) + "</desc>");
  svg.insert(start + 5, "role=\"img\" ");
  return svg;
}

}  // namespace warmside::report
