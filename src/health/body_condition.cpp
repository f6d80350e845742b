#include "health/body_condition.h"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <cmath>

#include "health/animal_weight.h"

namespace warmside::health {
namespace {

using room::Entry;
using room::EntryKind;

// Every constant of this block: common practice, no source.

/// Isometry: a body that grows in all directions alike. Real exponents lie around it, taken here as
/// within 0.3; a slope that is known no better than that is no better than isometry.
constexpr double kIsometry = 3, kIsometryError = 0.3;
/// With fewer animals r, and with it the slope's own error, is luck.
constexpr int kFewestAnimals = 8;
/// A length is read to about 2 %. Where ln L spreads five times as much, that changes the slope by
/// sqrt(1 + 1/25), 2 %.
constexpr double kLeastSpread = 0.1;
/// Indices are compared at lengths within this factor of each other: an exponent that is off by 0.3
/// then feigns 7 % at most, half of a fall that is told.
constexpr double kLikeLength = 1.25;
/// A fall of this share is told: twice the error of an index, 7 % from that of a weighing (4 %) and
/// three times that of a length. A snake is hard to measure to better than 5 %: 16 %.
constexpr double kFall = 0.15, kFallSnake = 0.3;
/// One earlier index is as uncertain as the latest.
constexpr int kFewestEarlier = 2;
/// After so long an index says nothing of today.
constexpr int kTold_days = 183;
/// An index beyond this factor from the middle of the animal's others is a slip of tape or pen.
constexpr double kSlip = 2;

constexpr const char* kIndexSource =
    "scaled mass index: Peig & Green 2009, Oikos 118:1883-1891 (docs/models/health.md); what "
    "counts "
    "as a fall: common practice, no source";

/// Small letters, one space between words: "Shell,  straight" is "shell, straight".
std::string plain(std::string_view item) {
  std::string out;
  for (const char c : item) {
    const auto byte = static_cast<unsigned char>(c);
    if (std::isspace(byte) == 0) {
      out += static_cast<char>(std::tolower(byte));
    } else if (!out.empty() && out.back() != ' ') {
      out += ' ';
    }
  }
  if (out.ends_with(' ')) out.pop_back();
  return out;
}

double median(std::vector<double> values) {
  std::sort(values.begin(), values.end());
  const std::size_t middle = values.size() / 2;
  return values.size() % 2 == 1 ? values[middle] : 0.5 * (values[middle - 1] + values[middle]);
}

/// exp of the mean of logarithms.
class GeometricMean {
 public:
  void add(double value) {
    sum_ += std::log(value);
    ++count_;
  }
  double value() const { return std::exp(sum_ / count_); }

 private:
  double sum_ = 0;
  int count_ = 0;
};

/// The lengths of one kind with their masses, without indices. Several of one day are one, their
/// mean.
std::vector<SizeOnDay> sizes_of(const room::AnimalDay& animal, const std::string& item,
                                const room::Day& day) {
  struct Measured {
    Date on;
    Instant at;
    GeometricMean length_m;
  };
  std::vector<Measured> lengths;
  for (const Entry& entry :
       day.history->all(room::subject_of(*animal.animal), EntryKind::measured)) {
    if (plain(entry.item) != item) continue;
    const Date on = day.date_of(entry);
    if (lengths.empty() || lengths.back().on != on) lengths.push_back({on, entry.at, {}});
    lengths.back().length_m.add(entry.length->metres());
  }
  std::vector<SizeOnDay> sizes;
  if (lengths.empty()) return sizes;
  const auto weighings = believed_weighings(animal, day);
  for (const Measured& measured : lengths) {
    const auto away_ms = [&](const BelievedWeighing& weighing) {
      return std::abs(weighing.entry->at.unix_ms() - measured.at.unix_ms());
    };
    const auto nearest =
        std::min_element(weighings.begin(), weighings.end(),
                         [&](const auto& a, const auto& b) { return away_ms(a) < away_ms(b); });
    if (nearest == weighings.end()) continue;
    const Date weighed = day.date_of(*nearest->entry);
    if (std::abs(weighed - measured.on) > kSizeWindow_days) continue;
    sizes.push_back(
        {measured.on, weighed, {Length::metres(measured.length_m.value()), nearest->empty}, {}});
  }
  return sizes;
}

/// Takes out what cannot be believed beside the animal's other sizes.
std::vector<SizeOnDay> take_slips(std::vector<SizeOnDay>& sizes) {
  std::vector<SizeOnDay> slips;
  if (sizes.size() < 3) return slips;  // of two that differ, who knows which is wrong?
  std::vector<double> log_index;
  for (const SizeOnDay& one : sizes) {
    log_index.push_back(std::log(one.size.mass.kilograms()) -
                        kIsometry * std::log(one.size.length.metres()));
  }
  std::vector<SizeOnDay> believed;
  for (std::size_t i = 0; i < sizes.size(); ++i) {
    std::vector<double> rest = log_index;
    rest.erase(rest.begin() + static_cast<std::ptrdiff_t>(i));
    const bool slip = std::fabs(log_index[i] - median(rest)) > std::log(kSlip);
    (slip ? slips : believed).push_back(sizes[i]);
  }
  sizes = std::move(believed);
  return slips;
}

/// The animal's one size among those of its species: the means of ln L and ln M, which lie on the
/// same line as the sizes themselves.
Size mean_size(std::span<const SizeOnDay> sizes) {
  GeometricMean length_m, mass_kg;
  for (const SizeOnDay& one : sizes) {
    length_m.add(one.size.length.metres());
    mass_kg.add(one.size.mass.kilograms());
  }
  return {Length::metres(length_m.value()), Mass::kilograms(mass_kg.value())};
}

/// Why the slope of so many animals is not taken; empty: it is.
std::string against_slope(int animals, const Result<Allometry>& found) {
  if (animals < kFewestAnimals) {
    return fmt::format("only {} measured and a slope wants {}",
                       animals == 1 ? "this animal of its species is"
                                    : fmt::format("{} animals of its species are", animals),
                       kFewestAnimals);
  }
  if (!found) return found.problem().what;
  if (found->length_spread < kLeastSpread) {
    return fmt::format(
        "the {} measured animals are too alike in length for a slope ({:.0f} % "
        "standard deviation, {:.0f} % wanted)",
        animals, 100 * found->length_spread, 100 * kLeastSpread);
  }
  if (found->exponent_error > kIsometryError) {
    return fmt::format("the slope of {} animals is too uncertain ({:.2f} ± {:.2f})", animals,
                       found->exponent, found->exponent_error);
  }
  return "";
}

bool alike(Length a, Length b) {
  return a / b <= kLikeLength && b / a <= kLikeLength;
}

/// The latest against those of like length.
std::optional<Compared> compared(const SizeOnDay& latest, std::span<const SizeOnDay> with) {
  std::vector<double> indices_kg;
  for (const SizeOnDay& one : with) {
    if (alike(one.size.length, latest.size.length)) indices_kg.push_back(one.index.kilograms());
  }
  if (indices_kg.empty()) return std::nullopt;
  const Mass middle = Mass::kilograms(median(indices_kg));
  return Compared{static_cast<int>(indices_kg.size()), middle, latest.index / middle - 1};
}

std::string said_of(const BodyCondition& condition, bool fallen) {
  const auto percent = [](const Compared& c) { return 100 * std::fabs(c.change); };
  const auto side = [](const Compared& c) { return c.change < 0 ? "below" : "above"; };
  if (fallen) {
    return fmt::format("has lost {:.0f} % of its mass for its length", percent(*condition.earlier));
  }
  if (condition.earlier) {
    return fmt::format("weighs {:.0f} % {} its own middle for its length",
                       percent(*condition.earlier), side(*condition.earlier));
  }
  if (condition.others) {
    return fmt::format("weighs {:.0f} % {} the middle of its species here for its length",
                       percent(*condition.others), side(*condition.others));
  }
  return "has no other body condition of like length to compare with";
}

}  // namespace

Result<Allometry> allometry(std::span<const Size> sizes) {
  const auto refuse = [](std::string what) {
    return Problem{ProblemCode::out_of_range, std::move(what), {}, "", ""};
  };
  if (sizes.size() < 3) return refuse("a slope needs at least three animals");
  const auto n = static_cast<double>(sizes.size());
  double sum_length_m = 0, mean_x = 0, mean_y = 0;  // x = ln L, y = ln M
  for (const Size& one : sizes) {
    const double length_m = one.length.metres(), mass_kg = one.mass.kilograms();
    if (!(length_m > 0 && mass_kg > 0 && std::isfinite(length_m) && std::isfinite(mass_kg))) {
      return refuse("a length or mass is not above 0");
    }
    sum_length_m += length_m;
    mean_x += std::log(length_m) / n;
    mean_y += std::log(mass_kg) / n;
  }
  double xx = 0, yy = 0, xy = 0;
  for (const Size& one : sizes) {
    const double x = std::log(one.length.metres()) - mean_x;
    const double y = std::log(one.mass.kilograms()) - mean_y;
    xx += x * x;
    yy += y * y;
    xy += x * y;
  }
  // Equal values leave the rounding of their mean.
  constexpr double kRounding = 1e-12;
  if (std::sqrt(xx / n) < kRounding) return refuse("all lengths are equal");
  if (std::sqrt(yy / n) < kRounding) return refuse("all masses are equal");
  Allometry found;
  found.correlation = std::min(xy / std::sqrt(xx * yy), 1.0);
  if (!(found.correlation > 0)) return refuse("mass does not rise with length");
  found.ols_slope = xy / xx;
  found.exponent = found.ols_slope / found.correlation;
  found.exponent_error =
      found.exponent * std::sqrt((1 - found.correlation * found.correlation) / (n - 2));
  found.length_spread = std::sqrt(xx / (n - 1));
  found.mean_length = Length::metres(sum_length_m / n);
  return found;
}

Mass scaled_mass(const Size& size, double exponent, Length reference) {
  return size.mass * std::pow(reference / size.length, exponent);
}

BodyConditions::Sample BodyConditions::sample_of(const room::AnimalDay& animal,
                                                 const std::string& item) const {
  Sample sample;
  std::vector<Size> each;
  double sum_length_m = 0;
  for (const room::AnimalDay& other : day_->animals) {
    if (other.animal->species != animal.animal->species || other.animal->count != 1) continue;
    std::vector<SizeOnDay> sizes = sizes_of(other, item, *day_);
    if (sizes.empty()) continue;
    sample.not_believed[other.animal->id] = take_slips(sizes);
    if (sizes.empty()) continue;
    each.push_back(mean_size(sizes));
    sum_length_m += each.back().length.metres();
    sample.sizes[other.animal->id] = std::move(sizes);
  }
  const auto animals = static_cast<int>(each.size());
  if (animals > 0) sample.reference = Length::metres(sum_length_m / animals);
  const auto found = allometry(each);
  const std::string against = against_slope(animals, found);
  sample.isometric = !against.empty();
  sample.exponent = sample.isometric ? kIsometry : found->exponent;
  sample.exponent_why =
      sample.isometric
          ? fmt::format(
                "Exponent 3, a body that grows in all directions alike (common practice, no "
                "source), since {}",
                against)
          : fmt::format("Exponent {:.2f} ± {:.2f}, the slope of {} animals of the species",
                        found->exponent, found->exponent_error, animals);
  for (auto* list : {&sample.sizes, &sample.not_believed}) {
    for (auto& [id, sizes] : *list) {
      for (SizeOnDay& one : sizes) {
        one.index = scaled_mass(one.size, sample.exponent, sample.reference);
      }
    }
  }
  return sample;
}

std::optional<BodyCondition> BodyConditions::of(const room::AnimalDay& animal) {
  if (animal.animal->count != 1) return std::nullopt;
  const Entry* measured =
      day_->history->latest(room::subject_of(*animal.animal), EntryKind::measured);
  if (measured == nullptr) return std::nullopt;
  const std::string item = plain(measured->item);
  const std::pair key{animal.animal->species, item};
  auto at = samples_.find(key);
  if (at == samples_.end()) at = samples_.emplace(key, sample_of(animal, item)).first;
  const Sample& sample = at->second;
  const room::AnimalId& id = animal.animal->id;

  BodyCondition condition;
  condition.item = item;
  condition.exponent = sample.exponent;
  condition.isometric = sample.isometric;
  condition.exponent_why = sample.exponent_why;
  condition.reference = sample.reference;
  condition.animals = static_cast<int>(sample.sizes.size());
  if (const auto slips = sample.not_believed.find(id); slips != sample.not_believed.end()) {
    condition.not_believed = slips->second;
  }
  const auto own = sample.sizes.find(id);
  if (own == sample.sizes.end()) return condition;
  condition.sizes = own->second;
  const SizeOnDay& latest = condition.sizes.back();
  condition.earlier =
      compared(latest, std::span(condition.sizes).first(condition.sizes.size() - 1));
  std::vector<SizeOnDay> others;
  for (const auto& [other, sizes] : sample.sizes) {
    if (other != id) others.push_back(sizes.back());
  }
  condition.others = compared(latest, others);
  return condition;
}

std::string compared_words(const Compared& compared, std::string_view with, UnitSystem units) {
  return fmt::format("{:.1f} % {} {}, {}", 100 * std::fabs(compared.change),
                     compared.change < 0 ? "below" : "above", with,
                     for_people(compared.middle, units));
}

std::optional<Sign> body_condition_sign(const BodyCondition& condition,
                                        const room::AnimalDay& animal, const room::Day& day) {
  if (condition.sizes.empty()) return std::nullopt;
  const SizeOnDay& latest = condition.sizes.back();
  if (day.date - latest.measured > kTold_days) return std::nullopt;
  const UnitSystem units = day.room->info.units;
  const double told = animal.profile.group == Group::snake ? kFallSnake : kFall;
  const bool fallen = condition.earlier && condition.earlier->count >= kFewestEarlier &&
                      condition.earlier->change < -told;
  Sign sign;
  sign.response = fallen ? Response::watch : Response::change_nothing;
  sign.says = said_of(condition, fallen);
  const std::string size = fmt::format(
      "{} {} on {}, {} with an empty gut on {}", condition.item.empty() ? "length" : condition.item,
      for_people(latest.size.length, units), to_text(latest.measured),
      for_people(latest.size.mass, units), to_text(latest.weighed));
  sign.evidence = fmt::format("Scaled mass index {} at {}; {}.", for_people(latest.index, units),
                              for_people(condition.reference, units), size);
  if (condition.earlier) {
    sign.evidence += fmt::format(
        " It is {}.",
        compared_words(*condition.earlier,
                       fmt::format("the middle of its {} before", condition.earlier->count),
                       units));
  }
  if (condition.others) {
    sign.evidence += fmt::format(
        " It is {}.",
        compared_words(*condition.others,
                       fmt::format("the middle of {} of its species here", condition.others->count),
                       units));
  }
  sign.evidence += fmt::format(" {}.", condition.exponent_why);
  if (animal.brumating_since) {
    sign.evidence += fmt::format(" It has been in brumation since {}, and some loss is expected.",
                                 to_text(*animal.brumating_since));
  }
  const Entry* eggs = day.history->latest(room::subject_of(*animal.animal), EntryKind::laid_eggs);
  if (fallen && eggs != nullptr &&
      day.date_of(*eggs) > condition.sizes[condition.sizes.size() - 2].weighed) {
    sign.evidence +=
        fmt::format(" It laid eggs on {}, which takes mass.", to_text(day.date_of(*eggs)));
  }
  if (fallen) {
    sign.advice =
        "Measure it again, more than once, and weigh it before a meal: a length read 5 % too long "
        "feigns a loss of 14 %. If the loss stands, weigh it every two weeks; if it goes on, or it "
        "seems ill, call a veterinarian with reptile or amphibian experience.";
    sign.for_vet = fmt::format("{}; {:.0f} % below its {} before, for its length.", size,
                               -100 * condition.earlier->change, condition.earlier->count);
  }
  sign.source = kIndexSource;
  return sign;
}

}  // namespace warmside::health
