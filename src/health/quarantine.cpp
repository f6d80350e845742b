#include "health/quarantine.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <tuple>

#include "health/event_record.h"
#include "health/quarantine_protocol.h"
#include "room/check_result.h"

namespace warmside::health {
namespace {

using room::Entry;
using room::EntryKind;
using room::Outcome;
using species::Key;

/// A restart is news for a week. Our choice.
constexpr int kNewsDays = 7;
/// A last meal older than this many feeding intervals is not "feeding". Our choice: one missed.
constexpr double kMealIntervals = 2;

// ---- Who was in quarantine where and when ------------------------------------------------------

struct Stay {
  Instant from, to;  // without `to`
};
constexpr Instant kNever = Instant::unix_ms(std::numeric_limits<std::int64_t>::max());

/// The beginnings and ends of quarantine that are recalled, oldest first.
std::vector<const Entry*> turns_of(const room::Day& day, const room::Animal& animal) {
  std::vector<const Entry*> turns;
  for (const EntryKind kind : {EntryKind::quarantine_started, EntryKind::quarantine_ended}) {
    for (const Entry& entry : day.history->all(room::subject_of(animal), kind)) {
      turns.push_back(&entry);
    }
  }
  std::sort(turns.begin(), turns.end(), [](const Entry* a, const Entry* b) {
    return std::tie(a->at, a->id) < std::tie(b->at, b->id);
  });
  return turns;
}

/// When the animal was in quarantine. One that nobody jotted lasts the profile's days.
std::vector<Stay> stays_of(const room::Day& day, const room::Animal& animal) {
  std::vector<Stay> stays;
  const auto turns = turns_of(day, animal);
  const std::optional<Instant> arrived =
      animal.arrived ? std::optional(day.zone.start_of(*animal.arrived)) : std::nullopt;
  if (turns.empty() && arrived) {
    const auto profile = room::profile_of(*day.room, animal);
    if (const auto* length = profile.value<Duration>(Key::quarantine_length)) {
      const int days = static_cast<int>(std::ceil(length->days()));
      stays.push_back({*arrived, day.zone.start_of(*animal.arrived + days)});
    }
  }
  std::optional<Instant> open;
  for (const Entry* turn : turns) {
    if (turn->kind == EntryKind::quarantine_started) {
      if (!open) open = turn->at;
    } else {
      if (!open && stays.empty() && arrived && *arrived < turn->at) open = *arrived;
      if (open) stays.push_back({*open, turn->at});
      open.reset();
    }
  }
  if (open) stays.push_back({*open, kNever});
  if (animal.left) {
    const Instant left = day.zone.start_of(*animal.left);
    for (Stay& stay : stays) stay.to = std::min(stay.to, left);
  }
  return stays;
}

enum class Nearness { apart, one_group, one_enclosure };

/// How near two animals in quarantine are, by what the room says of their enclosures.
Nearness nearness_of(const room::Room& room, const room::EnclosureId& a,
                     const room::EnclosureId& b) {
  if (!a.empty() && a == b) return Nearness::one_enclosure;
  const room::Enclosure* first = room::find(room.enclosures, a);
  const room::Enclosure* second = room::find(room.enclosures, b);
  if (first == nullptr || second == nullptr) return Nearness::one_group;
  if (!first->rack.empty() && first->rack == second->rack) return Nearness::one_group;
  const bool told_apart =
      !first->place.empty() && !second->place.empty() && first->place != second->place;
  return told_apart ? Nearness::apart : Nearness::one_group;
}

// ---- The clock ---------------------------------------------------------------------------------

/// Computes one animal's quarantine as it stood at a moment.
class Reckoning {
 public:
  Reckoning(const room::AnimalDay& animal, const room::Day& day, Date on, Instant until)
      : animal_(animal),
        day_(day),
        room_(*day.room),
        on_(on),
        until_(until),
        subject_(room::subject_of(*animal.animal)),
        protocol_(protocol_of(animal.profile)) {}

  /// Empty when a presumed quarantine is long over.
  Quarantine reckon(Date began, Instant began_at, bool presumed) {
    q_.began = began;
    q_.presumed = presumed;
    q_.clock_since = began;
    const int shown = species::care_rules().days("quarantine_result_shown");
    const bool lasting = !presumed || worked_at(began);
    q_.followed = lasting;
    for (Restart& restart : events_since(began, began_at)) {
      // What happens to an animal long out of a quarantine that nobody jotted restarts nothing.
      if (!lasting && restart.on - q_.clock_since > protocol_.days_longest + shown) break;
      q_.clock_since = restart.on;
      q_.restarts.push_back(std::move(restart));
    }
    if (!lasting && on_ - q_.clock_since > protocol_.days_longest + shown) return {};
    need_well();
    need_results();
    if (protocol_.mites) need_mites();
    need_shed_or_mass();
    need_feeding();
    count_days();
    return std::move(q_);
  }

 private:
  /// Entries of a kind about the animal up to the moment, from a day on.
  std::vector<const Entry*> entries(EntryKind kind, Date from) const {
    return entries_of(subject_, kind, from);
  }
  std::vector<const Entry*> entries_of(const room::Subject& subject, EntryKind kind,
                                       Date from) const {
    std::vector<const Entry*> found;
    for (const Entry& entry : day_.history->all(subject, kind)) {
      if (entry.at <= until_ && day_.date_of(entry) >= from) found.push_back(&entry);
    }
    return found;
  }

  /// Whether a check belongs to a quarantine: mites, faecal samples, anything the profile names.
  bool is_quarantine_check(const Entry& check) const {
    const auto [what, outcome] = room::result_of(check);
    return mentions(what, "mites") || is_faecal(what) || is_cryptosporidium(what) ||
           std::any_of(protocol_.named.begin(), protocol_.named.end(),
                       [&, w = what](const auto& named) { return mentions(w, named.first); });
  }

  /// Whether the notebook shows that somebody follows a presumed quarantine.
  bool worked_at(Date began) const {
    for (const Entry* check : entries(EntryKind::checked, began)) {
      if (is_quarantine_check(*check) && day_.date_of(*check) <= began + protocol_.days_longest) {
        return true;
      }
    }
    return false;
  }

  /// Everything after the first day that restarts the clock, oldest first.
  std::vector<Restart> events_since(Date began, Instant began_at) const {
    std::vector<Restart> events;
    troubles_of(
        *animal_.animal, began, "", [](Instant) { return true; }, events);
    for (const room::Animal& other : room_.animals) {
      if (other.id != animal_.animal->id) meetings_with(other, began, began_at, events);
    }
    std::stable_sort(events.begin(), events.end(),
                     [](const Restart& a, const Restart& b) { return a.on < b.on; });
    return events;
  }

  /// Illness and positive tests of an animal at moments that concern this one.
  template <class Concerns>
  void troubles_of(const room::Animal& animal, Date began, const std::string& who,
                   Concerns concerns, std::vector<Restart>& events) const {
    const room::Subject subject = room::subject_of(animal);
    for (const Entry* ill : entries_of(subject, EntryKind::ill, began + 1)) {
      if (!concerns(ill->at)) continue;
      events.push_back({day_.date_of(*ill), RestartReason::illness,
                        fmt::format("{}ill{}", who, ill->item.empty() ? "" : ": " + ill->item)});
    }
    for (const Entry* check : entries_of(subject, EntryKind::checked, began + 1)) {
      const auto [what, outcome] = room::result_of(*check);
      if (outcome != Outcome::positive || !is_quarantine_check(*check)) continue;
      if (!concerns(check->at)) continue;
      events.push_back({day_.date_of(*check), RestartReason::positive_test,
                        fmt::format("{}{} positive", who, what)});
    }
  }

  /// What another animal does to the clock: by coming nearer while both are in quarantine, and by
  /// falling ill in the same enclosure. An animal outside quarantine does nothing.
  void meetings_with(const room::Animal& other, Date began, Instant began_at,
                     std::vector<Restart>& events) const {
    const std::vector<Stay> stays = stays_of(day_, other);
    if (stays.empty()) return;
    const auto near_at = [&](Instant at) {
      const bool in = std::any_of(stays.begin(), stays.end(), [&](const Stay& stay) {
        return stay.from <= at && at < stay.to;
      });
      if (!in) return Nearness::apart;
      return nearness_of(room_, home_at(day_, *animal_.animal, at), home_at(day_, other, at));
    };
    enum class Cause { came_in, moved, we_moved };
    std::vector<std::pair<Instant, Cause>> moments;
    for (const Stay& stay : stays) {
      moments.emplace_back(stay.from, Cause::came_in);
      moments.emplace_back(stay.to, Cause::came_in);  // nearness falls; nothing begins
    }
    for (const Entry& move : day_.history->all(room::subject_of(other), EntryKind::moved)) {
      moments.emplace_back(move.at, Cause::moved);
    }
    for (const Entry& move : day_.history->all(subject_, EntryKind::moved)) {
      moments.emplace_back(move.at, Cause::we_moved);
    }
    std::sort(moments.begin(), moments.end());
    Nearness before = near_at(began_at);
    for (const auto& [at, cause] : moments) {
      if (at <= began_at || at > until_) continue;
      const Nearness now = near_at(at);
      const Date on = day_.zone.date_of(at);
      if (now > before && on > began) {
        const std::string& name = room::called(other);
        const bool same = now == Nearness::one_enclosure;
        const std::string where = home_at(day_, other, at).text();
        if (cause == Cause::we_moved) {
          events.push_back({on, RestartReason::move,
                            same
                                ? fmt::format("moved to {}, where {} is in quarantine", where, name)
                                : fmt::format("moved near {}, who is in quarantine", name)});
        } else {
          events.push_back({on, RestartReason::newcomer,
                            same ? fmt::format("{} joined it in {}", name, where)
                                 : fmt::format("{} joined the same group{}", name,
                                               where.empty() ? "" : ", in " + where)});
        }
      }
      before = now;
    }
    troubles_of(
        other, began, room::called(other) + ", in the same enclosure, ",
        [&](Instant at) { return near_at(at) == Nearness::one_enclosure; }, events);
  }

  // ---- Requirements ----

  Requirement& add(Need need, std::string what, int wanted, Trust trust, std::string source) {
    Requirement requirement;
    requirement.need = need;
    requirement.what = std::move(what);
    requirement.wanted = wanted;
    requirement.trust = trust;
    requirement.source = std::move(source);
    q_.requirements.push_back(std::move(requirement));
    return q_.requirements.back();
  }
  Requirement& add_by_rule(Need need, std::string what, int wanted, std::string_view rule) {
    const auto& row = species::care_rules().rule(rule);
    return add(need, std::move(what), wanted, row.trust, row.source);
  }

  void need_well() {
    Requirement& r = add_by_rule(Need::well, "not ill", 1, "quarantine_restart");
    const auto ill = entries(EntryKind::ill, Date::days_from_epoch(-800'000));
    const auto well = entries(EntryKind::recovered, Date::days_from_epoch(-800'000));
    const bool is_ill =
        !ill.empty() && (well.empty() || std::tie(well.back()->at, well.back()->id) <
                                             std::tie(ill.back()->at, ill.back()->id));
    r.have = is_ill ? 0 : 1;
    r.standing = is_ill ? Standing::failed : Standing::met;
    if (is_ill) r.detail = fmt::format("ill since {}", to_text(day_.date_of(*ill.back())));
  }

  struct Result {
    Date taken;
    Instant told;
    bool negative = false;
  };

  /// Results of checks that `wanted` speaks for, from the clock's beginning on, as they were told.
  /// A sample counts on the day on which it was taken.
  template <class Wanted>
  std::vector<Result> results(Wanted wanted, int& untold) const {
    std::vector<Entry> known;
    std::vector<std::string> names;
    for (const Entry& check : day_.history->all(subject_, EntryKind::checked)) {
      if (check.at > until_) continue;
      known.push_back(check);
      const std::string what(room::result_of(check).what);
      if (wanted(what) && std::find(names.begin(), names.end(), what) == names.end()) {
        names.push_back(what);
      }
    }
    std::vector<Result> found;
    for (const std::string& name : names) {
      for (const room::Sample& sample : room::samples_of(known, name)) {
        const Date taken = day_.date_of(*sample.taken);
        // A positive restarts the clock itself, so it is looked for in the whole quarantine.
        const bool positive = sample.outcome == Outcome::positive;
        if (positive ? day_.date_of(*sample.answer) < *q_.began : taken < q_.clock_since) continue;
        if (!sample.outcome) {
          ++untold;
        } else {
          found.push_back({taken, sample.answer->at, !positive});
        }
      }
    }
    std::stable_sort(found.begin(), found.end(),
                     [](const Result& a, const Result& b) { return a.taken < b.taken; });
    return found;
  }

  /// Negatives since the latest positive, each at least `spacing` days after the one counted
  /// before.
  template <class Wanted>
  void count_negatives(Requirement& r, Wanted wanted, int spacing, const char* without_result) {
    int untold = 0;
    const std::vector<Result> all = results(wanted, untold);
    std::optional<Result> positive;
    for (const Result& result : all) {
      if (!result.negative && (!positive || result.told > positive->told)) positive = result;
    }
    std::vector<std::string> close;
    bool negative_since = false;
    for (const Result& result : all) {
      if (!result.negative || (positive && result.taken <= positive->taken)) continue;
      negative_since = true;
      if (!r.counted.empty() && result.taken - r.counted.back() < spacing) {
        if (static_cast<int>(r.counted.size()) < r.wanted && result.taken != r.counted.back()) {
          close.push_back(to_text(result.taken));
        }
        continue;
      }
      if (static_cast<int>(r.counted.size()) < r.wanted) r.counted.push_back(result.taken);
    }
    r.have = static_cast<int>(r.counted.size());
    r.standing = r.have >= r.wanted            ? Standing::met
                 : positive && !negative_since ? Standing::failed
                                               : Standing::open;
    std::vector<std::string> said;
    if (positive) said.push_back(fmt::format("positive on {}", to_text(positive->taken)));
    if (!close.empty()) {
      said.push_back(fmt::format("{} not counted: less than {} days after the one before",
                                 fmt::join(close, ", "), spacing));
    }
    if (untold > 0) said.push_back(fmt::format("{} {}", untold, without_result));
    if (r.standing != Standing::met && spacing > 0 && !r.counted.empty()) {
      said.push_back(fmt::format("next from {} on", to_text(r.counted.back() + spacing)));
    }
    r.detail = fmt::format("{}", fmt::join(said, "; "));
  }

  void need_results() {
    const int spacing = static_cast<int>(day_range("quarantine_faecal_spacing").low.days());
    if (protocol_.faecal > 0) {
      Requirement& r = add(Need::faecal,
                           fmt::format("{} negative faecal samples at least {} days apart",
                                       protocol_.faecal, spacing),
                           protocol_.faecal, protocol_.tests_trust, protocol_.tests_source);
      count_negatives(r, is_faecal, spacing, "without a result in the notebook");
    }
    if (protocol_.cryptosporidium > 0) {
      const int wanted = protocol_.cryptosporidium;
      Requirement& r =
          add_by_rule(Need::cryptosporidium,
                      fmt::format("{} negative tests for Cryptosporidium at least {} days apart",
                                  wanted, spacing),
                      wanted, "quarantine_cryptosporidium_tests");
      count_negatives(r, is_cryptosporidium, spacing, "without a result in the notebook");
    }
    for (const auto& [name, piece] : protocol_.named) {
      Requirement& r = add(Need::test, fmt::format("{} negative ({})", name, piece), 1,
                           protocol_.tests_trust, protocol_.tests_source);
      count_negatives(
          r, [&, n = name](std::string_view what) { return mentions(what, n); }, 0,
          "without a result in the notebook");
      if (r.standing == Standing::met) negative_.push_back(name);
    }
  }

  void need_mites() {
    const int wanted = count_of("quarantine_mite_free_checks");
    const int spacing = species::care_rules().days("quarantine_mite_spacing");
    Requirement& r = add_by_rule(
        Need::mites,
        fmt::format("{} mite-free checks in a row at least {} days apart", wanted, spacing), wanted,
        "quarantine_mite_free_checks");
    count_negatives(
        r, [](std::string_view what) { return mentions(what, "mites"); }, spacing,
        "without a result in the notebook");
  }

  /// Normal sheds since the latest stuck one, or a steady mass. Steadiness is judged against the
  /// median of the whole quarantine, so that a restart does not forget a loss before it.
  void need_shed_or_mass() {
    const int wanted = count_of("quarantine_normal_sheds");
    Requirement& r =
        add_by_rule(Need::shed_or_mass, fmt::format("{} normal sheds or a steady mass", wanted),
                    wanted, "quarantine_normal_sheds");
    std::vector<Date> sheds;
    for (const Entry* shed : entries(EntryKind::shed, q_.clock_since)) {
      if (shed->item.find("stuck") != std::string::npos) {
        sheds.clear();
        r.detail = fmt::format("stuck shed on {}", to_text(day_.date_of(*shed)));
      } else {
        sheds.push_back(day_.date_of(*shed));
      }
    }
    if (static_cast<int>(sheds.size()) > wanted) sheds.resize(static_cast<std::size_t>(wanted));
    r.counted = sheds;
    r.have = static_cast<int>(sheds.size());
    if (r.have >= wanted) {
      r.standing = Standing::met;
      return;
    }
    const auto& rules = species::care_rules();
    const auto weighings = entries(EntryKind::weighed, q_.clock_since);
    if (animal_.animal->count != 1 || weighings.size() < enough_weighings() ||
        day_.date_of(*weighings.back()) - day_.date_of(*weighings.front()) <
            species::care_rules().days("fast_loss_window")) {
      return;
    }
    std::vector<Mass> masses;
    for (const Entry* entry : entries(EntryKind::weighed, *q_.began))
      masses.push_back(*entry->mass);
    const auto middle = masses.begin() + static_cast<std::ptrdiff_t>(masses.size() / 2);
    std::nth_element(masses.begin(), middle, masses.end());
    const double below = 1.0 - *weighings.back()->mass / *middle;
    const bool steady = below <= rules.value<Percentage>("early_notice_share").share() + 1e-9;
    const UnitSystem units = room_.info.units;
    const std::string said = fmt::format(
        "{} on {}, middle of its weighings {}", for_people(*weighings.back()->mass, units),
        to_text(day_.date_of(*weighings.back())), for_people(*middle, units));
    if (steady) {
      r.standing = Standing::met;
      r.have = wanted;
      r.counted = {day_.date_of(*weighings.front()), day_.date_of(*weighings.back())};
      r.detail = "steady mass: " + said;
    } else {
      r.detail += fmt::format("{}mass fell: {}", r.detail.empty() ? "" : "; ", said);
    }
  }
  static std::size_t enough_weighings() {
    return static_cast<std::size_t>(count_of("quarantine_steady_weighings"));
  }

  /// Meals in a row that were eaten and stayed down, the last not long ago.
  void need_feeding() {
    const int wanted = count_of("quarantine_normal_meals");
    Requirement& r =
        add_by_rule(Need::feeding, fmt::format("{} meals in a row eaten and kept down", wanted),
                    wanted, "quarantine_normal_meals");
    std::vector<const Entry*> offers;
    for (const EntryKind kind : {EntryKind::fed, EntryKind::refused, EntryKind::regurgitated}) {
      for (const Entry* entry : entries(kind, q_.clock_since)) offers.push_back(entry);
    }
    std::sort(offers.begin(), offers.end(), [](const Entry* a, const Entry* b) {
      return std::tie(a->at, a->id) < std::tie(b->at, b->id);
    });
    for (const Entry* offer : offers) {
      if (offer->kind == EntryKind::fed && room::share_left(*offer, day_) < room::kNotEaten) {
        r.counted.push_back(day_.date_of(*offer));
      } else {
        r.counted.clear();
        const bool left = offer->kind == EntryKind::fed;
        r.detail = fmt::format("{} on {}", left ? "left lying" : room::rule_of(offer->kind).words,
                               to_text(day_.date_of(*offer)));
      }
    }
    const auto surplus = static_cast<std::ptrdiff_t>(r.counted.size()) - wanted;
    if (surplus > 0) r.counted.erase(r.counted.begin(), r.counted.begin() + surplus);
    r.have = static_cast<int>(r.counted.size());
    r.standing = r.have >= wanted ? Standing::met : Standing::open;
    const auto* interval = animal_.profile.value<Duration>(
        animal_.young ? Key::feed_interval_juvenile : Key::feed_interval_adult);
    if (r.standing == Standing::met && interval != nullptr &&
        on_ - r.counted.back() > kMealIntervals * std::max(1.0, interval->days())) {
      r.standing = Standing::open;
      r.detail = fmt::format("last meal {}, {} days ago", to_text(r.counted.back()),
                             on_ - r.counted.back());
    } else if (r.standing == Standing::met) {
      r.detail.clear();
    }
  }

  void count_days() {
    std::vector<std::string> missing;
    for (const std::string& name : protocol_.longest_until_negative) {
      if (std::find(negative_.begin(), negative_.end(), name) == negative_.end()) {
        missing.push_back(name);
      }
    }
    q_.days_wanted = missing.empty() ? protocol_.days : protocol_.days_longest;
    if (q_.days_wanted != protocol_.days) {
      q_.days_if_negative = protocol_.days;
      q_.days_depend_on = fmt::format("{}", fmt::join(missing, " and "));
    }
    q_.days_done = std::clamp(on_ - q_.clock_since, 0, q_.days_wanted);
    q_.days_left = q_.days_wanted - q_.days_done;
    q_.earliest_end = q_.clock_since + q_.days_wanted;
    Requirement r;
    r.need = Need::days;
    r.what = fmt::format("{} days", q_.days_wanted);
    r.wanted = q_.days_wanted;
    r.have = q_.days_done;
    r.standing = q_.days_left == 0 ? Standing::met : Standing::open;
    r.trust = protocol_.days_trust;
    r.source = protocol_.days_source;
    if (q_.days_if_negative) {
      const auto& rule = species::care_rules().rule(protocol_.longest_rule);
      r.trust = rule.trust;
      r.source = rule.source;
      r.detail = fmt::format("{} once negative for {}", protocol_.days, q_.days_depend_on);
    }
    q_.requirements.insert(q_.requirements.begin(), std::move(r));
  }

  const room::AnimalDay& animal_;
  const room::Day& day_;
  const room::Room& room_;
  Date on_;
  Instant until_;
  room::Subject subject_;
  Protocol protocol_;
  Quarantine q_;
  std::vector<std::string> negative_;  // named tests that are
};

/// The quarantine that began with `started`, or with the arrival, as it was at the moment `until`,
/// itself included.
Quarantine as_it_was(const room::AnimalDay& animal, const room::Day& day, const Entry* started,
                     Date on, Instant until) {
  Reckoning reckoning(animal, day, on, until);
  if (started != nullptr) return reckoning.reckon(day.date_of(*started), started->at, false);
  const std::optional<Date>& arrived = animal.animal->arrived;
  if (!arrived || *arrived > on) return {};
  return reckoning.reckon(*arrived, day.zone.start_of(*arrived), true);
}

std::string jot(const room::AnimalDay& animal, std::string_view options) {
  return fmt::format("`warmside jot quarantine {}{}`", animal.animal->id.text(), options);
}

std::string dated_results(const Quarantine& q) {
  std::string text;
  for (const Requirement& r : q.requirements) {
    if (r.counted.empty()) continue;
    std::vector<std::string> dates;
    for (const Date date : r.counted) dates.push_back(to_text(date));
    text += fmt::format(" {}: {}.", r.what, fmt::join(dates, ", "));
  }
  return text;
}

std::string sources_of(const Quarantine& q) {
  std::vector<std::string> sources;
  for (const Requirement& r : q.requirements) {
    const std::string source = r.trust == Trust::common_practice
                                   ? r.source
                                   : fmt::format("{}: {}", word(r.trust), r.source);
    if (std::find(sources.begin(), sources.end(), source) == sources.end()) {
      sources.push_back(source);
    }
  }
  return fmt::format("{}", fmt::join(sources, "; "));
}

std::vector<std::string> open_but_days(const Quarantine& q) {
  std::vector<std::string> open;
  for (const Requirement& r : q.requirements) {
    if (r.standing == Standing::met || r.need == Need::days) continue;
    if (r.need == Need::well) {
      open.push_back(r.detail);
    } else {
      open.push_back(fmt::format("{} ({} of {}{})", r.what, r.have, r.wanted,
                                 r.standing == Standing::failed ? ", " + r.detail : ""));
    }
  }
  return open;
}

}  // namespace

bool Quarantine::all_met() const {
  return holds() && std::all_of(requirements.begin(), requirements.end(),
                                [](const Requirement& r) { return r.standing == Standing::met; });
}

std::string Quarantine::open_in_words() const {
  std::vector<std::string> open;
  if (days_left > 0) open.push_back(fmt::format("{} more days", days_left));
  for (std::string& words : open_but_days(*this)) open.push_back(std::move(words));
  return fmt::format("{}", fmt::join(open, "; "));
}

Quarantine quarantine_of(const room::AnimalDay& animal, const room::Day& day) {
  const Entry* turn =
      day.history->latest_of(room::subject_of(*animal.animal),
                             {EntryKind::quarantine_started, EntryKind::quarantine_ended});
  if (turn != nullptr && turn->kind == EntryKind::quarantine_ended) return {};
  // Nobody has said how long a newcomer of this species stays: nothing is presumed.
  if (turn == nullptr && animal.profile.find(Key::quarantine_length) == nullptr) return {};
  // A history ends before its `until`, which is the first moment of the next day.
  const Instant last = Instant::unix_ms(day.history->until().unix_ms() - 1);
  return as_it_was(animal, day, turn, day.date, last);
}

void presume_quarantines(room::Day& day) {
  for (room::AnimalDay& animal : day.animals) {
    if (!animal.quarantine_since) animal.quarantine_since = quarantine_of(animal, day).began;
  }
}

std::optional<EndedQuarantine> ended_quarantine_of(const room::AnimalDay& animal,
                                                   const room::Day& day) {
  const auto turns = turns_of(day, *animal.animal);
  if (turns.empty() || turns.back()->kind != EntryKind::quarantine_ended) return std::nullopt;
  const Entry& end = *turns.back();
  const Date ended = day.date_of(end);
  if (day.date - ended > species::care_rules().days("quarantine_result_shown")) return std::nullopt;
  const Entry* started = nullptr;
  for (auto turn = turns.rbegin() + 1; turn != turns.rend(); ++turn) {
    if ((*turn)->kind == EntryKind::quarantine_ended) break;
    started = *turn;
    break;
  }
  // A second end says nothing new.
  if (started == nullptr && turns.size() > 1) return std::nullopt;
  EndedQuarantine found{ended, as_it_was(animal, day, started, ended, end.at)};
  if (!found.then.holds()) return std::nullopt;
  return found;
}

std::string progress_line(const Quarantine& q) {
  std::string line = fmt::format("{} of {} days done, {} left, until {} at the earliest",
                                 q.days_done, q.days_wanted, q.days_left, to_text(q.earliest_end));
  if (q.days_if_negative) {
    line += fmt::format(" ({} days, until {}, once negative for {})", *q.days_if_negative,
                        to_text(q.clock_since + *q.days_if_negative), q.days_depend_on);
  }
  if (!q.restarts.empty()) {
    line += fmt::format("; began again on {}: {}", to_text(q.restarts.back().on),
                        q.restarts.back().says);
  }
  if (q.all_met()) return line + "; all met, the sign-off is the keeper's";
  const auto open = open_but_days(q);
  return line +
         (open.empty() ? "; all else is met" : fmt::format("; open: {}", fmt::join(open, "; ")));
}

std::string ended_line(const EndedQuarantine& ended) {
  return fmt::format(
      "signed off on {} after {} of {} days{}", to_text(ended.ended), ended.then.days_done,
      ended.then.days_wanted,
      ended.then.all_met() ? ", all met" : "; open on that day: " + ended.then.open_in_words());
}

std::vector<Sign> quarantine_signs(const room::AnimalDay& animal, const room::Day& day) {
  std::vector<Sign> signs;
  const auto add = [&](Response response, std::string says, std::string evidence,
                       std::string advice, const Quarantine& q) {
    Sign sign;
    sign.response = response;
    sign.says = std::move(says);
    sign.evidence = std::move(evidence);
    sign.advice = std::move(advice);
    sign.for_vet = fmt::format("In quarantine since {}.{}", to_text(*q.began), dated_results(q));
    sign.source = sources_of(q);
    signs.push_back(std::move(sign));
  };
  if (const auto ended = ended_quarantine_of(animal, day); ended && !ended->then.all_met()) {
    add(Response::watch,
        fmt::format("was signed off from quarantine on {} with something open",
                    to_text(ended->ended)),
        fmt::format("Open on that day: {}.", ended->then.open_in_words()),
        fmt::format("The sign-off holds. If it was too early, {} begins a new one.",
                    jot(animal, "")),
        ended->then);
  }
  const Quarantine q = quarantine_of(animal, day);
  if (!q.holds()) return signs;
  const std::string since = fmt::format("In quarantine since {}{}. {}.", to_text(*q.began),
                                        q.presumed ? ", its arrival" : "", progress_line(q));
  std::vector<std::string> failed;
  for (const Requirement& r : q.requirements) {
    if (r.standing == Standing::failed && r.need != Need::well) {
      failed.push_back(fmt::format("{} ({})", r.what, r.detail));
    }
  }
  if (!failed.empty()) {
    add(Response::call_vet, "has a positive test in quarantine",
        fmt::format("Wanted: {}. {}", fmt::join(failed, ", "), since),
        "Call a veterinarian with reptile or amphibian experience and take the result along. A "
        "test can be wrong in both directions. Keep it apart, served last, with its own tools.",
        q);
  } else if (!q.restarts.empty() && day.date - q.clock_since < kNewsDays) {
    add(Response::watch,
        fmt::format("began its quarantine again on {}: {}", to_text(q.clock_since),
                    q.restarts.back().says),
        since, "Tests and checks count from that day on.", q);
  }
  if (q.all_met()) {
    add(Response::change_nothing, "has met all that its quarantine asks for", since,
        fmt::format("It ends when you sign it off: {}. Look at the animal once more before; what "
                    "no test was made for is not excluded.",
                    jot(animal, " --ended")),
        q);
    signs.back().offers = true;
  } else if (!q.followed && q.days_left == 0) {
    add(Response::watch, "has passed its days of quarantine, and nobody has signed it off", since,
        fmt::format("It is taken for a resident from {} on. To keep it in quarantine: {}. To sign "
                    "it off: {}.",
                    to_text(q.clock_since + protocol_of(animal.profile).days_longest +
                            species::care_rules().days("quarantine_result_shown") + 1),
                    jot(animal, fmt::format(" --at \"{} 12:00\"", to_text(*q.began))),
                    jot(animal, " --ended")),
        q);
  }
  return signs;
}

}  // namespace warmside::health
