#include "species/profile.h"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cmath>

#include "species/built_in_data.h"
#include "species/table.h"

namespace warmside::species {
namespace {

template <class T, std::size_t I = 0>
constexpr std::size_t kind_of() {
  if constexpr (std::is_same_v<std::variant_alternative_t<I, Value>, T>) {
    return I;
  } else {
    return kind_of<T, I + 1>();
  }
}

constexpr std::size_t kText = kind_of<std::string>();
constexpr std::size_t kNumber = kind_of<double>();
constexpr std::size_t kTemperature = kind_of<Temperature>();
constexpr std::size_t kTemperatures = kind_of<Range<Temperature>>();
constexpr std::size_t kShare = kind_of<Percentage>();
constexpr std::size_t kShares = kind_of<Range<Percentage>>();
constexpr std::size_t kUvi = kind_of<Range<UvIndex>>();
constexpr std::size_t kDuration = kind_of<Duration>();
constexpr std::size_t kDurations = kind_of<Range<Duration>>();
constexpr std::size_t kMass = kind_of<Mass>();
constexpr std::size_t kMasses = kind_of<Range<Mass>>();

constexpr KeyInfo kKeys[] = {
    {Key::basking_surface, "basking_surface", "basking surface", kTemperatures, "32C..35C"},
    {Key::warm_side_air, "warm_side_air", "warm side, air", kTemperatures, "26C..30C"},
    {Key::cool_side, "cool_side", "cool side", kTemperatures, "20C..24C"},
    {Key::night, "night", "night", kTemperatures, "18C..22C"},
    {Key::humidity, "humidity", "humidity", kShares, "40%..60%"},
    {Key::heat_alarm, "heat_alarm", "too warm from", kTemperature, "36C"},
    {Key::cold_alarm, "cold_alarm", "too cold from", kTemperature, "10C"},
    {Key::ferguson_zone, "ferguson_zone", "Ferguson zone", kText, "1-2"},
    {Key::uvi_gradient, "uvi_gradient", "UV index, average", kUvi, "0UVI..0.7UVI"},
    {Key::uvi_max, "uvi_max", "UV index, highest", kUvi, "0.6UVI..1.4UVI"},
    {Key::photoperiod_summer, "photoperiod_summer", "light in summer", kDuration, "13h"},
    {Key::photoperiod_winter, "photoperiod_winter", "light in winter", kDuration, "10h"},
    {Key::native_latitude, "native_latitude", "home latitude, degrees north", kNumber, "33"},
    {Key::brumation, "brumation", "brumation", kText, "optional"},
    {Key::brumation_temperature, "brumation_temperature", "brumation, temperature", kTemperatures,
     "10C..15C"},
    {Key::brumation_length, "brumation_length", "brumation, length", kDurations, "8wk..12wk"},
    {Key::adult_mass, "adult_mass", "adult mass", kMasses, "300g..900g"},
    {Key::open_data_max_mass, "open_data_max_mass", "largest mass in open data", kMass, "543.7g"},
    {Key::feed_interval_adult, "feed_interval_adult", "feeding, adult, every", kDuration, "10d"},
    {Key::feed_interval_juvenile, "feed_interval_juvenile", "feeding, young, every", kDuration,
     "6d"},
    {Key::feed_in_shed, "feed_in_shed", "fed while in shed", kText, "no"},
    {Key::diet_class, "diet_class", "diet", kText, "whole_prey"},
    {Key::meal_rule, "meal_rule", "meal", kText, "prey no wider than the body"},
    {Key::meal_share_adult, "meal_share_adult", "meal, adult, share of mass", kShares, "7%..10%"},
    {Key::meal_share_juvenile, "meal_share_juvenile", "meal, young, share of mass", kShares,
     "10%..15%"},
    {Key::weigh_interval, "weigh_interval", "weighing, every", kDuration, "30d"},
    {Key::mass_loss_limit, "mass_loss_limit", "loss of mass that matters", kShare, "10%"},
    {Key::ct_min, "ct_min", "critical minimum (no alarm level)", kTemperature, "6C"},
    {Key::ct_max, "ct_max", "critical maximum (no alarm level)", kTemperature, "42C"},
    {Key::field_body_temperature, "field_body_temperature", "body temperature in the wild",
     kTemperature, "34.6C"},
    {Key::longevity_max_years, "longevity_max_years", "longest life, years", kNumber, "32.3"},
    {Key::min_enclosure, "min_enclosure", "smallest enclosure", kText, "120cm x 60cm x 60cm"},
    {Key::quarantine_length, "quarantine_length", "quarantine", kDuration, "90d"},
    {Key::quarantine_tests, "quarantine_tests", "quarantine, tests", kText, "3 faecals"},
    {Key::notes, "notes", "notes", kText, "long fasts are normal"},
};

Result<Value> read_number(std::string_view text) {
  double n = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), n);
  if (error != std::errc{} || end != text.data() + text.size() || !std::isfinite(n)) {
    return Problem{
        ProblemCode::bad_value, "not a number", {}, "a number such as 32.3", shown(text)};
  }
  return Value(n);
}

template <class T>
Result<Value> as_value(Result<T> read) {
  if (!read) return read.problem();
  return Value(*read);
}

template <std::size_t I>
Result<Value> read_kind(std::string_view text) {
  using T = std::variant_alternative_t<I, Value>;
  if constexpr (std::is_same_v<T, std::string>) {
    return Value(std::string(text));
  } else if constexpr (std::is_same_v<T, double>) {
    return read_number(text);
  } else if constexpr (requires(T t) { t.low; }) {
    return as_value(parse_range<std::remove_cvref_t<decltype(T{}.low)>>(text));
  } else {
    return as_value(parse<T>(text));
  }
}

template <std::size_t... I>
Result<Value> read_as(std::size_t kind, std::string_view text, std::index_sequence<I...>) {
  using Reader = Result<Value> (*)(std::string_view);
  static constexpr Reader kReaders[] = {&read_kind<I>...};
  return kReaders[kind](text);
}

}  // namespace

std::span<const KeyInfo> all_keys() {
  return kKeys;
}

const KeyInfo& key_info(Key key) {
  const KeyInfo& info = kKeys[static_cast<std::size_t>(key)];
  WS_CHECK(info.key == key);
  return info;
}

std::optional<Key> find_key(std::string_view name) {
  const auto* info = std::find_if(std::begin(kKeys), std::end(kKeys),
                                  [&](const KeyInfo& k) { return k.name == name; });
  if (info == std::end(kKeys)) return std::nullopt;
  return info->key;
}

Result<Value> read_value(Key key, std::string_view text) {
  const KeyInfo& info = key_info(key);
  auto value = read_as(info.kind, text, std::make_index_sequence<std::variant_size_v<Value>>{});
  if (!value) {
    Problem problem = value.problem();
    problem.expected = fmt::format("{} such as {}", info.label, info.example);
    return problem;
  }
  const auto word_of = [&](std::initializer_list<std::string_view> words) -> Result<Value> {
    if (std::find(words.begin(), words.end(), text) != words.end()) return *value;
    return Problem{ProblemCode::bad_value,
                   "unknown word",
                   {},
                   fmt::format("one of {}", fmt::join(words, ", ")),
                   shown(text)};
  };
  if (key == Key::feed_in_shed) return word_of({"no", "yes"});
  if (key == Key::brumation) return word_of({"none", "optional", "usual"});
  if (key == Key::native_latitude && std::abs(std::get<double>(*value)) > 90) {
    return Problem{ProblemCode::out_of_range,
                   "no such latitude",
                   {},
                   "degrees from -90 to 90, north positive, such as 33",
                   shown(text)};
  }
  if (text.empty()) {
    return Problem{ProblemCode::missing,
                   "an empty value",
                   {},
                   fmt::format("{} such as {}", info.label, info.example),
                   ""};
  }
  return value;
}

std::string to_text(const Value& value, UnitSystem units) {
  return std::visit(
      [&](const auto& v) -> std::string {
        using T = std::remove_cvref_t<decltype(v)>;
        if constexpr (std::is_same_v<T, std::string>) {
          return v;
        } else if constexpr (std::is_same_v<T, double>) {
          return fmt::format("{}", v);
        } else {
          return warmside::to_text(v, units);
        }
      },
      value);
}

std::string for_people(const Value& value, UnitSystem units) {
  return std::visit(
      [&](const auto& v) -> std::string {
        using T = std::remove_cvref_t<decltype(v)>;
        if constexpr (std::is_same_v<T, std::string>) {
          return v;
        } else if constexpr (std::is_same_v<T, double>) {
          return fmt::format("{:.4g}", v);
        } else {
          return warmside::for_people(v, units);
        }
      },
      value);
}

const Fact* Profile::find(Key key) const {
  const auto at = std::lower_bound(facts.begin(), facts.end(), key,
                                   [](const Fact& f, Key k) { return f.key < k; });
  return at != facts.end() && at->key == key ? &*at : nullptr;
}

std::string_view Profile::text(Key key) const {
  const auto* text = value<std::string>(key);
  return text == nullptr ? std::string_view() : std::string_view(*text);
}

void Profile::put(Fact fact) {
  const auto at = std::lower_bound(facts.begin(), facts.end(), fact.key,
                                   [](const Fact& f, Key k) { return f.key < k; });
  if (at != facts.end() && at->key == fact.key) {
    *at = std::move(fact);
  } else {
    facts.insert(at, std::move(fact));
  }
}

Checked<Catalogue> Catalogue::read(std::string_view species_csv, std::string_view facts_csv) {
  Catalogue catalogue;
  Problems problems;
  read_table(
      "species.csv", species_csv, {"id", "common_name", "scientific_name", "group", "activity"},
      problems, [&](const std::vector<std::string_view>& f, int line) {
        const auto id = SpeciesId::parse(f[0]);
        const auto group = from_word<Group>(f[3]);
        const auto refuse = [&](const char* field, Problem problem) {
          problem.where = {"species.csv", line, field};
          problems.push_back(std::move(problem));
        };
        if (!id) return refuse("id", id.problem());
        if (!group) {
          return refuse("group", {ProblemCode::bad_value,
                                  "unknown group",
                                  {},
                                  words_listed<Group>(),
                                  std::string(f[3])});
        }
        if (std::any_of(catalogue.profiles_.begin(), catalogue.profiles_.end(),
                        [&](const Profile& p) { return p.id == *id; })) {
          return refuse(
              "id", {ProblemCode::duplicate, "the same species twice", {}, "", std::string(f[0])});
        }
        catalogue.profiles_.push_back(
            {*id, std::string(f[1]), std::string(f[2]), *group, std::string(f[4]), {}});
      });
  std::sort(catalogue.profiles_.begin(), catalogue.profiles_.end(),
            [](const Profile& a, const Profile& b) { return a.id < b.id; });
  read_table(
      "species_facts.csv", facts_csv, {"species", "key", "value", "status", "source", "note"},
      problems, [&](const std::vector<std::string_view>& f, int line) {
        const auto refuse = [&](const char* field, std::string what, std::string_view found) {
          problems.push_back({ProblemCode::bad_value,
                              std::move(what),
                              {"species_facts.csv", line, field},
                              "",
                              shown(found)});
        };
        const auto at = std::lower_bound(
            catalogue.profiles_.begin(), catalogue.profiles_.end(), f[0],
            [](const Profile& p, std::string_view id) { return p.id.text() < id; });
        const auto key = find_key(f[1]);
        const auto trust = from_word<Trust>(f[3]);
        if (at == catalogue.profiles_.end() || at->id.text() != f[0]) {
          return refuse("species", "unknown species", f[0]);
        }
        if (!key) return refuse("key", "unknown key", f[1]);
        if (!trust || *trust == Trust::keeper) return refuse("status", "unknown", f[3]);
        if (f[4].empty()) return refuse("source", "no source", f[4]);
        const auto value = read_value(*key, f[2]);
        if (!value) return refuse("value", to_line(value.problem()), f[2]);
        if (at->find(*key) != nullptr) return refuse("key", "said twice", f[1]);
        at->put({*key, *value, *trust, std::string(f[4]), std::string(f[5])});
      });
  if (!problems.empty()) return problems;
  return catalogue;
}

const Profile* Catalogue::find(const SpeciesId& id) const {
  const auto at = std::lower_bound(profiles_.begin(), profiles_.end(), id,
                                   [](const Profile& p, const SpeciesId& i) { return p.id < i; });
  return at != profiles_.end() && at->id == id ? &*at : nullptr;
}

const Catalogue& built_in() {
  static const Catalogue catalogue = [] {
    auto read = Catalogue::read(data::species_csv(), data::species_facts_csv());
    WS_CHECK(read.ok());  // ./check reads the same files before they are built in
    return std::move(read).value();
  }();
  return catalogue;
}

}  // namespace warmside::species
