#include "room/construction.h"

#include "core/letters.h"

namespace warmside::room {
namespace {

constexpr std::size_t kMostLayers = 12;
constexpr std::size_t kLongestMaterial = 32;
constexpr Length kThickest = Length::metres(10);

bool is_digit(char c) {
  return c >= '0' && c <= '9';
}

}  // namespace

Result<Construction> parse_construction(std::string_view text) {
  const auto bad = [&](std::string what) {
    return Problem{ProblemCode::bad_value,
                   std::move(what),
                   {},
                   "layers from the inside out, such as \"cork 20mm + glass 4mm\"",
                   shown(text)};
  };
  Construction construction;
  for (std::size_t at = 0; at <= text.size();) {
    const auto plus = std::min(text.find('+', at), text.size());
    const std::string_view part = trimmed(text.substr(at, plus - at));
    at = plus + 1;
    // The thickness begins at the last word that begins with a digit: "4mm" or "4 mm".
    auto space = part.find_last_of(' ');
    if (space != std::string_view::npos && space > 0 && !is_digit(part[space + 1])) {
      space = part.find_last_of(' ', space - 1);
    }
    if (space == std::string_view::npos) return bad("a layer without its thickness");
    const std::string_view material = trimmed(part.substr(0, space));
    if (material.size() > kLongestMaterial ||
        material.find_first_not_of("abcdefghijklmnopqrstuvwxyz0123456789 _-") !=
            std::string_view::npos) {
      return bad("not a material (small letters, digits, spaces, _ and -)");
    }
    const auto thickness = parse<Length>(part.substr(space + 1));
    if (!thickness) return bad(thickness.problem().what);
    if (*thickness <= Length::metres(0)) return bad("a layer of no thickness");
    // Surely a slip; and its text would have an exponent with a '+' in it.
    if (*thickness > kThickest) return bad("a layer of more than 10 m");
    construction.layers.push_back({std::string(material), *thickness});
    if (construction.layers.size() > kMostLayers) return bad("more than 12 layers");
  }
  return construction;
}

std::string to_text(const Construction& construction, UnitSystem units) {
  std::string text;
  for (const Layer& layer : construction.layers) {
    if (!text.empty()) text += " + ";
    text += layer.material + " " + warmside::to_text(layer.thickness, units);
  }
  return text;
}

}  // namespace warmside::room
