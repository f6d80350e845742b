#pragma once
// What all pictures share: how wide they are and in which formats they are written. A picture is a
// plain struct (climate_pictures.h, weight_picture.h) with as_png() and as_svg() for it.

#include <optional>
#include <string_view>

namespace warmside::report {

/// Text is at least 26 px high at this width, and grows and shrinks with the width.
constexpr int kPictureWidth_px = 1080;
constexpr int kLeastWidth_px = 200, kMostWidth_px = 8000;

enum class PictureFormat { png, svg };

/// As the end of a file's name says; null for any but ".png" and ".svg".
inline std::optional<PictureFormat> picture_format(std::string_view file_name) {
  if (file_name.ends_with(".png")) return PictureFormat::png;
  if (file_name.ends_with(".svg")) return PictureFormat::svg;
  return std::nullopt;
}

/// A picture of either kind as a file's text.
template <class Picture>
auto as_file(const Picture& picture, PictureFormat format, int width_px) {
  return format == PictureFormat::svg ? as_svg(picture, width_px) : as_png(picture, width_px);
}

}  // namespace warmside::report
