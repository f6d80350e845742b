#include "report/animal_picture.h"

#include <fmt/format.h>

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <span>

#include "core/problem.h"
#include "health/animal_weight.h"
#include "species/care_rules.h"

namespace warmside::report {
namespace {

using room::Entry;
using room::EntryKind;
using Shape = WeightPicture::Shape;

/// As many days as a day recalls weighings for (room/day.cpp), and no fewer than these.
constexpr int kMostDaysShown = 430, kFewestDays = 28;
constexpr double kDay_ms = 86'400'000;
/// Above this share of the reference an animal stands where it stood. Common practice, no source.
constexpr double kStands = 0.99;

/// A lane of marks, one for each entry of a kind; with an end a lane of bars, each from an entry of
/// the kind to the next of the other.
struct LaneOfKind {
  const char* name;
  EntryKind kind;
  Shape shape = Shape::tick;
  std::optional<EntryKind> end = {};
};
constexpr LaneOfKind kLanes[] = {
    {"meals", EntryKind::fed},
    {"refused", EntryKind::refused, Shape::ring},
    {"left over", EntryKind::leftovers, Shape::dot},
    {"regurgitated", EntryKind::regurgitated, Shape::triangle},
    {"droppings", EntryKind::droppings},
    {"in shed", EntryKind::in_shed, {}, EntryKind::shed},
    {"sheds", EntryKind::shed, Shape::diamond},
    {"eggs", EntryKind::laid_eggs, Shape::egg},
    {"moves", EntryKind::moved, Shape::arrow},
    {"brumation", EntryKind::brumation_started, {}, EntryKind::brumation_ended},
    {"quarantine", EntryKind::quarantine_started, {}, EntryKind::quarantine_ended},
    {"ill", EntryKind::ill, {}, EntryKind::recovered},
};

/// The animal on its day, and the days of the chart.
class Chart {
 public:
  Chart(const room::AnimalDay& animal, const room::Day& day)
      : animal_(animal), day_(day), subject_(room::subject_of(*animal.animal)) {
    const Date end = day.date + 1;
    Date first = end - kFewestDays;
    const auto see = [&](EntryKind kind) {
      const auto entries = all(kind);
      if (!entries.empty()) first = std::min(first, day.date_of(entries.front()));
    };
    see(EntryKind::weighed);
    for (const LaneOfKind& lane : kLanes) {
      see(lane.kind);
      if (lane.end) see(*lane.end);
    }
    first_ = std::max(first, end - kMostDaysShown);
    days_ = end - first_;
    start_ms_ = day.zone.start_of(first_).unix_ms();
  }

  WeightPicture picture() const {
    WeightPicture picture;
    const room::Animal& record = *animal_.animal;
    picture.title = fmt::format("{}, {}", room::called(record), animal_.profile.common_name);
    picture.first = first_;
    picture.days = days_;
    picture.units = day_.room->info.units;
    put_masses(picture);
    for (const LaneOfKind& lane : kLanes) {
      WeightPicture::Lane filled = lane.end ? states(lane, *lane.end) : events(lane);
      if (filled.events.empty() && filled.bars.empty()) continue;
      picture.lanes.push_back(std::move(filled));
    }
    return picture;
  }

 private:
  std::span<const Entry> all(EntryKind kind) const { return day_.history->all(subject_, kind); }

  /// Where a moment stands on the chart; outside it, its nearer end.
  double place(std::int64_t unix_ms) const {
    return std::clamp(static_cast<double>(unix_ms - start_ms_) / kDay_ms, 0.0,
                      static_cast<double>(days_));
  }
  double place(const Entry& entry) const { return place(entry.at.unix_ms()); }
  double place(Date date) const { return place(day_.zone.start_of(date).unix_ms()); }
  bool shown(const Entry& entry) const { return entry.at.unix_ms() >= start_ms_; }

  /// From where on a kind was recalled whole.
  double known_from(EntryKind kind) const {
    for (const room::Recall& recall : room::recalled_for_a_day()) {
      if (recall.kind != kind) continue;
      const auto entries = all(kind);
      const bool cut = entries.size() >= static_cast<std::size_t>(room::kMostRecalled);
      return std::max(place(day_.date + 1 - recall.days), cut ? place(entries.front()) : 0.0);
    }
    return 0;
  }

  void put_masses(WeightPicture& picture) const {
    health::WeightsOfDay weights(day_);
    const auto weight = weights.of(animal_);
    for (const Entry& entry : all(EntryKind::weighed)) {
      if (!shown(entry)) continue;
      const auto left_out = [&](const auto& left) { return left.entry->id == entry.id; };
      const bool doubted =
          weight && std::any_of(weight->left_out.begin(), weight->left_out.end(), left_out);
      picture.weighings.push_back({place(entry), *entry.mass, !doubted});
    }
    if (!weight) {
      picture.subtitle = without_model(picture);
      return;
    }
    const health::Sign sign = health::weight_sign(*weight, animal_, day_);
    picture.subtitle = fmt::format("It {}: {}.", sign.says, word(sign.response));
    for (const health::MassAt& at : weights.course(animal_, Instant::unix_ms(start_ms_))) {
      picture.course.push_back({place(static_cast<std::int64_t>(at.day * kDay_ms)),
                                Mass::grams(at.mass_g), Mass::grams(at.low_g),
                                Mass::grams(at.high_g)});
    }
    const health::WeightReport& report = weight->report;
    if (report.trend == health::Trend::unknown) return;
    picture.reference = Mass::grams(report.reference_g);
    const Instant since = Instant::unix_ms(static_cast<std::int64_t>(report.since_day * kDay_ms));
    picture.reference_words = fmt::format(
        "{}, {}", for_people(*picture.reference, picture.units),
        report.mass_g < kStands * report.reference_g
            ? fmt::format("had nothing been lost since {}", to_text(day_.zone.date_of(since)))
            : "where it stands now");
  }

  /// The sentence under the title where the model has nothing to say; nothing is believed then.
  std::string without_model(WeightPicture& picture) const {
    const int count = animal_.animal->count;
    if (count != 1) return fmt::format("A group of {}, not told apart: no trend.", count);
    for (auto& weighing : picture.weighings) weighing.believed = false;
    return all(EntryKind::weighed).empty() ? "It has not been weighed."
                                           : "None of its weighings can be believed.";
  }

  WeightPicture::Lane events(const LaneOfKind& lane) const {
    WeightPicture::Lane out{lane.name, lane.shape, {}, {}, known_from(lane.kind)};
    for (const Entry& entry : all(lane.kind)) {
      if (shown(entry)) out.events.push_back(place(entry));
    }
    return out;
  }

  WeightPicture::Lane states(const LaneOfKind& lane, EntryKind end) const {
    WeightPicture::Lane out{
        lane.name, {}, {}, {}, std::max(known_from(lane.kind), known_from(end))};
    std::vector<const Entry*> changes;
    for (const EntryKind kind : {lane.kind, end}) {
      for (const Entry& entry : all(kind)) changes.push_back(&entry);
    }
    std::stable_sort(changes.begin(), changes.end(),
                     [](const Entry* a, const Entry* b) { return a->at < b->at; });
    const bool ended_first = !changes.empty() && changes.front()->kind == end;
    std::optional<double> since = before_the_first(lane.kind, ended_first, changes.empty());
    const auto close = [&](double day) {
      if (lane.kind == EntryKind::in_shed) day = std::min(day, *since + shed_believed_days());
      if (day > 0) out.bars.push_back({*since, day});
      since.reset();
    };
    for (const Entry* change : changes) {
      if (change->kind == lane.kind && !since) since = place(*change);
      if (change->kind == end && since) close(place(*change));
    }
    if (since) close(days_);
    return out;
  }

  /// Since when a state held that no entry begins: one that an entry ends, or a quarantine since
  /// the arrival.
  std::optional<double> before_the_first(EntryKind kind, bool ended_first, bool unsaid) const {
    if (kind == EntryKind::in_shed) return std::nullopt;
    const auto& arrived = animal_.animal->arrived;
    if (kind == EntryKind::quarantine_started && unsaid && animal_.quarantine_since) {
      return place(*animal_.quarantine_since);
    }
    if (!ended_first) return std::nullopt;
    return kind == EntryKind::quarantine_started && arrived ? place(*arrived) : known_from(kind);
  }

  /// A shed that nobody wrote down does not last for ever.
  static double shed_believed_days() {
    return species::care_rules().value<Duration>("in_shed_believed").days();
  }

  const room::AnimalDay& animal_;
  const room::Day& day_;
  room::Subject subject_;
  Date first_;
  int days_ = 0;
  std::int64_t start_ms_ = 0;
};

}  // namespace

Result<WeightPicture> weight_picture(const room::Animal& animal, const room::Day& day) {
  for (const room::AnimalDay& state : day.animals) {
    if (state.animal->id == animal.id) return Chart(state, day).picture();
  }
  return Problem{
      ProblemCode::missing,
      fmt::format("{} was not in the room on {}", room::called(animal), to_text(day.date)),
      {},
      "a day on which it was",
      ""};
}

}  // namespace warmside::report
