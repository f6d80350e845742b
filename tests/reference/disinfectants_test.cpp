// The rows of data/disinfectants.csv typed again from what was read, each block with its source,
// and compared with the table one by one: a row that is not here fails, and so does one that is
// missing.
//
// Concentrations of the sources in our percentages: 1000 ppm is 0.1 %; 1 mg/mL is 0.1 %; one part
// of household bleach (5.25 % sodium hypochlorite) in 32 is 0.164 %, written 0.16 %; 0.33 mL in a
// litre is 0.033 % of the concentrate; 100 mL of a 10 % product in a litre is 1 %; 5 ppm is 0.0005
// %. Times in seconds are rounded up to one minute, 18 h are 1080 min.

#include "hygiene/disinfectants.h"

#include <fmt/format.h>
#include <gmock/gmock.h>

#include <algorithm>

namespace warmside::hygiene {
namespace {

using O = Organism;

struct Expected {
  const char* ingredient;
  double strength_pct;  // or
  double heat_c;        // 0: no heat
  int minutes;
  std::vector<Organism> works_on, fails_on;
  Trust trust;
  const char* source;
};

const std::vector<Expected>& expected() {
  static const std::vector<Expected> rows{
      // CDC text on bleach, quoted on public pages: 5 tablespoons to a gallon, 1000 ppm or more,
      // one
      // minute on clean surfaces: bacteria and most viruses, not Cryptosporidium or coccidia.
      {"sodium hypochlorite",
       0.1,
       0,
       1,
       {O::bacteria, O::enveloped_viruses, O::other_viruses},
       {O::oocysts},
       Trust::verified_secondary,
       "cdc_bleach"},
      // Reptile veterinary literature on public pages: half a cup to a gallon, 1:32, 10 min.
      {"sodium hypochlorite",
       0.16,
       0,
       10,
       {O::bacteria, O::enveloped_viruses, O::other_viruses},
       {O::oocysts},
       Trust::common_practice,
       "common practice, no source"},
      // Bryan et al. 2009, abstract: 3 % bleach, 1 min, on ranavirus; a field protocol has Bd too.
      // That it is 3 parts household bleach in 100 is from memory.
      {"sodium hypochlorite",
       0.16,
       0,
       1,
       {O::ranavirus, O::bd},
       {O::oocysts},
       Trust::from_memory,
       "bryan2009"},
      // Van Rooij et al. 2017, from memory: 4 % sodium hypochlorite, 2 min.
      {"sodium hypochlorite", 4, 0, 2, {O::bsal}, {O::oocysts}, Trust::from_memory, "vanrooij2017"},
      // Bryan et al. 2009, abstract: 0.75 % and 2 % chlorhexidine, 1 min, on ranavirus. What else
      // it
      // reaches is from memory.
      {"chlorhexidine",
       0.75,
       0,
       1,
       {O::ranavirus},
       {O::oocysts, O::other_viruses},
       Trust::verified,
       "bryan2009"},
      {"chlorhexidine",
       0.75,
       0,
       1,
       {O::bacteria},
       {O::oocysts, O::other_viruses},
       Trust::from_memory,
       "bryan2009"},
      // The same: potassium peroxymonosulfate 1 %, 1 min.
      {"potassium peroxymonosulfate",
       1,
       0,
       1,
       {O::ranavirus},
       {O::oocysts},
       Trust::verified,
       "bryan2009"},
      // Johnson et al. 2003, abstract: 1 mg/mL, 20 s, on Bd; benzalkonium the same; ethanol 70 %.
      {"potassium peroxymonosulfate",
       0.1,
       0,
       1,
       {O::bd},
       {O::oocysts},
       Trust::verified,
       "johnson2003"},
      {"benzalkonium chloride",
       0.1,
       0,
       1,
       {O::bd},
       {O::oocysts, O::other_viruses},
       Trust::verified,
       "johnson2003"},
      {"ethanol",
       70,
       0,
       1,
       {O::bd},
       {O::oocysts, O::other_viruses},
       Trust::verified,
       "johnson2003"},
      // Van Rooij et al. 2017, from memory: ethanol 70 %, 30 s, on Bsal; bacteria from memory.
      {"ethanol",
       70,
       0,
       1,
       {O::bacteria, O::bsal},
       {O::oocysts, O::other_viruses},
       Trust::from_memory,
       "vanrooij2017"},
      // Webb et al. 2007, abstract: 0.33 mL of concentrate to a litre, 1 min, on Bd.
      {"quaternary ammonium with PHMB",
       0.033,
       0,
       1,
       {O::bd},
       {O::oocysts},
       Trust::verified,
       "webb2007"},
      // Public pages: 100 mL of a 10 % povidone-iodine product to a litre, 1 min, on Bd.
      {"povidone-iodine", 1, 0, 1, {O::bd}, {}, Trust::verified, "public_care_pages"},
      // From memory: 0.5 % accelerated peroxide 5 to 10 min (the longer is taken); 3 % peroxide
      // kept
      // wet for 20 min, advice of the CDC for Cryptosporidium in child care; ammonia 5 %, 18 h;
      // moist heat of 60 °C for 9 min.
      {"accelerated hydrogen peroxide",
       0.5,
       0,
       10,
       {O::bacteria, O::enveloped_viruses, O::other_viruses, O::bd},
       {O::oocysts},
       Trust::from_memory,
       "cdc_bleach"},
      {"hydrogen peroxide", 3, 0, 20, {O::oocysts}, {}, Trust::from_memory, "cdc_bleach"},
      {"ammonia",
       5,
       0,
       1080,
       {O::oocysts},
       {O::bacteria, O::enveloped_viruses, O::other_viruses},
       Trust::from_memory,
       "public_care_pages"},
      {"moist heat", 0, 60, 9, {O::oocysts, O::bd}, {}, Trust::from_memory, "public_care_pages"},
      // Bryan et al. 2009, abstract: 2 and 5 ppm for 60 min did not work.
      {"potassium permanganate", 0.0005, 0, 60, {}, {O::ranavirus}, Trust::verified, "bryan2009"},
  };
  return rows;
}

bool same(const Expected& wanted, const DisinfectantFact& row) {
  const auto sorted = [](std::vector<Organism> list) {
    std::sort(list.begin(), list.end());
    return list;
  };
  // A percentage read from text and one made from a double differ by a rounding at most.
  const bool strength =
      wanted.heat_c > 0
          ? row.heat && std::abs(row.heat->celsius() - wanted.heat_c) < 1e-9
          : row.strength && std::abs(row.strength->percent() - wanted.strength_pct) < 1e-12;
  return wanted.ingredient == row.ingredient && strength && wanted.minutes == row.minutes &&
         sorted(wanted.works_on) == sorted(row.works_on) &&
         sorted(wanted.fails_on) == sorted(row.fails_on) && wanted.trust == row.trust &&
         wanted.source == row.source;
}

std::string shown(const DisinfectantFact& row) {
  return fmt::format("{} {} {} min, {}", row.ingredient,
                     row.heat ? to_text(*row.heat) : to_text(*row.strength), row.minutes,
                     row.source);
}

TEST(DisinfectantTable, HasTheRowsOfItsSourcesAndNoOthers) {
  std::vector<const Expected*> left;
  for (const Expected& wanted : expected()) left.push_back(&wanted);
  for (const DisinfectantFact& row : disinfectants()) {
    const auto found = std::find_if(left.begin(), left.end(),
                                    [&](const Expected* wanted) { return same(*wanted, row); });
    if (found == left.end()) {
      ADD_FAILURE() << "not in the sources: " << shown(row);
    } else {
      left.erase(found);
    }
  }
  for (const Expected* wanted : left) ADD_FAILURE() << "not in the table: " << wanted->ingredient;
}

/// "ethanol 70%", as a notebook says it; with a part of the strength or of the warmth above 0 °C.
std::string words_for(const Expected& row, double part = 1) {
  return row.heat_c > 0 ? fmt::format("{} {}C", "hot water", row.heat_c * part)
                        : fmt::format("{} {}%", row.ingredient, row.strength_pct * part);
}

TEST(DisinfectantTable, AtItsStrengthAndTimeEachReachesWhatItsSourceSays) {
  for (const Expected& row : expected()) {
    const Coverage coverage = coverage_of(words_for(row), row.minutes);
    EXPECT_EQ(coverage.unknown, "") << words_for(row);
    for (const Organism organism : row.works_on) {
      EXPECT_TRUE(coverage.over(organism)) << words_for(row) << ": " << word(organism);
    }
    for (const Organism organism : row.fails_on) {
      EXPECT_FALSE(coverage.over(organism)) << words_for(row) << ": " << word(organism);
    }
  }
}

TEST(DisinfectantTable, ALittleWeakerOrShorterIsAnotherMatter) {
  for (const Expected& row : expected()) {
    for (const Organism organism : row.works_on) {
      // Unless a weaker or shorter row of the same ingredient reaches it too.
      const bool other = std::any_of(expected().begin(), expected().end(), [&](const Expected& e) {
        return &e != &row && std::string_view(e.ingredient) == row.ingredient &&
               std::find(e.works_on.begin(), e.works_on.end(), organism) != e.works_on.end();
      });
      if (other) continue;
      EXPECT_FALSE(coverage_of(words_for(row, 0.99), row.minutes).over(organism))
          << words_for(row) << ": " << word(organism);
      EXPECT_FALSE(coverage_of(words_for(row), row.minutes - 1).over(organism))
          << words_for(row) << ": " << word(organism);
    }
  }
}

// Bryan et al. 2009, abstract: of bleach 0.2 and 1 % did not work on ranavirus, 3 and 5 % did; of
// chlorhexidine 0.25 % did not. Household bleach of 5.25 %, 60 min to be generous.
TEST(DisinfectantTable, WhatFailedOnRanavirus) {
  for (const double bleach_pct : {0.2, 1.0}) {
    const auto coverage = coverage_of(fmt::format("bleach {}%", bleach_pct * 5.25 / 100), 60);
    EXPECT_FALSE(coverage.over(O::ranavirus)) << bleach_pct;
  }
  EXPECT_TRUE(coverage_of(fmt::format("bleach {}%", 5 * 5.25 / 100), 1).over(O::ranavirus));
  EXPECT_FALSE(coverage_of("chlorhexidine 0.25%", 60).over(O::ranavirus));
  EXPECT_TRUE(coverage_of("chlorhexidine 2%", 1).over(O::ranavirus));
}

// CDC, from memory: bleach at any strength that is mixed is no tool against Cryptosporidium, and of
// the table only heat, ammonia and strong peroxide are.
TEST(DisinfectantTable, OnlyThreeReachOocysts) {
  std::vector<std::string> reach;
  for (const DisinfectantFact& row : disinfectants()) {
    if (std::find(row.works_on.begin(), row.works_on.end(), O::oocysts) != row.works_on.end()) {
      reach.push_back(row.ingredient);
    }
  }
  EXPECT_THAT(reach, testing::UnorderedElementsAre("hydrogen peroxide", "ammonia", "moist heat"));
}

}  // namespace
}  // namespace warmside::hygiene
