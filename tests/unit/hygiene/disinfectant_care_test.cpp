// The table data/disinfectant_care.csv: rows that matter, and what its reader refuses.

#include "hygiene/disinfectant_care.h"

#include <gmock/gmock.h>

#include "hygiene/disinfectants.h"

namespace warmside::hygiene {
namespace {

using testing::HasSubstr;

std::string text_of(std::string_view ingredient, CareTopic topic) {
  std::string text;
  for (const DisinfectantCare* care : care_of(ingredient)) {
    if (care->topic == topic) text += care->text + "\n";
  }
  return text;
}

// CDC text quoted on public pages: mixed fresh every 24 h.
TEST(DisinfectantCare, BleachKeepsForADay) {
  ASSERT_TRUE(mixture_keeps("sodium hypochlorite").has_value());
  EXPECT_EQ(*mixture_keeps("sodium hypochlorite"), Duration::hours(24));
  EXPECT_FALSE(mixture_keeps("chlorhexidine").has_value());
  EXPECT_THAT(text_of("sodium hypochlorite", CareTopic::keeps), Not(HasSubstr("label")));
  EXPECT_THAT(text_of("chlorhexidine", CareTopic::keeps), HasSubstr("label"));
}

TEST(DisinfectantCare, EveryDisinfectantHasItsCautions) {
  for (const DisinfectantFact& fact : disinfectants()) {
    for (const CareTopic topic :
         {CareTopic::first, CareTopic::keeps, CareTopic::after, CareTopic::never_with,
          CareTopic::people, CareTopic::amphibians}) {
      EXPECT_NE(text_of(fact.ingredient, topic), "") << fact.ingredient << ": " << word(topic);
    }
  }
  EXPECT_THAT(text_of("sodium hypochlorite", CareTopic::never_with),
              AllOf(HasSubstr("Ammonia"), HasSubstr("acid"), HasSubstr("can kill")));
  EXPECT_THAT(text_of("ammonia", CareTopic::never_with), HasSubstr("Bleach"));
  EXPECT_THAT(text_of("sodium hypochlorite", CareTopic::amphibians), HasSubstr("tadpole"));
}

TEST(DisinfectantCare, InTheOrderOfDoing) {
  const auto rows = care_of("sodium hypochlorite");
  EXPECT_TRUE(std::is_sorted(rows.begin(), rows.end(),
                             [](auto* a, auto* b) { return a->topic < b->topic; }));
  EXPECT_TRUE(rows.front()->ingredient.empty());  // what holds for all before its own
}

TEST(DisinfectantCare, TheTableIsReadStrictly) {
  const std::string head = "ingredient,topic,text,hours,status,source,note\n";
  EXPECT_TRUE(read_disinfectant_care(head + "any,keeps,x,24,verified,y,\n").ok());
  for (const char* row :
       {"gremlin oil,keeps,x,24,verified,y,", "any,smells,x,,verified,y,",
        "any,keeps,,24,verified,y,", "any,keeps,x,0,verified,y,", "any,keeps,x,a day,verified,y,",
        "any,first,x,24,verified,y,", "any,keeps,x,24,sure,y,", "any,keeps,x,24,verified,y"}) {
    const auto read = read_disinfectant_care(head + row + "\n");
    ASSERT_FALSE(read.ok()) << row;
    EXPECT_EQ(read.problem().front().where.line, 2) << row;
  }
}

TEST(Disinfectants, AreFoundByEachOfTheirNames) {
  for (const char* name : {"bleach", "Bleach", "hypochlorite", "sodium hypochlorite"}) {
    ASSERT_NE(find_disinfectant(name), nullptr) << name;
    EXPECT_EQ(find_disinfectant(name)->ingredient, "sodium hypochlorite");
  }
  EXPECT_EQ(find_disinfectant("ble"), nullptr);
  EXPECT_EQ(find_disinfectant(""), nullptr);
  EXPECT_EQ(ingredient_in("household bleach 5%"), "sodium hypochlorite");
  EXPECT_EQ(ingredient_in("bleach and ammonia"), "");
  EXPECT_EQ(ingredient_in("water"), "");
}

}  // namespace
}  // namespace warmside::hygiene
