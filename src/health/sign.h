#pragma once
// What one model of an animal's health says of it. findings() joins the signs of an animal to one
// line for the round, the page of the animal shows them all.

#include <array>
#include <string>
#include <string_view>

#include "core/words.h"

namespace warmside::health {

/// What to do, the mildest first.
enum class Response { change_nothing, watch, weigh_again, call_vet };

/// A doubtful mass is weighed again within so many days. Common practice, no source.
constexpr int kWeighAgain_d = 7;
/// Whom to call.
inline constexpr const char* kVet = "a veterinarian with reptile or amphibian experience";

struct Sign {
  Response response = Response::change_nothing;
  /// A sentence, beginning with a small letter after the animal's name: "has eaten nothing for 41
  /// days, as in one gap of 30 before".
  std::string says;
  std::string evidence;  // whole sentences: numbers with units and dates
  std::string advice;    // whole sentences; empty: nothing beyond the response
  /// What a veterinarian needs to hear: numbers and dates only, no opinion.
  std::string for_vet;
  std::string source;  // of the rule or model
  /// Whether it is worth a line on the round though nothing is wrong: a step that is offered.
  bool offers = false;
};

}  // namespace warmside::health

namespace warmside {
template <>
struct Words<health::Response> {
  static constexpr std::array<std::string_view, 4> list{"change nothing", "watch", "weigh again",
                                                        "call the vet"};
};
}  // namespace warmside
