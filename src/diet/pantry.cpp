#include "diet/pantry.h"

#include <algorithm>
#include <array>
#include <cctype>

namespace warmside::diet {
namespace {

constexpr std::array<std::string_view, 10> kWordsOfState{
    "frozen", "thawed", "live", "fresh", "raw", "whole", "dead", "killed", "the", "a"};

/// The singular of an English noun, by the rules that names of foods need.
std::string singular(std::string word) {
  constexpr std::array<std::array<std::string_view, 2>, 4> kIrregular{
      {{"mice", "mouse"}, {"leaves", "leaf"}, {"woodlice", "woodlouse"}, {"larvae", "larva"}}};
  for (const auto& [many, one] : kIrregular) {
    if (word == many) return std::string(one);
  }
  const auto ends = [&](std::string_view end) {
    return word.size() > end.size() + 1 && word.ends_with(end);
  };
  if (ends("ies")) return word.replace(word.size() - 3, 3, "y");
  if (ends("ches") || ends("shes") || ends("toes")) return word.substr(0, word.size() - 2);
  if (ends("s") && !ends("ss") && !ends("us")) word.pop_back();
  return word;
}

std::vector<std::string> words_in_order(std::string_view text) {
  std::vector<std::string> words;
  std::string word;
  const auto finish = [&] {
    if (word.empty()) return;
    if (std::find(kWordsOfState.begin(), kWordsOfState.end(), word) == kWordsOfState.end()) {
      words.push_back(singular(word));
    }
    word.clear();
  };
  for (const char c : text) {
    const auto byte = static_cast<unsigned char>(c);
    if (std::isalpha(byte) || byte >= 0x80) {
      word += static_cast<char>(std::tolower(byte));
    } else {
      finish();
    }
  }
  finish();
  return words;
}

/// The words before the noun and the noun of each name: of "mouse, adult" "mouse", of "woodlouse /
/// isopod" both.
std::vector<std::vector<std::string>> names_of(std::string_view name) {
  std::vector<std::vector<std::string>> names;
  while (!name.empty()) {
    const auto slash = std::min(name.find('/'), name.size());
    std::string_view one = name.substr(0, slash);
    // A remark in brackets is no part of the name where a name comes after it.
    const auto open = one.find('('), close = one.find(')');
    std::string plain(one.substr(0, std::min(open, one.size())));
    if (close != std::string_view::npos) plain += one.substr(close + 1);
    plain = plain.substr(0, std::min({plain.find(','), plain.find(" with "), plain.size()}));
    auto words = words_in_order(plain);
    if (!words.empty()) names.push_back(std::move(words));
    name.remove_prefix(std::min(slash + 1, name.size()));
  }
  return names;
}

bool among(const std::set<std::string>& words, const std::set<std::string>& all) {
  return std::includes(all.begin(), all.end(), words.begin(), words.end());
}

void put(Interval& amount, const std::optional<double>& given) {
  amount = given ? Interval::exactly(*given) : Interval::unknown();
}

}  // namespace

std::set<std::string> food_words(std::string_view text) {
  const auto words = words_in_order(text);
  return {words.begin(), words.end()};
}

Interval Match::piece_g() const {
  if (supply != nullptr && supply->piece_mass) {
    return Interval::exactly(supply->piece_mass->grams());
  }
  if (food == nullptr || !food->piece_mass) return Interval::unknown();
  return {food->piece_mass->low.grams(), food->piece_mass->high.grams()};
}

Food own_food(const room::OwnFood& own, const Food* base) {
  Food food = base == nullptr ? Food{} : *base;
  food.id = own.id.text();
  food.name = own.name;
  food.kind = own.kind;
  const Provenance keepers{Trust::keeper, own.source.empty() ? "the keeper" : own.source};
  if (own.water || own.energy_kcal_per_100g) {
    food.water_pct = own.water ? Interval::exactly(own.water->percent()) : Interval::unknown();
    put(food.energy_kcal_per_100g, own.energy_kcal_per_100g);
    food.energy_basis.reset();
    if (own.energy_kcal_per_100g) food.energy_basis = EnergyBasis::published;
    food.protein_pct = food.fat_pct = food.ash_pct = Interval::unknown();
    food.composition = keepers;
  }
  if (own.calcium_mg_per_kg || own.phosphorus_mg_per_kg) {
    put(food.calcium_mg_per_kg, own.calcium_mg_per_kg);
    put(food.phosphorus_mg_per_kg, own.phosphorus_mg_per_kg);
    food.minerals = keepers;
  }
  if (own.retinol_iu_per_kg || own.carotenoid_iu_per_kg || own.vitamin_d3_iu_per_kg ||
      own.vitamin_e_iu_per_kg) {
    put(food.retinol_iu_per_kg, own.retinol_iu_per_kg);
    put(food.carotenoid_iu_per_kg, own.carotenoid_iu_per_kg);
    put(food.vitamin_d3_iu_per_kg, own.vitamin_d3_iu_per_kg);
    put(food.vitamin_e_iu_per_kg, own.vitamin_e_iu_per_kg);
    food.vitamins = keepers;
  }
  if (own.oxalic_acid_g_per_100g) {
    put(food.oxalic_acid_g_per_100g, own.oxalic_acid_g_per_100g);
    food.oxalate = keepers;
  }
  if (own.piece_mass) {
    food.piece_mass = Range<Mass>{*own.piece_mass, *own.piece_mass};
    food.piece = keepers;
  }
  return food;
}

Pantry::Known Pantry::known(Food food) {
  Known known;
  known.name = food_words(food.name);
  known.stage = food_words(food.stage);
  known.all = known.name;
  known.all.insert(known.stage.begin(), known.stage.end());
  known.all.merge(food_words(food.scientific_name));
  known.all.merge(food_words(food.id));
  for (const auto& name : names_of(food.name)) {
    known.nouns.push_back(name.back());
    if (name.size() == 1) known.alone.insert(name.back());
  }
  known.food = std::move(food);
  return known;
}

Pantry::Pantry(const room::Room& room) : room_(room) {
  for (const Food& food : foods()) foods_.push_back(known(food));
  for (const room::OwnFood& own : room.own_foods) {
    Known laid_over = known(own_food(own, find_food(own.id.text())));
    const auto at = std::find_if(foods_.begin(), foods_.end(),
                                 [&](const Known& k) { return k.food.id == laid_over.food.id; });
    if (at != foods_.end()) {
      *at = std::move(laid_over);
    } else {
      foods_.push_back(std::move(laid_over));
    }
  }
}

const Food* Pantry::find(std::string_view id) const {
  const auto at = std::find_if(foods_.begin(), foods_.end(),
                               [&](const Known& known) { return known.food.id == id; });
  return at == foods_.end() ? nullptr : &at->food;
}

Match Pantry::match(const room::Supply& supply) const {
  Match match;
  if (!supply.food.empty()) {
    match.food = find(supply.food.text());
  } else {
    match = match_words(supply.name);
  }
  match.supply = &supply;
  return match;
}

Match Pantry::match(std::string_view words) const {
  const auto asked = asked_.find(words);
  if (asked != asked_.end()) return asked->second;
  return asked_.emplace(words, match_anew(words)).first->second;
}

Match Pantry::match_anew(std::string_view words) const {
  const auto wanted = food_words(words);
  for (const room::Supply& supply : room_.supplies) {
    const bool edible = supply.kind == room::SupplyKind::feeder ||
                        supply.kind == room::SupplyKind::frozen_prey ||
                        supply.kind == room::SupplyKind::plant_food;
    const bool named = !wanted.empty() && food_words(supply.name) == wanted;
    if (edible && (supply.id.text() == words || named)) {
      return match(supply);
    }
  }
  Match found = match_words(words);
  if (found.food == nullptr) return found;
  // The supply of that food, where there is one only: it knows what a piece weighs.
  for (const room::Supply& supply : room_.supplies) {
    if (supply.food.text() != found.food->id) continue;
    if (found.supply != nullptr) {
      found.supply = nullptr;
      break;
    }
    found.supply = &supply;
  }
  return found;
}

Match Pantry::match_words(std::string_view words) const {
  Match match;
  if ((match.food = find(words)) != nullptr) return match;
  const auto wanted = food_words(words);
  if (wanted.empty()) return match;
  std::vector<const Food*> whole, part;
  bool stands_alone = false;  // the one word is a whole name
  for (const Known& known : foods_) {
    const bool more_is_stage = std::all_of(wanted.begin(), wanted.end(), [&](const auto& word) {
      return known.name.contains(word) || known.stage.contains(word);
    });
    if (more_is_stage && among(known.name, wanted)) whole.push_back(&known.food);
    const bool names_it = std::any_of(known.nouns.begin(), known.nouns.end(),
                                      [&](const auto& noun) { return wanted.contains(noun); });
    if (wanted.size() == 1 && known.alone.contains(*wanted.begin())) stands_alone = true;
    if (names_it && among(wanted, known.all)) part.push_back(&known.food);
  }
  const auto& fitting = whole.empty() ? part : whole;
  if (fitting.size() == 1 && (!whole.empty() || wanted.size() > 1 || stands_alone)) {
    match.food = fitting.front();
  } else {
    match.could_be = fitting;
  }
  return match;
}

}  // namespace warmside::diet
