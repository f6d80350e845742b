#include "diet/foods.h"

#include <algorithm>
#include <charconv>

#include "species/built_in_data.h"
#include "species/table.h"

namespace warmside::diet {
namespace {

constexpr const char* kFile = "foods.csv";

const std::vector<std::string_view> kColumns{"id",
                                             "name",
                                             "scientific_name",
                                             "kind",
                                             "stage",
                                             "water_pct",
                                             "energy_kcal_per_100g",
                                             "energy_basis",
                                             "protein_pct",
                                             "fat_pct",
                                             "ash_pct",
                                             "composition_status",
                                             "composition_source",
                                             "calcium_mg_per_kg",
                                             "phosphorus_mg_per_kg",
                                             "minerals_status",
                                             "minerals_source",
                                             "retinol_iu_per_kg",
                                             "carotenoid_iu_per_kg",
                                             "vitamin_d3_iu_per_kg",
                                             "vitamins_status",
                                             "vitamins_source",
                                             "oxalic_acid_g_per_100g",
                                             "oxalate_status",
                                             "oxalate_source",
                                             "goitrogenic",
                                             "piece_mass_g",
                                             "piece_status",
                                             "piece_source",
                                             "note"};

/// The most that a food can hold; wide bounds of our own, meant to catch slips.
struct Amount {
  std::string_view column;
  Interval Food::*field;
  double highest;
};
constexpr Amount kAmounts[] = {
    {"water_pct", &Food::water_pct, 100},
    {"energy_kcal_per_100g", &Food::energy_kcal_per_100g, 900},  // pure fat
    {"protein_pct", &Food::protein_pct, 100},
    {"fat_pct", &Food::fat_pct, 100},
    {"ash_pct", &Food::ash_pct, 100},
    {"calcium_mg_per_kg", &Food::calcium_mg_per_kg, 400000},  // chalk
    {"phosphorus_mg_per_kg", &Food::phosphorus_mg_per_kg, 100000},
    {"retinol_iu_per_kg", &Food::retinol_iu_per_kg, 1e6},
    {"carotenoid_iu_per_kg", &Food::carotenoid_iu_per_kg, 1e6},
    {"vitamin_d3_iu_per_kg", &Food::vitamin_d3_iu_per_kg, 1e6},
    {"oxalic_acid_g_per_100g", &Food::oxalic_acid_g_per_100g, 20},
};

/// Crude protein is nitrogen times 6.25 and so counts chitin too; the butterworm's printed parts
/// make 105.9 %.
constexpr double kMostOfAllParts_pct = 107;

/// Columns that share a status and a source.
struct GroupOfValues {
  std::string_view name;
  std::optional<Provenance> Food::*provenance;
  std::vector<std::string_view> columns;
};
const std::vector<GroupOfValues> kGroups{
    {"composition",
     &Food::composition,
     {"water_pct", "energy_kcal_per_100g", "protein_pct", "fat_pct", "ash_pct"}},
    {"minerals", &Food::minerals, {"calcium_mg_per_kg", "phosphorus_mg_per_kg"}},
    {"vitamins",
     &Food::vitamins,
     {"retinol_iu_per_kg", "carotenoid_iu_per_kg", "vitamin_d3_iu_per_kg"}},
    {"oxalate", &Food::oxalate, {"oxalic_acid_g_per_100g"}},
    {"piece", &Food::piece, {"piece_mass_g"}},
};

std::optional<double> number(std::string_view text) {
  double value = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (error != std::errc{} || end != text.data() + text.size()) return std::nullopt;
  if (!(value >= 0) || !std::isfinite(value)) return std::nullopt;
  return value;
}

/// "" unknown, "<256", "407", "407..434".
std::optional<Interval> interval(std::string_view text) {
  if (text.empty()) return Interval::unknown();
  if (text.front() == '<') {
    const auto limit = number(text.substr(1));
    return limit ? std::optional(Interval{0, *limit}) : std::nullopt;
  }
  const auto dots = text.find("..");
  if (dots == std::string_view::npos) {
    const auto value = number(text);
    return value ? std::optional(Interval::exactly(*value)) : std::nullopt;
  }
  const auto low = number(text.substr(0, dots)), high = number(text.substr(dots + 2));
  if (!low || !high || *low > *high) return std::nullopt;
  return Interval{*low, *high};
}

/// One row being read; every problem goes to the list.
class Row {
 public:
  Row(const std::vector<std::string_view>& fields, int line, Problems& problems)
      : fields_(fields), line_(line), problems_(problems) {}

  Food read() {
    Food food;
    food.id = text("id");
    food.name = text("name");
    if (food.id.empty() || food.name.empty()) refuse("id", "a food needs an id and a name", "");
    food.scientific_name = text("scientific_name");
    food.stage = text("stage");
    food.note = text("note");
    food.kind = worded<FoodKind>("kind").value_or(FoodKind::invertebrate);
    for (const Amount& amount : kAmounts) read_amount(amount, food);
    if (!text("energy_basis").empty()) food.energy_basis = worded<EnergyBasis>("energy_basis");
    if (food.energy_kcal_per_100g.known() != !text("energy_basis").empty()) {
      refuse("energy_basis", "an energy and its basis go together", text("energy_basis"));
    }
    read_piece(food);
    food.goitrogenic = text("goitrogenic") == "yes";
    if (!food.goitrogenic && text("goitrogenic") != "no") {
      refuse("goitrogenic", "not yes or no", text("goitrogenic"));
    }
    for (const GroupOfValues& group : kGroups) read_provenance(group, food);
    if (food.water_pct.low + food.protein_pct.low + food.fat_pct.low + food.ash_pct.low >
        kMostOfAllParts_pct) {
      refuse("water_pct", "the parts are more than the whole", text("water_pct"));
    }
    return food;
  }

 private:
  std::string text(std::string_view column) const {
    const auto at = std::find(kColumns.begin(), kColumns.end(), column);
    return std::string(fields_[static_cast<std::size_t>(at - kColumns.begin())]);
  }

  void refuse(std::string_view column, const char* what, std::string_view found,
              ProblemCode code = ProblemCode::bad_value) {
    problems_.push_back({code, what, {kFile, line_, std::string(column)}, "", shown(found)});
  }

  template <Worded E>
  std::optional<E> worded(std::string_view column) {
    const auto value = from_word<E>(text(column));
    if (!value) refuse(column, "unknown word", text(column));
    return value;
  }

  void read_amount(const Amount& amount, Food& food) {
    const std::string found = text(amount.column);
    const auto value = interval(found);
    if (!value) return refuse(amount.column, "not a number, low..high or <limit", found);
    if (value->known() && value->high > amount.highest) {
      return refuse(amount.column, "more than a food can hold", found, ProblemCode::out_of_range);
    }
    food.*amount.field = *value;
  }

  void read_piece(Food& food) {
    const std::string found = text("piece_mass_g");
    if (found.empty()) return;
    const auto grams = interval(found);
    if (!grams || !(grams->low > 0)) {
      return refuse("piece_mass_g", "not a number or low..high above 0", found);
    }
    food.piece_mass = Range<Mass>{Mass::grams(grams->low), Mass::grams(grams->high)};
  }

  void read_provenance(const GroupOfValues& group, Food& food) {
    const std::string name(group.name);
    const std::string status = text(name + "_status"), source = text(name + "_source");
    const bool has_value = std::any_of(group.columns.begin(), group.columns.end(),
                                       [&](std::string_view c) { return !text(c).empty(); });
    if (has_value != !status.empty() || has_value != !source.empty()) {
      return refuse(name + "_status", "values, a status and a source go together", status);
    }
    if (!has_value) return;
    if (const auto trust = worded<Trust>(name + "_status")) {
      food.*group.provenance = Provenance{*trust, source};
    }
  }

  const std::vector<std::string_view>& fields_;
  int line_;
  Problems& problems_;
};

bool by_id(const Food& a, const Food& b) {
  return a.id < b.id;
}

}  // namespace

Checked<std::vector<Food>> read_foods(std::string_view csv) {
  std::vector<Food> table;
  Problems problems;
  species::read_table(
      kFile, csv, kColumns, problems, [&](const std::vector<std::string_view>& fields, int line) {
        table.push_back(Row(fields, line, problems).read());
        const std::string& id = table.back().id;
        if (std::count_if(table.begin(), table.end(), [&](const Food& f) { return f.id == id; }) >
            1) {
          problems.push_back({ProblemCode::duplicate,
                              "a second food of this id",
                              {kFile, line, "id"},
                              "",
                              shown(id)});
        }
      });
  if (!problems.empty()) return problems;
  std::sort(table.begin(), table.end(), by_id);
  return table;
}

std::span<const Food> foods() {
  static const std::vector<Food> table = [] {
    auto read = read_foods(data::foods_csv());
    WS_CHECK(read.ok());  // ./check reads the same file before it is built in
    return std::move(read).value();
  }();
  return table;
}

const Food* find_food(std::string_view id) {
  const auto table = foods();
  const auto at =
      std::lower_bound(table.begin(), table.end(), id,
                       [](const Food& f, std::string_view wanted) { return f.id < wanted; });
  return at != table.end() && at->id == id ? &*at : nullptr;
}

}  // namespace warmside::diet
