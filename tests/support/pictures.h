#pragma once
// Pictures read back: the pixels of a PNG, whether an SVG is well-formed, and names that a picture
// has to bear.

#include <cairo.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <string>
#include <string_view>
#include <vector>

#include "report/map_scale.h"
#include "report/picture.h"

namespace warmside::test {

/// A PNG, read back by Cairo.
class Pixels {
 public:
  explicit Pixels(const std::string& png) : rest_(png) {
    surface_ = cairo_image_surface_create_from_png_stream(read, &rest_);
    EXPECT_EQ(cairo_surface_status(surface_), CAIRO_STATUS_SUCCESS);
  }
  template <class Picture>
  explicit Pixels(const Picture& picture, int width_px = report::kPictureWidth_px)
      : Pixels(as_png(picture, width_px).value()) {}
  ~Pixels() { cairo_surface_destroy(surface_); }
  Pixels(const Pixels&) = delete;
  Pixels& operator=(const Pixels&) = delete;

  int width() const { return cairo_image_surface_get_width(surface_); }
  int height() const { return cairo_image_surface_get_height(surface_); }
  std::array<int, 3> at(int x, int y) const {
    const unsigned char* row =
        cairo_image_surface_get_data(surface_) +
        static_cast<std::ptrdiff_t>(y) * cairo_image_surface_get_stride(surface_);
    const std::uint32_t pixel = reinterpret_cast<const std::uint32_t*>(row)[x];
    return {static_cast<int>(pixel >> 16 & 255), static_cast<int>(pixel >> 8 & 255),
            static_cast<int>(pixel & 255)};
  }
  bool is_dark(int x, int y) const {
    const std::array<int, 3> p = at(x, y);
    return p[0] + p[1] + p[2] < 150;
  }
  bool is_white(int x, int y) const { return at(x, y) == std::array<int, 3>{255, 255, 255}; }
  /// Within two steps of 255 in each channel.
  bool is(int x, int y, const report::Colour& colour) const {
    const std::array<int, 3> p = at(x, y);
    return std::abs(p[0] - 255 * colour.red) <= 2 && std::abs(p[1] - 255 * colour.green) <= 2 &&
           std::abs(p[2] - 255 * colour.blue) <= 2;
  }
  /// How many dark runs a row has between two columns.
  int dark_runs(int y, int from, int to) const {
    int runs = 0;
    for (int x = from; x < to; ++x)
      if (is_dark(x, y) && (x == from || !is_dark(x - 1, y))) ++runs;
    return runs;
  }
  bool has_dark_row(int from, int to) const {
    for (int y = 0; y < height(); ++y) {
      int x = from;
      while (x < to && is_dark(x, y)) ++x;
      if (x == to && !is_dark(from - 8, y) && !is_dark(to + 8, y)) return true;
    }
    return false;
  }

 private:
  static cairo_status_t read(void* from, unsigned char* to, unsigned int count) {
    auto* rest = static_cast<std::string_view*>(from);
    if (rest->size() < count) return CAIRO_STATUS_READ_ERROR;
    std::copy_n(rest->data(), count, to);
    rest->remove_prefix(count);
    return CAIRO_STATUS_SUCCESS;
  }

  std::string_view rest_;
  cairo_surface_t* surface_ = nullptr;
};

/// Whether a text is well-formed as far as an SVG of ours goes: one root, tags that match, only
/// known entities, no '<' in attributes, UTF-8 without control characters.
inline testing::AssertionResult is_well_formed(const std::string& xml) {
  std::vector<std::string> open;
  int roots = 0;
  for (std::size_t i = 0; i < xml.size(); ++i) {
    const unsigned char c = static_cast<unsigned char>(xml[i]);
    if (c < 0x20 && c != '\n') return testing::AssertionFailure() << "control character at " << i;
    if (c >= 0x80) {
      const std::size_t more = c >= 0xF0 ? 3 : c >= 0xE0 ? 2 : 1;
      if (c < 0xC2 || c > 0xF4 || i + more >= xml.size())
        return testing::AssertionFailure() << "not UTF-8 at " << i;
      for (std::size_t k = 1; k <= more; ++k)
        if ((static_cast<unsigned char>(xml[i + k]) & 0xC0) != 0x80)
          return testing::AssertionFailure() << "not UTF-8 at " << i;
      i += more;
      continue;
    }
    if (c == '&') {
      const std::string entity = xml.substr(i, xml.find(';', i) - i + 1);
      if (entity != "&amp;" && entity != "&lt;" && entity != "&gt;")
        return testing::AssertionFailure() << "entity " << entity;
    }
    if (c != '<') continue;
    const std::size_t end = xml.find('>', i);
    if (end == std::string::npos) return testing::AssertionFailure() << "open tag at " << i;
    const std::string tag = xml.substr(i + 1, end - i - 1);
    if (tag.find('<') != std::string::npos)
      return testing::AssertionFailure() << "'<' in the tag " << tag;
    i = end;
    if (tag.front() == '?') continue;
    const std::string name = tag.substr(0, tag.find_first_of(" /\n", 1));
    if (tag.front() == '/') {
      if (open.empty() || "/" + open.back() != tag)
        return testing::AssertionFailure() << "unexpected " << tag;
      open.pop_back();
      continue;
    }
    roots += open.empty() ? 1 : 0;
    if (tag.back() != '/') open.push_back(name);
  }
  if (!open.empty() || roots != 1) return testing::AssertionFailure() << "not one whole root";
  return testing::AssertionSuccess();
}

/// Tags, broken UTF-8, control characters, endless names.
inline std::vector<std::string> hostile_names() {
  return {"</title><script>alert(1)</script>",
          "a & b < c > d \"e\" 'f' ]]> <!--",
          "Ω Йж \xE8\x9B\x87 \xF0\x9F\xA6\x8E e\xCC\x81",
          std::string("nul \0 bell \a escape \x1b[31m delete \x7f tab \t line\nreturn\r", 48),
          "bad \xff\xfe \xc3( \xe2\x82 \xc0\xaf \xed\xa0\x80 \xf5\x80\x80\x80 \xf4\x90\x80\x80",
          "c1 \xc2\x85 none \xef\xbf\xbe \xef\xbf\xbf cut \xe2",
          std::string(100000, 'w'),
          std::string(3000, ' '),
          "\"#image7 #surface3\""};
}

}  // namespace warmside::test
