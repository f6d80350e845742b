#include "report/drawn_page.h"

#include <cairo-svg.h>
#include <cairo.h>
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <string_view>
#include <vector>

#include "core/check.h"
#include "report/clean_text.h"

namespace warmside::report {
namespace {

/// Draws everything and returns the height it took.
double draw(const Page& page, const Surface& surface, double page_scale, double fineness) {
  const Pen pen(surface);
  cairo_scale(pen.cairo(), page_scale, page_scale);
  pen.ink(kPaper);
  cairo_paint(pen.cairo());
  const double end = page.draw(pen, fineness);
  pen.check();
  return end + kMargin;
}

/// Drawn once on a single pixel.
double page_height(const Page& page) {
  const Surface surface(cairo_image_surface_create(CAIRO_FORMAT_ARGB32, 1, 1));
  return std::ceil(draw(page, surface, 1, 0.01));
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

}  // namespace

std::optional<Problem> trouble_in_width(int width_px) {
  if (width_px >= kLeastWidth_px && width_px <= kMostWidth_px) return std::nullopt;
  return Problem{ProblemCode::out_of_range,
                 "the picture cannot be so wide",
                 {"", 0, "width_px"},
                 "200 to 8000",
                 ""};
}

std::string page_as_png(const Page& page, int width_px) {
  const double times = width_px / kPage;
  const int height_px = static_cast<int>(std::ceil(page_height(page) * times));
  const Surface surface(cairo_image_surface_create(CAIRO_FORMAT_RGB24, width_px, height_px));
  draw(page, surface, times, times);
  std::string png;
  const cairo_status_t status = cairo_surface_write_to_png_stream(surface.get(), append, &png);
  if (status != CAIRO_STATUS_SUCCESS)
    throw MachineFailure(fmt::format("cannot write a PNG: {}", cairo_status_to_string(status)));
  return png;
}

std::string page_as_svg(const Page& page, int width_px) {
  const double times = width_px / kPage;
  std::string svg;
  {
    const Surface surface(cairo_svg_surface_create_for_stream(
        append, &svg, width_px, std::ceil(page_height(page) * times)));
    cairo_svg_surface_set_document_unit(surface.get(), CAIRO_SVG_UNIT_PX);
    draw(page, surface, times, 1);
    cairo_surface_finish(surface.get());
    surface.check();
  }
  svg = renumbered(svg);
  const std::size_t start = svg.find("<svg ");
  const std::size_t inside = start == std::string::npos ? start : svg.find('>', start);
  WS_CHECK(inside != std::string::npos);
  svg.insert(inside + 1, "\n<title>" + escaped(clean(page.title)) + "</title>\n<desc>" +
                             escaped(page.words) + "</desc>");
  svg.insert(start + 5, "role=\"img\" ");
  return svg;
}

}  // namespace warmside::report
