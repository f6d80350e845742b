#include "report/trace_report.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <map>

#include "report/json_parts.h"

namespace warmside::report {
namespace {

using hygiene::CarrierName;

constexpr std::string_view kKinds[] = {"animal", "enclosure", "tool", "hands"};
std::string_view kind_of(const CarrierName& name) {
  return kKinds[static_cast<std::size_t>(name.kind)];
}

std::string called(const CarrierName& name) {
  return name.kind == CarrierName::Kind::animal ? name.id
                                                : fmt::format("{} {}", kind_of(name), name.id);
}

std::vector<std::string_view> words_of(const std::vector<hygiene::Organism>& organisms) {
  std::vector<std::string_view> words;
  for (const hygiene::Organism organism : organisms) words.push_back(word(organism));
  return words;
}

/// What could not be used, each kind once with how often and when last.
void put_unknown(const std::vector<hygiene::UnknownContact>& unknown, const Zone& zone,
                 Sheet& sheet) {
  std::map<std::string, std::pair<int, Instant>> kinds;
  for (const hygiene::UnknownContact& one : unknown) {
    auto& [count, last] = kinds[one.what];
    ++count;
    last = one.at;
  }
  for (const auto& [what, kind] : kinds) {
    sheet.line(fmt::format("Not used: {}; {} {}.", what,
                           kind.first == 1 ? "on" : fmt::format("{} times, last on", kind.first),
                           to_text(zone.date_of(kind.second))),
               2, 2, Tone::faint);
  }
}

/// Whether its chain needs hands or air.
bool is_weak(const hygiene::Exposure& exposure) {
  return std::any_of(exposure.chain.begin(), exposure.chain.end(), [](const auto& step) {
    return step.by == hygiene::Way::hands || step.by == hygiene::Way::air;
  });
}

void put_exposure(const hygiene::Exposure& exposure, const hygiene::TraceQuestion& question,
                  const Zone& zone, Sheet& sheet) {
  const bool all = exposure.organisms.size() == hygiene::kOrganisms || question.organism;
  sheet.line(
      fmt::format(
          "{}, {}, {:.2g}{}", exposure.animal, zone.wall_text(exposure.at), exposure.weight,
          all ? "" : fmt::format("; only {}", fmt::join(words_of(exposure.organisms), ", "))),
      0, 2, Tone::strong);
  for (const hygiene::ExposureStep& step : exposure.chain) {
    sheet.line(fmt::format("{}  {} -> {}, {}", zone.wall_text(step.at), called(step.from),
                           called(step.to), word(step.by)),
               4, 18);
  }
}

constexpr const char* kTraceCaution =
    "Strongest chain first; the numbers give the order in which to look, they are no chances. What "
    "nobody wrote down is not seen. Whether anything passed, only a test tells: ask a veterinarian "
    "with reptile or amphibian experience.";
constexpr const char* kAhead =
    "Until tests say otherwise serve them after all others, with their own tools, and count their "
    "quarantine from the day of the chain on.";
constexpr const char* kBack =
    "Have the first of them looked at and tested first, and serve them after all others until "
    "then.";

}  // namespace

std::string trace_as_text(const hygiene::Traced& traced, const hygiene::TraceQuestion& question,
                          const Zone& zone, const SheetStyle& style) {
  const bool ahead = question.direction == hygiene::Direction::ahead;
  Sheet sheet(style);
  sheet.line(fmt::format(fmt::runtime(ahead ? "Exposed to {} from {} on{}"
                                            : "Where {} can have got it by {}{}"),
                         question.animal, zone.wall_text(question.at),
                         question.organism ? fmt::format(", {}", word(*question.organism)) : ""),
             0, 0, Tone::strong);
  if (traced.exposed.empty()) {
    sheet.line(ahead ? "No other animal, by what the notebook says."
                     : "From no other animal, by what the notebook says.",
               2);
  }
  std::string weak;
  for (const hygiene::Exposure& exposure : traced.exposed) {
    if (is_weak(exposure)) {
      weak += fmt::format("{}{} ({})", weak.empty() ? "" : ", ", exposure.animal,
                          to_text(zone.date_of(exposure.at)));
    } else {
      put_exposure(exposure, question, zone, sheet);
    }
  }
  if (!weak.empty()) {
    sheet.line(
        fmt::format("Weaker, by hands or the air of a rack: {}. --json has the chains.", weak), 0,
        2);
  }
  put_unknown(traced.unknown, zone, sheet);
  sheet.blank();
  if (!traced.exposed.empty()) sheet.line(ahead ? kAhead : kBack);
  sheet.line(kTraceCaution, 0, 0, Tone::faint);
  return sheet.text();
}

std::string trace_as_json(const hygiene::Traced& traced, const hygiene::TraceQuestion& question) {
  const bool ahead = question.direction == hygiene::Direction::ahead;
  Json exposed = Json::array(), unknown = Json::array();
  for (const hygiene::Exposure& exposure : traced.exposed) {
    Json chain = Json::array();
    for (const hygiene::ExposureStep& step : exposure.chain) {
      chain.push_back({{"time", to_text(step.at)},
                       {"by", word(step.by)},
                       {"from", step.from.id},
                       {"from_kind", kind_of(step.from)},
                       {"to", step.to.id},
                       {"to_kind", kind_of(step.to)}});
    }
    exposed.push_back({{"animal", exposure.animal},
                       {"at", to_text(exposure.at)},
                       {"chain", std::move(chain)},
                       {"weight", exposure.weight},
                       {"organisms", words_of(exposure.organisms)}});
  }
  for (const hygiene::UnknownContact& one : traced.unknown) {
    unknown.push_back({{"at", to_text(one.at)}, {"what", one.what}});
  }
  return dumped({{"animal", question.animal},
                 {"at", to_text(question.at)},
                 {"direction", ahead ? "ahead" : "back"},
                 {"organism", question.organism ? Json(word(*question.organism)) : Json(nullptr)},
                 {"exposed", std::move(exposed)},
                 {"unknown", std::move(unknown)},
                 {"caution", kTraceCaution}});
}

}  // namespace warmside::report
