#include "report/pen_internal.h"

#include <fmt/format.h>

#include <numbers>

#include "core/problem.h"
#include "report/clean_text.h"

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

/// Lines below y over the width of the page; returns where they end.
double draw_paragraph(const Pen& pen, const std::string& text, double size, Weight weight,
                      std::size_t most_lines, double y) {
  pen.ink(weight == Weight::bold ? kInk : kFaint);
  for (const std::string& line :
       pen.wrapped(clean(text, kLongestParagraph), kPage - 2 * kMargin, size, weight, most_lines)) {
    y += size * 1.25;
    pen.text(kMargin, y - size * 0.25, line, size, weight);
  }
  return y;
}

}  // namespace

void Surface::check() const {
  const cairo_status_t status = cairo_surface_status(get());
  if (status != CAIRO_STATUS_SUCCESS)
    throw MachineFailure(fmt::format("cannot draw: {}", cairo_status_to_string(status)));
}

Pen::Pen(const Surface& surface)
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

void Pen::check() const {
  const cairo_status_t status = cairo_status(cr_);
  if (status != CAIRO_STATUS_SUCCESS)
    throw MachineFailure(fmt::format("cannot draw: {}", cairo_status_to_string(status)));
}

void Pen::ink(const Colour& colour, double opacity) const {
  cairo_set_source_rgba(cr_, colour.red, colour.green, colour.blue, opacity);
}

void Pen::dashes(const std::vector<double>& lengths) const {
  cairo_set_dash(cr_, lengths.data(), static_cast<int>(lengths.size()), 0);
}

void Pen::stroke(double width) const {
  cairo_set_line_width(cr_, width);
  cairo_stroke(cr_);
}

void Pen::line(Point from, Point to, double width) const {
  cairo_move_to(cr_, from.x, from.y);
  cairo_line_to(cr_, to.x, to.y);
  stroke(width);
}

void Pen::rectangle(const Box& box) const {
  cairo_rectangle(cr_, box.x, box.y, box.width, box.height);
}

void Pen::fill(const Box& box, const Colour& colour, double opacity) const {
  ink(colour, opacity);
  rectangle(box);
  cairo_fill(cr_);
}

void Pen::plate(const Box& box) const {
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

double Pen::width(const std::string& text, double size, Weight weight) const {
  font(size, weight);
  cairo_text_extents_t extents;
  cairo_text_extents(cr_, text.c_str(), &extents);
  return extents.x_advance;
}

void Pen::text(double x, double y, const std::string& text, double size, Weight weight) const {
  font(size, weight);
  cairo_move_to(cr_, x, y);
  cairo_show_text(cr_, text.c_str());
}

void Pen::text_centred(Point middle, const std::string& words, double size, Weight weight) const {
  text(middle.x - width(words, size, weight) / 2, middle.y + kHalfCapital * size, words, size,
       weight);
}

void Pen::text_right(double right, double y, const std::string& words, double size) const {
  text(right - width(words, size), y, words, size);
}

void Pen::label(const Box& box, const std::string& words, Weight weight) const {
  plate(box);
  ink(kInk);
  text_centred(box.middle(), words, kSmall, weight);
}

std::string Pen::fitted(const std::string& text, double room, double size, Weight weight) const {
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

std::vector<std::string> Pen::wrapped(const std::string& text, double room, double size,
                                      Weight weight, std::size_t most) const {
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

void Pen::font(double size, Weight weight) const {
  cairo_select_font_face(
      cr_, "DejaVu Sans", CAIRO_FONT_SLANT_NORMAL,
      weight == Weight::bold ? CAIRO_FONT_WEIGHT_BOLD : CAIRO_FONT_WEIGHT_NORMAL);
  cairo_set_font_size(cr_, size);
}

double draw_titles(const Pen& pen, const std::string& title, const std::string& subtitle,
                   double y) {
  y = draw_paragraph(pen, title, kTitle, Weight::bold, 2, y);
  y = draw_paragraph(pen, subtitle, kText, Weight::normal, 5, y);
  return title.empty() && subtitle.empty() ? y : y + 28;
}

double draw_note(const Pen& pen, const std::string& note, double y) {
  if (note.empty()) return y;
  constexpr double kNearer = 24;  // to what it belongs to than the next part is
  return draw_paragraph(pen, note, kText, Weight::normal, 6, y - kNearer) + kPartGap;
}

double draw_heading(const Pen& pen, double y, const std::string& title, const std::string& note) {
  const double note_width = note.empty() ? 0 : pen.width(note, kText) + 24;
  pen.ink(kInk);
  pen.text(kMargin, y + kHeading,
           pen.fitted(clean(title), kPage - 2 * kMargin - note_width, kHeading, Weight::bold),
           kHeading, Weight::bold);
  pen.text_right(kPage - kMargin, y + kHeading, note, kText);
  return y + kHeading + 26;
}

}  // namespace warmside::report
