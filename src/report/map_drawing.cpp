#include "report/map_drawing.h"

#include <cairo.h>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <numbers>
#include <string>
#include <vector>

#include "report/clean_text.h"
#include "report/contour_drawing.h"
#include "report/pen_internal.h"
#include "report/plane_field.h"
#include "report/shapes.h"

namespace warmside::report {
namespace {

constexpr double kMapLeft = 140, kMapRight = kPage - kMargin, kMapHighest = 900;
constexpr Colour kNothing{0.93, 0.93, 0.93}, kHatch{0.72, 0.72, 0.72};

double width_m(const Plane& plane) {
  return plane.x_edges_m.back() - plane.x_edges_m.front();
}

double height_m(const Plane& plane) {
  return plane.y_edges_m.back() - plane.y_edges_m.front();
}

/// One scale for all maps, so that they can be compared and lie above each other.
double px_per_m_of(const ClimatePicture& picture) {
  double px_per_m = std::numeric_limits<double>::infinity();
  for (const Plane* plane :
       {&picture.plan, &picture.uv_plan, &picture.section, &picture.uv_section}) {
    if (is_empty(*plane)) continue;
    px_per_m = std::min(
        {px_per_m, (kMapRight - kMapLeft) / width_m(*plane), kMapHighest / height_m(*plane)});
  }
  return px_per_m;
}

/// Draws maps of one kind, of temperature or of UV.
class MapArtist {
 public:
  MapArtist(const Pen& pen, const std::vector<Band>& bands, const MapScale& scale, double fineness)
      : pen_(pen), bands_(bands), scale_(scale), fineness_(fineness) {}

  double map(const Plane& plane, const std::vector<Mark>& marks, double px_per_m, double y) const {
    Extent range;
    range.add(plane.value);
    y = draw_heading(pen_, y, plane.title, scale_.unit.extent_text(range));
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
    const ContourDrawing contours(pen_, scale_);
    const std::vector<Contours> lines = contours.lines(plane, range, bands_, frame);
    cairo_restore(cr);
    outlines(marks, frame);
    const std::vector<PlacedName> names = names_of(marks, frame);
    contours.numbers(lines, taken_ground(marks, names, frame));
    for (const PlacedName& name : names) pen_.label(name.box, name.words, Weight::normal);

    pen_.ink(kInk);
    pen_.rectangle(frame.box);
    pen_.stroke(3);
    return rulers(plane, frame) + kPartGap;
  }

 private:
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
    const int width = std::max(1, static_cast<int>(std::lround(box.width * fineness_)));
    const int height = std::max(1, static_cast<int>(std::lround(box.height * fineness_)));
    const Field field(plane);
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
        const bool nothing = std::isnan(plane.value[y.cell * columns + x.cell]);
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
      const Colour colour = scale_.colour_at(static_cast<double>(i) / (kShades - 1));
      shades[i] =
          0xFF000000u | byte(colour.red) << 16 | byte(colour.green) << 8 | byte(colour.blue);
    }
    return shades;
  }
  std::size_t shade_index(double value, std::size_t shades) const {
    const double share = std::clamp(scale_.share(value), 0.0, 1.0);
    return static_cast<std::size_t>(std::lround(share * static_cast<double>(shades - 1)));
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
  std::vector<PlacedName> names_of(const std::vector<Mark>& marks, const Frame& frame) const {
    std::vector<Box> taken;
    for (const Mark& mark : marks)
      if (is_probe(mark)) taken.push_back(mark_box(mark, frame).grown(16));
    const Box inside = frame.box.grown(-6);
    std::vector<PlacedName> names;
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

  /// Where names and marks stand already.
  static Ground taken_ground(const std::vector<Mark>& marks, const std::vector<PlacedName>& names,
                             const Frame& frame) {
    Ground ground{frame.box.grown(-6), {}, {}};
    for (const PlacedName& name : names) ground.taken.push_back(name.box);
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
    return ground;
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

  const Pen& pen_;
  const std::vector<Band>& bands_;
  const MapScale& scale_;
  double fineness_;
};

}  // namespace

double draw_maps(const Pen& pen, const ClimatePicture& picture, const MapScales& scales,
                 double fineness, double y) {
  const MapArtist heat(pen, picture.bands, scales.heat, fineness);
  const MapArtist uv(pen, picture.uv_bands, scales.uv, fineness);
  const double px_per_m = px_per_m_of(picture);
  const auto heat_map = [&](const Plane& plane, const std::vector<Mark>& marks) {
    if (!is_empty(plane)) y = heat.map(plane, marks, px_per_m, y);
  };
  const auto uv_map = [&](const Plane& plane, std::vector<Mark> marks,
                          const std::vector<Mark>& more, bool is_last) {
    if (is_empty(plane)) return;
    marks.insert(marks.end(), more.begin(), more.end());
    y = uv.map(plane, marks, px_per_m, y);
    if (is_last) y = draw_note(pen, picture.uv_note, y);
  };
  heat_map(picture.plan, picture.plan_marks);
  uv_map(picture.uv_plan, picture.plan_marks, picture.uv_plan_marks, is_empty(picture.uv_section));
  heat_map(picture.section, picture.section_marks);
  uv_map(picture.uv_section, picture.section_marks, picture.uv_section_marks, true);
  return y;
}

}  // namespace warmside::report
