#include "diet/rota_file.h"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <map>
#include <set>

#include "diet/energy.h"
#include "room/toml_reader_internal.h"

namespace warmside::diet {
namespace {

using room::Need;
using room::TableReader;

constexpr std::size_t kMostFoods = 200, kMostJars = 20, kMostAnimals = 500, kMostOffers = 20;
constexpr double kPriceOfAnother = 0.3;  // of a food that is not the first

/// "400" or "400..500".
struct WrittenAmount {
  Interval value;
  static Result<WrittenAmount> parse(std::string_view text) {
    const auto refused = [&] {
      return Problem{ProblemCode::bad_value,
                     "not an amount",
                     {},
                     "a number or low..high in quotes, 0 or more, such as \"400..500\"",
                     shown(text)};
    };
    const auto number = [](std::string_view part) -> std::optional<double> {
      double x = 0;
      const auto [end, error] = std::from_chars(part.data(), part.data() + part.size(), x);
      if (error != std::errc() || end != part.data() + part.size()) return std::nullopt;
      if (!(x >= 0 && x <= 1e9)) return std::nullopt;
      return x;
    };
    const auto dots = text.find("..");
    const auto low = number(text.substr(0, dots));
    const auto high =
        dots == std::string_view::npos ? low : number(text.substr(std::min(dots + 2, text.size())));
    if (!low || !high || *low > *high) return refused();
    return WrittenAmount{{*low, *high}};
  }
  std::string text(UnitSystem) const { return fmt::format("{}..{}", value.low, value.high); }
};

/// "8" or "6..10".
struct Pieces {
  int least = 1, most = 1;
  static Result<Pieces> parse(std::string_view text) {
    const auto amount = WrittenAmount::parse(text);
    const bool whole = amount && amount->value.low == std::floor(amount->value.low) &&
                       amount->value.high == std::floor(amount->value.high);
    if (!whole || amount->value.low < 1 || amount->value.high > 10'000) {
      return Problem{ProblemCode::bad_value,
                     "not a number of pieces",
                     {},
                     "whole pieces of one meal in quotes, such as \"8\" or \"6..10\"",
                     shown(text)};
    }
    return Pieces{static_cast<int>(amount->value.low), static_cast<int>(amount->value.high)};
  }
  std::string text(UnitSystem) const { return fmt::format("{}..{}", least, most); }
};

std::vector<std::string> split(std::string_view text) {
  std::vector<std::string> parts;
  while (!text.empty()) {
    const auto comma = text.find(',');
    std::string_view part = text.substr(0, comma);
    while (!part.empty() && part.front() == ' ') part.remove_prefix(1);
    while (!part.empty() && part.back() == ' ') part.remove_suffix(1);
    parts.emplace_back(part);
    text = comma == std::string_view::npos ? "" : text.substr(comma + 1);
  }
  return parts;
}

class RotaReader {
 public:
  RotaReader(const toml::table& root, std::string file) : root_(root), file_(std::move(file)) {}

  Checked<RotaProblem> read() {
    read_rota();
    read_prices();
    each(root_, "food", kMostFoods, "", [&](auto& reader, auto& at) { read_food(reader, at); });
    each(root_, "jar", kMostJars, "", [&](auto& reader, auto& at) { read_jar(reader, at); });
    each(root_, "animal", kMostAnimals, "",
         [&](auto& reader, auto& at) { read_animal(reader, at); });
    refuse_unknown();
    if (problems_.empty()) problems_ = placed(check(rota_), file_, lines_);
    if (!problems_.empty()) return problems_;
    return std::move(rota_);
  }

 private:
  Where where(const toml::node& node, std::string field) const {
    return {file_, static_cast<int>(node.source().begin.line), std::move(field)};
  }
  void refuse(ProblemCode code, const Where& where, std::string what, std::string expected,
              std::string_view found = "") {
    problems_.push_back({code, std::move(what), where, std::move(expected), shown(found)});
  }

  void read_rota() {
    const toml::node* node = root_.get("rota");
    if (node == nullptr || !node->is_table()) {
      refuse(ProblemCode::missing, {file_, 0, "rota"}, "must be given", "a table [rota]");
      return;
    }
    TableReader reader(*node->as_table(), where(*node, "rota"), problems_);
    reader("first_day", Need::must, rota_.first_day, "the first day, such as 2026-11-30");
    reader("days", Need::may, rota_.days, "how many: 7, 14, 21 or 28");
    reader.refuse_unknown();
    lines_["days"] = reader.at("days", node->as_table()->get("days")).line;
  }
  void read_prices() {
    const toml::node* node = root_.get("prices");
    if (node == nullptr) return;
    if (!node->is_table()) {
      refuse(ProblemCode::bad_value, where(*node, "prices"), "not a table", "[prices]");
      return;
    }
    lines_["prices"] = where(*node, "").line;
    TableReader reader(*node->as_table(), where(*node, "prices"), problems_);
    RotaPrices& p = rota_.prices;
    reader("opened_jar", Need::may, p.opened_jar, "of a jar on a day");
    reader("dusted_meal", Need::may, p.dusted_meal, "of a meal with powder");
    reader("unusual_jar", Need::may, p.unusual_jar, "of a meal with another jar than usual");
    reader("pieces_off", Need::may, p.pieces_off, "of pieces more or fewer than usual");
    reader("energy_off", Need::may, p.energy_off, "of energy outside the need");
    reader.refuse_unknown();
  }

  template <class Read>
  void each(const toml::table& table, const std::string& name, std::size_t most,
            const std::string& of, Read&& read) {
    const toml::node* node = table.get(name);
    if (node == nullptr) return;
    const toml::array* list = node->as_array();
    if (list == nullptr || !list->is_array_of_tables() || list->size() > most) {
      refuse(ProblemCode::bad_value, where(*node, of + name), "not a list of tables, or too long",
             fmt::format("[[{}{}]] before each, at most {}", of, name, most));
      return;
    }
    for (const toml::node& item : *list) {
      const toml::table& one = *item.as_table();
      const auto title = one["name"].value_or(std::string());
      const Where at =
          where(item, of + (title.empty() ? name : fmt::format("{} {}", name, shown(title))));
      TableReader reader(one, at, problems_);
      lines_[at.field] = at.line;
      read(reader, at);
      reader.refuse_unknown();
      for (const auto& [key, value] : one) {
        lines_[fmt::format("{}.{}", at.field, std::string_view(key.str()))] =
            static_cast<int>(value.source().begin.line);
      }
    }
  }

  /// The day of the rota, none when it is not given.
  std::optional<int> day_of(const std::optional<Date>& date) const {
    if (!date) return std::nullopt;
    return *date - rota_.first_day;
  }

  void read_food(TableReader& reader, const Where& at) {
    RotaFood food;
    std::string id;
    std::optional<Mass> piece;
    std::optional<Date> good_until;
    std::optional<Duration> gut_loaded;
    std::optional<FoodKind> kind;
    reader("name", Need::must, food.name, "what the animals' offers call it");
    reader("id", Need::may, id, "of data/foods.csv, such as \"cricket_house_adult\"");
    reader("piece", Need::may, piece, "the mass of one, such as \"0.4g\"");
    reader("stock", Need::may, food.stock, "pieces that there are");
    reader("good_until", Need::may, good_until, "the last day it can be fed");
    reader("gut_loaded", Need::may, gut_loaded, "how long it ate a high-calcium feed until fed");
    reader("kind", Need::may, kind, words_listed<FoodKind>().c_str());
    Food own;
    const Food* known = id.empty() ? nullptr : find_food(id);
    if (!id.empty() && known == nullptr) {
      refuse(ProblemCode::unknown_name, {file_, at.line, at.field + ".id"}, "no such food",
             "an id of data/foods.csv", id);
    }
    if (known != nullptr) own = *known;
    if (kind) own.kind = *kind;
    const auto amount = [&](const char* name, Interval& value, std::optional<Provenance>& group,
                            const char* words) {
      std::optional<WrittenAmount> given;
      reader(name, Need::may, given, words);
      if (!given) return;
      value = given->value;
      group = Provenance{Trust::keeper, "the rota file"};
    };
    amount("water_pct", own.water_pct, own.composition, "as fed, such as \"70\"");
    amount("energy_kcal_per_100g", own.energy_kcal_per_100g, own.composition, "metabolisable");
    amount("calcium_mg_per_kg", own.calcium_mg_per_kg, own.minerals, "as fed");
    amount("phosphorus_mg_per_kg", own.phosphorus_mg_per_kg, own.minerals, "as fed");
    amount("retinol_iu_per_kg", own.retinol_iu_per_kg, own.vitamins, "preformed vitamin A");
    amount("carotenoid_iu_per_kg", own.carotenoid_iu_per_kg, own.vitamins, "as fed");
    amount("vitamin_d3_iu_per_kg", own.vitamin_d3_iu_per_kg, own.vitamins, "as fed");
    amount("oxalic_acid_g_per_100g", own.oxalic_acid_g_per_100g, own.oxalate, "as fed");
    if (own.water_pct.known() && own.water_pct.high > 100) {
      refuse(ProblemCode::out_of_range, {file_, at.line, at.field + ".water_pct"},
             "more than the whole", "0 to 100", fmt::format("{:g}", own.water_pct.high));
      return;
    }
    if (!piece && own.piece_mass) {
      piece = Mass::grams(std::sqrt(own.piece_mass->low.grams() * own.piece_mass->high.grams()));
    }
    if (!piece || !(piece->grams() > 0)) {
      refuse(ProblemCode::missing, {file_, at.line, at.field + ".piece"},
             "the mass of a piece must be given", "such as \"0.4g\"");
      return;
    }
    food.piece = *piece;
    food.last_good_day = day_of(good_until);
    Serving serving{&own, *piece, {}, {}};
    if (gut_loaded && *gut_loaded >= Duration::hours(0)) serving.gut_load = {*gut_loaded, {}};
    food.per_piece = nutrients_of(serving);
    name_once("food", food.name, at);
    rota_.foods.push_back(std::move(food));
  }

  void read_jar(TableReader& reader, const Where& at) {
    RotaJar jar;
    room::SupplementKind contents = room::SupplementKind::other;
    std::optional<Percentage> calcium;
    Coat coat = Coat::light;
    Duration since = Duration::hours(0);
    std::optional<Date> good_until;
    reader("name", Need::must, jar.name, "what you wrote on it");
    reader("contents", Need::must, contents, words_listed<room::SupplementKind>().c_str());
    jar.supplement = usual_supplement(contents);
    reader("calcium", Need::may, calcium, "of its label, such as \"38%\"");
    const auto amount = [&](const char* name, Interval& value) {
      std::optional<WrittenAmount> given;
      reader(name, Need::may, given, "of its label, IU in a gram");
      if (given) value = given->value;
    };
    amount("vitamin_d3_iu_per_g", jar.supplement.vitamin_d3_iu_per_g);
    amount("retinol_iu_per_g", jar.supplement.retinol_iu_per_g);
    amount("carotenoid_iu_per_g", jar.supplement.carotenoid_iu_per_g);
    amount("vitamin_e_iu_per_g", jar.supplement.vitamin_e_iu_per_g);
    reader("coat", Need::may, coat, words_listed<Coat>().c_str());
    reader("since", Need::may, since, "from tub to mouth, such as \"30min\"");
    reader("good_until", Need::may, good_until, "the last day it can be used");
    if (calcium) jar.supplement.calcium_g_per_g = Interval::exactly(calcium->percent() / 100);
    if (calcium && !(calcium->percent() >= 0 && calcium->percent() <= 40.04)) {
      refuse(ProblemCode::out_of_range, {file_, at.line, at.field + ".calcium"},
             "more than pure calcium carbonate holds", "0% to 40.04%");
    }
    if (since < Duration::hours(0)) {
      refuse(ProblemCode::out_of_range, {file_, at.line, at.field + ".since"}, "before the tub",
             "0min or more");
      return;
    }
    jar.dust_g_per_g = dust_left_g_per_g(dust_at_first_g_per_g(coat), since);
    jar.last_good_day = day_of(good_until);
    name_once("jar", jar.name, at);
    rota_.jars.push_back(std::move(jar));
  }

  void read_animal(TableReader& reader, const Where& at) {
    RotaAnimal animal;
    std::string species, feed, jars, usual_jars;
    std::optional<DietClass> diet;
    std::optional<bool> amphibian, whole_prey;
    std::optional<Mass> mass;
    std::optional<WrittenAmount> energy;
    Stage stage = Stage::maintenance;
    reader("name", Need::must, animal.name, "what to call it");
    reader("species", Need::may, species, "of the care profiles: gives its diet and need");
    reader("diet", Need::may, diet, words_listed<DietClass>().c_str());
    reader("amphibian", Need::may, amphibian, "whether it is one");
    reader("whole_prey", Need::may, whole_prey, "whether it eats vertebrates whole");
    reader("uvb", Need::may, animal.circumstances.uvb_in_zone, "whether a lamp gives it its zone");
    reader("mass", Need::may, mass, "of its body, such as \"40g\"");
    reader("stage", Need::may, stage, words_listed<Stage>().c_str());
    reader("energy_kj_per_day", Need::may, energy, "its need, such as \"3..6\"");
    reader("feed", Need::must, feed, "\"daily\", \"every 3 days\" or \"Mon, Thu\"");
    reader("jars", Need::may, jars, "that it may get, such as \"calcium, multi\", or \"none\"");
    reader("usual_jars", Need::may, usual_jars,
           "in turn from meal to meal, such as \"none, multi\"");
    reader.know("offer");

    const species::Profile* profile = nullptr;
    if (!species.empty()) {
      const auto id = species::SpeciesId::parse(species);
      profile = id ? species::built_in().find(*id) : nullptr;
      if (profile == nullptr) {
        refuse(ProblemCode::unknown_name, {file_, at.line, at.field + ".species"},
               "no such species", "one of `warmside species`", species);
      }
    }
    std::string_view eats;
    if (profile != nullptr) eats = profile->text(species::Key::diet_class);
    if (!diet && profile != nullptr) diet = diet_class_of(eats);
    if (!diet) {
      refuse(ProblemCode::missing, {file_, at.line, at.field + ".diet"},
             "its diet must be given, or a species", words_listed<DietClass>());
      diet = DietClass::carnivore;
    }
    animal.circumstances.diet = *diet;
    animal.circumstances.amphibian =
        amphibian.value_or(profile != nullptr && is_amphibian(profile->group));
    animal.whole_prey = whole_prey.value_or(eats.starts_with("whole_prey"));
    animal.body = mass;
    read_energy(animal, energy, profile, mass, stage, at);
    read_feeding_days(animal, feed, at);
    read_offers(animal, at);
    read_jars(animal, jars, usual_jars, at);
    name_once("animal", animal.name, at);
    rota_.animals.push_back(std::move(animal));
  }

  void read_energy(RotaAnimal& animal, const std::optional<WrittenAmount>& given,
                   const species::Profile* profile, const std::optional<Mass>& mass, Stage stage,
                   const Where& at) {
    if (given) {
      if (!(given->value.low > 0)) {
        refuse(ProblemCode::out_of_range, {file_, at.line, at.field + ".energy_kj_per_day"},
               "no need at all", "more than 0");
        return;
      }
      const auto kj = [](double x) { return Energy::kilojoules(x); };
      animal.energy_per_day =
          EnergyBand{kj(given->value.low), kj(*best_estimate(given->value)), kj(given->value.high)};
      return;
    }
    if (profile == nullptr || !mass) return;
    const auto day = assumed_day(*profile);
    if (!day) return;
    const auto need = daily_need(profile->group, *mass, *day, stage);
    if (need) animal.energy_per_day = need->per_day();
  }

  void read_feeding_days(RotaAnimal& animal, const std::string& feed, const Where& at) {
    static constexpr std::array<std::string_view, 7> kDays{"Thu", "Fri", "Sat", "Sun",
                                                           "Mon", "Tue", "Wed"};  // 1970-01-01 on
    if (rota_.days < 1 || rota_.days > 28) return;
    int interval = 0;
    if (feed == "daily") interval = 1;
    if (feed.starts_with("every ") && feed.ends_with(" days")) {
      const auto number = std::string_view(feed).substr(6, feed.size() - 11);
      const auto [end, error] =
          std::from_chars(number.data(), number.data() + number.size(), interval);
      if (error != std::errc() || end != number.data() + number.size() || interval > 28)
        interval = 0;
    }
    if (interval > 0) {
      for (int day = 0; day < rota_.days; day += interval) animal.feeding_days.push_back(day);
      return;
    }
    std::set<std::ptrdiff_t> on;
    bool understood = !feed.empty();
    for (const std::string& word : split(feed)) {
      const auto day = std::find(kDays.begin(), kDays.end(), word);
      understood &= day != kDays.end();
      on.insert(day - kDays.begin());
    }
    if (!understood || interval < 0) {
      refuse(ProblemCode::bad_value, {file_, at.line, at.field + ".feed"}, "not days to feed on",
             "\"daily\", \"every 3 days\" (1 to 28, from the first day on) or \"Mon, Thu\"", feed);
      return;
    }
    for (int day = 0; day < rota_.days; ++day) {
      const int since = (rota_.first_day + day).days_from_epoch() % 7;
      if (on.contains((since + 7) % 7)) animal.feeding_days.push_back(day);
    }
  }

  void read_offers(RotaAnimal& animal, const Where& at) {
    const toml::table* table = table_at(at);
    if (table == nullptr) return;
    each(*table, "offer", kMostOffers, at.field + ".", [&](TableReader& reader, const Where& on) {
      RotaOffer offer;
      std::string food;
      Pieces pieces;
      std::optional<int> usual;
      offer.price = animal.offers.empty() ? 0 : kPriceOfAnother;
      reader("food", Need::must, food, "the name of a [[food]]");
      reader("pieces", Need::must, pieces, "of one meal, such as \"8\" or \"6..10\"");
      reader("usual", Need::may, usual, "what it gets now; else the middle");
      reader("price", Need::may, offer.price, "of a meal of it; 0 of the first, else 0.3");
      offer.least = pieces.least;
      offer.most = pieces.most;
      offer.usual = usual.value_or((pieces.least + pieces.most) / 2);
      if (const auto found = find(rota_.foods, food)) {
        offer.food = *found;
        animal.offers.push_back(offer);
      } else if (!food.empty()) {
        refuse(ProblemCode::unknown_name, {file_, on.line, on.field + ".food"}, "no such food",
               "the name of a [[food]]", food);
      }
    });
  }

  void read_jars(RotaAnimal& animal, const std::string& jars, const std::string& usual,
                 const Where& at) {
    const auto jar = [&](const std::string& name, const char* field) {
      const auto found = find(rota_.jars, name);
      if (!found) {
        refuse(ProblemCode::unknown_name, {file_, at.line, fmt::format("{}.{}", at.field, field)},
               "no such jar", "names of [[jar]], with commas between", name);
      }
      return found;
    };
    if (jars.empty() && !animal.whole_prey) {
      for (std::size_t j = 0; j < rota_.jars.size(); ++j) animal.jars.push_back(j);
    } else if (jars != "none") {
      for (const std::string& name : split(jars)) {
        if (const auto found = jar(name, "jars")) animal.jars.push_back(*found);
      }
    }
    if (usual.empty()) return;
    const auto turns = split(usual);
    for (std::size_t i = 0; i < animal.feeding_days.size(); ++i) {
      const std::string& name = turns[i % turns.size()];
      animal.usual_jars.push_back(name == "none" ? std::nullopt : jar(name, "usual_jars"));
    }
  }

  template <class Named>
  static std::optional<std::size_t> find(const std::vector<Named>& list, const std::string& name) {
    for (std::size_t i = 0; i < list.size(); ++i) {
      if (list[i].name == name) return i;
    }
    return std::nullopt;
  }
  void name_once(const std::string& kind, const std::string& name, const Where& at) {
    if (name.empty() || names_.insert({kind, name}).second) return;
    refuse(ProblemCode::duplicate, {file_, at.line, at.field + ".name"},
           fmt::format("a second {} of this name", kind), "a name of its own", name);
  }
  /// The table of an animal, by its line.
  const toml::table* table_at(const Where& at) const {
    const toml::array* animals = root_.get("animal")->as_array();
    for (const toml::node& node : *animals) {
      if (static_cast<int>(node.source().begin.line) == at.line) return node.as_table();
    }
    return nullptr;
  }

  void refuse_unknown() {
    static const std::set<std::string> known{"rota", "prices", "food", "jar", "animal"};
    for (const auto& [key, node] : root_) {
      if (known.contains(std::string(key.str()))) continue;
      refuse(ProblemCode::unknown_name, where(node, shown(key.str())), "no such part of a rota",
             fmt::format("one of {}", fmt::join(known, ", ")));
    }
  }

  const toml::table& root_;
  std::string file_;
  Problems problems_;
  RotaProblem rota_;
  std::set<std::pair<std::string, std::string>> names_;
  std::map<std::string, int> lines_;
};

}  // namespace

Checked<RotaProblem> read_rota_file(std::string_view text, const std::string& file_name) {
  const auto root = room::parse_toml(text, file_name, "a rota file as in docs/rota-file.md");
  if (!root) return root.problem();
  return RotaReader(*root, file_name).read();
}

}  // namespace warmside::diet
