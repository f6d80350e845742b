#include "health/mass_loss.h"

#include <fmt/format.h>

namespace warmside::health {
namespace {

using room::Entry;
using room::EntryKind;

/// Far over the error of a double, far under any scale's.
constexpr double kRounding = 1e-9;

struct Limit {
  Percentage share;
  std::string from;  // its trust and source, for the evidence
};

Limit limit_for(const room::AnimalDay& animal) {
  const auto& rules = species::care_rules();
  const species::Fact* fact = animal.profile.find(species::Key::mass_loss_limit);
  const bool small_frog = animal.profile.group == Group::frog &&
                          *animal.weighing->mass < rules.value<Mass>("small_frog_mass");
  if ((small_frog || animal.hatchling) && (fact == nullptr || fact->trust != Trust::keeper)) {
    const auto& rule = rules.rule("fast_loss_limit_small");
    return {rules.value<Percentage>(rule.name), std::string(word(rule.trust))};
  }
  if (fact != nullptr) {
    return {std::get<Percentage>(fact->value), std::string(word(fact->trust))};
  }
  const auto& rule = rules.rule("fast_loss_limit");
  return {rules.value<Percentage>(rule.name), std::string(word(rule.trust))};
}

/// The heaviest of the weighings in the days before the latest, the later of equals. Null: none.
/// Days are the room's, so that neither the hour of weighing nor a clock change moves the edge.
const Entry* heaviest_before(const room::Day& day, std::span<const Entry> weighings,
                             const Entry& latest, int days) {
  const Entry* best = nullptr;
  for (const Entry& entry : weighings) {
    if (day.date_of(latest) - day.date_of(entry) > days || entry.at >= latest.at) continue;
    if (best == nullptr || *entry.mass >= *best->mass) best = &entry;
  }
  return best;
}

}  // namespace

std::optional<Finding> lost_by_rule(const room::AnimalDay& animal, const room::Day& day) {
  const auto& rules = species::care_rules();
  const int window_days = rules.days("mass_loss_window");
  const UnitSystem units = day.room->info.units;
  const Entry* latest = animal.weighing;
  if (latest == nullptr || animal.animal->count != 1) return std::nullopt;
  const bool too_old = day.date - day.date_of(*latest) > window_days;
  if (too_old) return std::nullopt;
  const auto subject = room::subject_of(*animal.animal);
  const Entry* heaviest =
      heaviest_before(day, day.history->all(subject, EntryKind::weighed), *latest, window_days);
  if (heaviest == nullptr) return std::nullopt;
  const double lost = 1.0 - *latest->mass / *heaviest->mass;
  const Limit limit = limit_for(animal);
  // From 700 g to 630 g are 10 %, though in binary a little more.
  if (!(lost > limit.share.share() + kRounding)) return std::nullopt;
  const int took_days = day.date_of(*latest) - day.date_of(*heaviest);
  const bool fast = took_days <= rules.days("fast_loss_window");
  Finding finding;
  finding.when = fast ? When::now : When::today;
  finding.subject_kind = "animal";
  finding.subject = animal.animal->id.text();
  finding.headline = fmt::format("{} has lost {:.1f} % of its mass in {} days",
                                 room::called(*animal.animal), lost * 100, took_days);
  finding.evidence =
      fmt::format("{} on {}, down from {} on {}, the highest of the 90 days before; limit {} ({}).",
                  for_people(*latest->mass, units), to_text(day.date_of(*latest)),
                  for_people(*heaviest->mass, units), to_text(day.date_of(*heaviest)),
                  for_people(limit.share, units), limit.from);
  if (animal.brumating_since) {
    finding.evidence +=
        fmt::format(" It has been in brumation since {}.", to_text(*animal.brumating_since));
  }
  finding.advice =
      "Weigh it again before its next meal, on the same scale. If the loss stands, call a "
      "veterinarian with reptile or amphibian experience and take the list of weighings along. "
      "A meal, droppings, eggs or a full bladder on one of the two days can feign a loss.";
  finding.source =
      "loss over 10 % fast or 20 % slowly: see a vet (public veterinary summary); "
      "the window of 90 days is common practice, no source";
  finding.module = "health";
  return finding;
}

}  // namespace warmside::health
