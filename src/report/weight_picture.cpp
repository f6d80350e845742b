#include "report/weight_picture.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <utility>

#include "core/problem.h"
#include "report/clean_text.h"
#include "report/drawn_page.h"
#include "report/pen_internal.h"
#include "report/weight_drawing.h"

namespace warmside::report {
namespace {

constexpr int kMostDays = 5000;
constexpr std::size_t kMostEvents = 5000, kMostMoments = 20'000, kMostLanes = 20;
constexpr double kMostMass_g = 1e9;

// ---- Input: is it fit to draw? ------------------------------------------------------------------

using Trouble = std::optional<Problem>;

Problem problem(ProblemCode code, std::string field, std::string what, std::string expected) {
  return {code, std::move(what), {"", 0, std::move(field)}, std::move(expected), ""};
}

bool is_mass(Mass mass) {
  return mass.grams() > 0 && mass.grams() <= kMostMass_g;  // false for NaN
}

bool is_day(double day, const WeightPicture& picture) {
  return day >= 0 && day <= picture.days;
}

Trouble trouble_in_masses(const WeightPicture& picture) {
  if (picture.weighings.size() > kMostEvents)
    return problem(ProblemCode::out_of_range, "weighings", "too many weighings", "at most 5000");
  if (picture.course.size() > kMostMoments)
    return problem(ProblemCode::out_of_range, "course", "too many moments", "at most 20000");
  const auto no_mass = [](const char* field) {
    return problem(ProblemCode::out_of_range, field, "not a mass", "above 0, at most 1000000 kg");
  };
  const auto no_day = [](const char* field) {
    return problem(ProblemCode::out_of_range, field, "a day outside the chart", "0 to days");
  };
  for (const WeightPicture::Weighing& weighing : picture.weighings) {
    if (!is_day(weighing.day, picture)) return no_day("weighings");
    if (!is_mass(weighing.mass)) return no_mass("weighings");
  }
  double before = 0;
  for (const WeightPicture::Moment& moment : picture.course) {
    if (!is_day(moment.day, picture)) return no_day("course");
    if (moment.day < before)
      return problem(ProblemCode::bad_value, "course", "the days fall",
                     "none before the one before");
    before = moment.day;
    if (!is_mass(moment.mass) || !is_mass(moment.low) || !is_mass(moment.high))
      return no_mass("course");
    if (moment.low > moment.mass || moment.mass > moment.high)
      return problem(ProblemCode::bad_value, "course", "a mass outside its interval",
                     "low, mass, high");
  }
  if (picture.reference && !is_mass(*picture.reference)) return no_mass("reference");
  return {};
}

Trouble trouble_in_lanes(const WeightPicture& picture) {
  if (picture.lanes.size() > kMostLanes)
    return problem(ProblemCode::out_of_range, "lanes", "too many lanes", "at most 20");
  for (const WeightPicture::Lane& lane : picture.lanes) {
    if (lane.events.size() > kMostEvents || lane.bars.size() > kMostEvents)
      return problem(ProblemCode::out_of_range, "lanes", "too many events", "at most 5000");
    const bool inside =
        is_day(lane.known_from, picture) &&
        std::all_of(lane.events.begin(), lane.events.end(),
                    [&](double day) { return is_day(day, picture); }) &&
        std::all_of(lane.bars.begin(), lane.bars.end(), [&](const WeightPicture::Bar& bar) {
          return is_day(bar.from, picture) && is_day(bar.to, picture);
        });
    if (!inside)
      return problem(ProblemCode::out_of_range, "lanes", "a day outside the chart", "0 to days");
    for (const WeightPicture::Bar& bar : lane.bars) {
      if (bar.to < bar.from)
        return problem(ProblemCode::bad_value, "lanes", "a bar ends before it begins", "from, to");
    }
  }
  return {};
}

Trouble trouble_in(const WeightPicture& picture, int width_px) {
  if (auto trouble = trouble_in_width(width_px)) return trouble;
  if (picture.weighings.empty() && picture.course.empty() && picture.lanes.empty())
    return problem(ProblemCode::missing, "", "there is nothing to draw", "a weighing or an event");
  if (picture.days < 1 || picture.days > kMostDays)
    return problem(ProblemCode::out_of_range, "days", "the chart cannot be so long", "1 to 5000");
  if (auto trouble = trouble_in_masses(picture)) return trouble;
  return trouble_in_lanes(picture);
}

// ---- In words -----------------------------------------------------------------------------------

std::string in_words(const WeightPicture& picture) {
  const auto date = [&](double day) {
    const int whole = std::min(static_cast<int>(day), picture.days - 1);
    return to_text(picture.first + whole);
  };
  const auto mass = [&](Mass value) { return for_people(value, picture.units); };
  std::string words = clean(picture.subtitle, kLongestParagraph);
  const auto add = [&](const std::string& sentence) {
    words += (words.empty() ? "" : "\n") + sentence;
  };
  add(fmt::format("From {} to {}.", date(0), date(picture.days)));
  for (const WeightPicture::Weighing& weighing : picture.weighings) {
    add(fmt::format("Weighed {} on {}{}.", mass(weighing.mass), date(weighing.day),
                    weighing.believed ? "" : ", not believed"));
  }
  if (!picture.course.empty()) {
    const WeightPicture::Moment& end = picture.course.back();
    add(fmt::format("Empty body on {}: {}, 90 % interval {} to {}.", date(end.day), mass(end.mass),
                    mass(end.low), mass(end.high)));
  }
  if (picture.reference) add("Reference: " + clean(picture.reference_words) + ".");
  for (const WeightPicture::Lane& lane : picture.lanes) {
    if (!lane.events.empty()) {
      const double latest = *std::max_element(lane.events.begin(), lane.events.end());
      add(fmt::format("{}: {}, the latest on {}.", clean(lane.name), lane.events.size(),
                      date(latest)));
    }
    for (const WeightPicture::Bar& bar : lane.bars) {
      add(fmt::format("{}: {} to {}.", clean(lane.name), date(bar.from), date(bar.to)));
    }
  }
  return words;
}

/// The page of a picture, which must outlive it.
Page page_of(const WeightPicture& picture) {
  const auto draw = [&picture](const Pen& pen, double) {
    const double y = draw_titles(pen, picture.title, picture.subtitle, kMargin);
    return draw_weights(pen, picture, y);
  };
  return {draw, picture.title, in_words(picture)};
}

}  // namespace

Result<std::string> as_png(const WeightPicture& picture, int width_px) {
  if (auto trouble = trouble_in(picture, width_px)) return *trouble;
  return page_as_png(page_of(picture), width_px);
}

Result<std::string> as_svg(const WeightPicture& picture, int width_px) {
  if (auto trouble = trouble_in(picture, width_px)) return *trouble;
  return page_as_svg(page_of(picture), width_px);
}

}  // namespace warmside::report
