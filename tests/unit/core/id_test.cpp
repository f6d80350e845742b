// Which texts may be ids, and that ids of different kinds do not mix.

#include "core/id.h"

#include <gtest/gtest.h>

#include <string>
#include <type_traits>

namespace warmside {
namespace {

struct Cat {};
struct Dog {};
using CatId = Id<Cat>;

static_assert(!std::is_convertible_v<CatId, Id<Dog>> && !std::is_constructible_v<CatId, Id<Dog>>);
static_assert(!std::is_convertible_v<std::string, CatId>);

TEST(IdText, Good) {
  for (const char* text : {"a", "7", "corn-1", "a_b-c", "0-", "a--b__"}) {
    const auto id = CatId::parse(text);
    ASSERT_TRUE(id.ok()) << text;
    EXPECT_EQ(id->text(), text);
    EXPECT_FALSE(id->empty());
  }
  EXPECT_TRUE(is_id_text(std::string(64, 'x')));
}

TEST(IdText, Bad) {
  for (const std::string_view text :
       {std::string_view(""), std::string_view("-a"), std::string_view("_a"),
        std::string_view("Corn"), std::string_view("corn 1"), std::string_view("corn.1"),
        std::string_view("corn/1"), std::string_view("../x"), std::string_view("korn\xC3\xB8"),
        std::string_view("a\0", 2), std::string_view("a\n"), std::string_view(" a")}) {
    EXPECT_FALSE(is_id_text(text)) << text;
    const auto id = CatId::parse(text);
    ASSERT_FALSE(id.ok()) << text;
    EXPECT_EQ(id.problem().code, ProblemCode::bad_value);
    EXPECT_EQ(id.problem().found, shown(text));
  }
  // What steers a terminal or ends a text does not stand in a message as it came.
  EXPECT_EQ(CatId::parse(std::string_view("a\0", 2)).problem().found, "a?");
  EXPECT_EQ(CatId::parse("a\n").problem().found, "a?");
  EXPECT_FALSE(is_id_text(std::string(65, 'x')));
  EXPECT_EQ(CatId::parse(std::string(1000, 'x')).problem().found.size(), 40u);
}

TEST(Id, EmptyIsNoRecordAndOrderIsThatOfTexts) {
  EXPECT_TRUE(CatId().empty());
  EXPECT_EQ(CatId(), CatId::trusted(""));
  EXPECT_LT(CatId::trusted("a"), CatId::trusted("b"));
  EXPECT_LT(CatId::trusted("corn-10"), CatId::trusted("corn-2"));
  EXPECT_EQ(CatId::trusted("a"), *CatId::parse("a"));
}

}  // namespace
}  // namespace warmside
