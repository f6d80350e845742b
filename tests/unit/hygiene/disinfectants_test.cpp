// What disinfectants cover. Each expectation is of a published finding, named beside it
// (docs/sources.bib); the rows themselves stand in data/disinfectants.csv.

#include "hygiene/disinfectants.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace warmside::hygiene {
namespace {

using testing::HasSubstr;
using testing::IsEmpty;

bool covers(std::string_view with, int minutes, Organism organism) {
  const Coverage coverage = coverage_of(with, minutes);
  EXPECT_THAT(coverage.unknown, IsEmpty()) << with;
  return coverage.over(organism);
}

// CDC, quoted on public pages: 1000 ppm or more, one minute; not against oocysts (from memory).
TEST(Disinfectants, Bleach) {
  EXPECT_TRUE(covers("bleach 0.1%", 1, Organism::bacteria));
  EXPECT_FALSE(covers("bleach 0.09%", 1, Organism::bacteria));
  EXPECT_FALSE(covers("bleach 5%", 600, Organism::oocysts));
  // Bryan et al. 2009: 3 % of household bleach on ranavirus, 1 % (0.05 %) not.
  EXPECT_TRUE(covers("sodium hypochlorite 0.16%", 1, Organism::ranavirus));
  EXPECT_FALSE(covers("sodium hypochlorite 0.05%", 60, Organism::ranavirus));
}

// Bryan et al. 2009: chlorhexidine 0.75 and 2 % for a minute worked on ranavirus, 0.25 % failed;
// peroxymonosulfate 1 % worked; potassium permanganate 2 and 5 ppm failed.
TEST(Disinfectants, OnRanavirus) {
  EXPECT_TRUE(covers("chlorhexidine 0.75 %", 1, Organism::ranavirus));
  EXPECT_TRUE(covers("2% chlorhexidine", 1, Organism::ranavirus));
  EXPECT_FALSE(covers("chlorhexidine 0.25%", 60, Organism::ranavirus));
  EXPECT_TRUE(covers("potassium peroxymonosulfate 1 %", 1, Organism::ranavirus));
  EXPECT_FALSE(covers("potassium permanganate 0.0005%", 60, Organism::ranavirus));
}

// Johnson et al. 2003: benzalkonium chloride 1 mg/mL, peroxymonosulfate 1 mg/mL, ethanol 70 % for
// 20 s on Bd. Webb et al. 2007: the concentrate of quaternary ammonium with PHMB at 0.33 mL/L.
TEST(Disinfectants, OnTheChytridFungus) {
  for (const char* with : {"benzalkonium chloride 0.1%", "peroxymonosulfate 0.1%", "ethanol 70%",
                           "PHMB 0.033%", "hot water 60C"}) {
    EXPECT_TRUE(covers(with, 10, Organism::bd)) << with;
  }
  EXPECT_FALSE(covers("ethanol 50%", 10, Organism::bd));
}

// From memory: oocysts only by heat, ammonia or strong peroxide.
TEST(Disinfectants, OnOocysts) {
  EXPECT_TRUE(covers("steam 100C", 10, Organism::oocysts));
  EXPECT_FALSE(covers("hot water 40C", 60, Organism::oocysts));
  EXPECT_TRUE(covers("ammonia 5%", 1080, Organism::oocysts));
  EXPECT_FALSE(covers("ammonia 5%", 30, Organism::oocysts));
  EXPECT_TRUE(covers("hydrogen peroxide 3%", 20, Organism::oocysts));
  EXPECT_FALSE(covers("accelerated hydrogen peroxide 0.5%", 20, Organism::oocysts));
}

TEST(Disinfectants, WhatIsNotSaidIsUnknown) {
  EXPECT_THAT(coverage_of("bleach 0.5%", std::nullopt).unknown, HasSubstr("no contact time"));
  EXPECT_THAT(coverage_of("bleach 0.5%", 0).unknown, HasSubstr("no contact time"));
  EXPECT_THAT(coverage_of("bleach", 10).unknown, HasSubstr("no strength"));
  EXPECT_THAT(coverage_of("", 10).unknown, HasSubstr("nobody wrote"));
  EXPECT_THAT(coverage_of("lemon juice 5%", 10).unknown, HasSubstr("not a disinfectant"));
  EXPECT_THAT(coverage_of("bleach 0.5% and ammonia 5%", 10).unknown, HasSubstr("two"));
  EXPECT_THAT(coverage_of("bleached wood 5%", 10).unknown, HasSubstr("not a disinfectant"));
  EXPECT_THAT(coverage_of("bleach 0.5%", std::nullopt).covers, IsEmpty());
}

// The usual caution: bleach with ammonia or acid sets free gas that can kill.
TEST(Disinfectants, WhatMustNeverBeMixed) {
  for (const char* with : {"bleach 0.5% and ammonia 5%", "bleach 0.1% with vinegar",
                           "Bleach 0.1% + citric acid", "hydrogen peroxide 3%, vinegar"}) {
    EXPECT_TRUE(coverage_of(with, 10).mixed) << with;
    EXPECT_NE(coverage_of(with, 10).unknown, "") << with;
    EXPECT_THAT(coverage_of(with, 10).covers, IsEmpty()) << with;
  }
  for (const char* with :
       {"bleach 0.5%", "vinegar", "ethanol 70%", "bleach 0.1% (acidity low)", ""}) {
    EXPECT_FALSE(coverage_of(with, 10).mixed) << with;
  }
}

TEST(Disinfectants, TheTableIsReadStrictly) {
  const std::string head =
      "ingredient,names,strength,minutes,works_on,fails_on,status,source,note\n";
  EXPECT_TRUE(read_disinfectants(head + "x,x,1%,1,Bd,,verified,y,\n").ok());
  for (const char* row :
       {"x,x,1,1,Bd,,verified,y,", "x,x,1%,0,Bd,,verified,y,", "x,x,1%,1,gremlins,,verified,y,",
        "x,,1%,1,Bd,,verified,y,", "x,x,1%,1,Bd,,sure,y,", "x,x,1%,1,Bd,,verified,y"}) {
    const auto read = read_disinfectants(head + row + "\n");
    ASSERT_FALSE(read.ok()) << row;
    EXPECT_EQ(read.problem().front().where.line, 2) << row;
  }
}

}  // namespace
}  // namespace warmside::hygiene
