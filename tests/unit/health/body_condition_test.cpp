// Mass for length: the formula on a table worked by hand, the formula on an animal's notebook.

#include "health/body_condition.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>

#include "health/signs.h"
#include "support/room_builder.h"

namespace warmside::health {
namespace {

using room::EntryKind;
using test::date;
using test::q;
using test::RoomBuilder;
using testing::HasSubstr;

Size size(double length_mm, double mass_g) {
  return {Length::millimetres(length_mm), Mass::grams(mass_g)};
}

// ---- The formula -------------------------------------------------------------------------------

// Five animals whose logarithms to the base 2 are whole numbers; slopes and correlations are the
// same in every base. With x = log2(L / 10 mm), y = log2(M / 1 g):
//
//     L, mm   M, g     x   y    x - 2   y - 6   (x-2)^2  (y-6)^2  (x-2)(y-6)
//       10       1     0    0     -2      -6       4        36        12
//       20       4     1    2     -1      -4       1        16         4
//       40     128     2    7      0       1       0         1         0
//       80     512     3    9      1       3       1         9         3
//      160    4096     4   12      2       6       4        36        12
//     sum of x: 10, mean 2; of y: 30, mean 6      10        98        31
//
//     b_OLS = 31 / 10 = 3.1,   r = 31 / sqrt(10 * 98) = 31 / 31.304952 = 0.9902587
//     b = b_OLS / r = 3.1 / 0.9902587 = 3.1304952 (which is sqrt(98 / 10))
//     its error: 3.1304952 sqrt((1 - 961/980) / 3) = 3.1304952 sqrt(0.0064626) = 0.251661
//     spread of ln L: sqrt(10 / 4) ln 2 = 1.5811388 * 0.6931472 = 1.0959620
//     L0 = (10 + 20 + 40 + 80 + 160) / 5 = 62 mm
//     index of the third: 128 (62/40)^3.1304952 = 128 exp(3.1304952 * 0.4382549)
//                       = 128 exp(1.3719550) = 128 * 3.943051 = 504.71 g
//     index of the last: 4096 (62/160)^3.1304952 = 4096 exp(3.1304952 * -0.9480394)
//                       = 4096 exp(-2.9678329) = 4096 * 0.0514146 = 210.59 g
// Tolerances: the digits carried above.
TEST(ScaledMassIndex, FiveAnimalsByHand) {
  const std::vector<Size> sizes{size(10, 1), size(20, 4), size(40, 128), size(80, 512),
                                size(160, 4096)};
  const auto found = allometry(sizes);
  ASSERT_TRUE(found);
  EXPECT_NEAR(found->ols_slope, 3.1, 1e-12);
  EXPECT_NEAR(found->correlation, 0.9902587, 1e-7);
  EXPECT_NEAR(found->exponent, 3.1304952, 1e-7);
  EXPECT_NEAR(found->exponent_error, 0.251661, 1e-6);
  EXPECT_NEAR(found->length_spread, 1.0959620, 1e-7);
  EXPECT_NEAR(found->mean_length.millimetres(), 62, 1e-12);
  const auto index = [&](const Size& one) {
    return scaled_mass(one, found->exponent, found->mean_length).grams();
  };
  EXPECT_NEAR(index(sizes[2]), 504.71, 0.01);
  EXPECT_NEAR(index(sizes[4]), 210.59, 0.01);
}

TEST(ScaledMassIndex, NoSlopeWhereThereIsNone) {
  const auto refused = [](std::vector<Size> sizes) {
    const auto found = allometry(sizes);
    return found ? std::string("a slope") : found.problem().what;
  };
  EXPECT_THAT(refused({}), HasSubstr("at least three"));
  EXPECT_THAT(refused({size(40, 10)}), HasSubstr("at least three"));
  EXPECT_THAT(refused({size(40, 10), size(50, 20)}), HasSubstr("at least three"));
  EXPECT_THAT(refused({size(40.1, 10), size(40.1, 11), size(40.1, 12)}),
              HasSubstr("lengths are equal"));
  EXPECT_THAT(refused({size(40, 10.1), size(50, 10.1), size(60, 10.1)}),
              HasSubstr("masses are equal"));
  EXPECT_THAT(refused({size(40, 30), size(50, 20), size(60, 10)}), HasSubstr("does not rise"));
  // r = 0 exactly: the masses of both ends are the same.
  EXPECT_THAT(refused({size(10, 8), size(20, 16), size(40, 8)}), HasSubstr("does not rise"));
  EXPECT_THAT(refused({size(0, 10), size(50, 20), size(60, 30)}), HasSubstr("not above 0"));
  EXPECT_THAT(refused({size(40, -1), size(50, 20), size(60, 30)}), HasSubstr("not above 0"));
  EXPECT_THAT(refused({size(NAN, 10), size(50, 20), size(60, 30)}), HasSubstr("not above 0"));
  EXPECT_THAT(refused({size(INFINITY, 10), size(50, 20), size(60, 30)}), HasSubstr("not above 0"));
}

// ---- The notebook ------------------------------------------------------------------------------

constexpr const char* kToday = "2026-11-25";

class Book : public RoomBuilder {
 public:
  Book& measured(int ago, const char* animal, const char* length, const char* item = "snout-vent") {
    entry(to_text(date(kToday) - ago), EntryKind::measured, animal, [&](room::Entry& e) {
      e.length = q<Length>(length);
      e.item = item;
    });
    return *this;
  }
  Book& weighed(int ago, const char* animal, const char* mass) {
    RoomBuilder::weighed(to_text(date(kToday) - ago), animal, mass);
    return *this;
  }
  Book& sized(int ago, const char* animal, const char* length, const char* mass) {
    return measured(ago, animal, length).weighed(ago, animal, mass);
  }
  Book& gecko(const char* id) {
    animal(id, "leopard_gecko");
    return *this;
  }
};

Book tub() {
  Book book;
  book.enclosure("tub");
  return book;
}

std::optional<BodyCondition> condition_of(const Book& book, const char* animal) {
  const auto test = book.day(kToday);
  return BodyConditions(test.day).of(test.animal(animal));
}
Sign sign_of(const Book& book, const char* animal) {
  const auto test = book.day(kToday);
  const auto condition = BodyConditions(test.day).of(test.animal(animal));
  const auto sign =
      condition ? body_condition_sign(*condition, test.animal(animal), test.day) : std::nullopt;
  return sign.value_or(Sign{Response::change_nothing, "nothing", "", "", "", ""});
}

// Alone it is scaled by the exponent 3 to its own mean length, sqrt(120 * 120) = 120 mm.
TEST(BodyCondition, AloneByIsometryAndInWords) {
  const Book book = tub().gecko("a").sized(60, "a", "120mm", "60g").sized(5, "a", "120mm", "57g");
  const auto condition = condition_of(book, "a");
  ASSERT_TRUE(condition);
  EXPECT_TRUE(condition->isometric);
  EXPECT_EQ(condition->exponent, 3);
  EXPECT_THAT(condition->exponent_why, HasSubstr("common practice, no source"));
  EXPECT_THAT(condition->exponent_why, HasSubstr("a slope wants 8"));
  ASSERT_EQ(condition->sizes.size(), 2u);
  EXPECT_NEAR(condition->sizes[1].index.grams(), 57, 1e-9);
  ASSERT_TRUE(condition->earlier);
  EXPECT_NEAR(condition->earlier->change, -0.05, 1e-9);
  EXPECT_FALSE(condition->others);
  const Sign sign = sign_of(book, "a");
  EXPECT_EQ(sign.response, Response::change_nothing);
  EXPECT_EQ(sign.says, "weighs 5 % below its own middle for its length");
}

// Longer by a tenth and as heavy: 1 - 1.1^-3 = 24.9 % less for its length, which no scale shows.
TEST(BodyCondition, AGrowingAnimalThatDoesNotGainIsWatched) {
  const Book book = tub()
                        .gecko("a")
                        .sized(200, "a", "100mm", "40g")
                        .sized(100, "a", "100mm", "40g")
                        .sized(5, "a", "110mm", "40g");
  const Sign sign = sign_of(book, "a");
  EXPECT_EQ(sign.response, Response::watch);
  EXPECT_EQ(sign.says, "has lost 25 % of its mass for its length");
  EXPECT_THAT(sign.advice, HasSubstr("veterinarian"));
  EXPECT_THAT(sign.for_vet, HasSubstr("25 % below its 2 before"));
}

// By however much: a body that shrank to a third is for the scale and the weight model.
TEST(BodyCondition, NeverMoreThanWatch) {
  for (const char* mass : {"33g", "25g", "21g"}) {
    const Book book = tub()
                          .gecko("a")
                          .sized(200, "a", "100mm", "40g")
                          .sized(100, "a", "100mm", "40g")
                          .sized(5, "a", "100mm", mass);
    EXPECT_EQ(sign_of(book, "a").response, Response::watch) << mass;
  }
}

TEST(BodyCondition, OneEarlierIndexIsTooLittleToWatch) {
  const Book book = tub().gecko("a").sized(100, "a", "100mm", "40g").sized(5, "a", "100mm", "30g");
  EXPECT_EQ(sign_of(book, "a").response, Response::change_nothing);
  EXPECT_THAT(sign_of(book, "a").says, HasSubstr("25 % below"));
}

// The same fall of 25 % is told of a gecko: a snake cannot be measured so well.
TEST(BodyCondition, ASnakeIsWatchedFromAGreaterFallOn) {
  const auto snake = [](const char* mass) {
    Book book = tub();
    book.animal("a", "corn_snake");
    book.sized(200, "a", "120cm", "600g").sized(100, "a", "120cm", "600g");
    return sign_of(book.sized(5, "a", "120cm", mass), "a").response;
  };
  EXPECT_EQ(snake("450g"), Response::change_nothing);
  EXPECT_EQ(snake("410g"), Response::watch);
}

TEST(BodyCondition, AnOldIndexSaysNothingOfToday) {
  const Book book = tub()
                        .gecko("a")
                        .sized(400, "a", "100mm", "40g")
                        .sized(300, "a", "100mm", "40g")
                        .sized(190, "a", "110mm", "40g");
  EXPECT_EQ(sign_of(book, "a").says, "nothing");
  EXPECT_TRUE(condition_of(book, "a")->earlier);
}

TEST(BodyCondition, OnlyLengthsOfOneItemAreCompared) {
  const Book book = tub()
                        .gecko("a")
                        .gecko("b")
                        .measured(100, "a", "210mm", "total")
                        .weighed(100, "a", "50g")
                        .measured(5, "a", "110mm", " Snout-Vent ")
                        .weighed(5, "a", "50g")
                        .measured(6, "b", "111mm", "snout-vent")
                        .weighed(6, "b", "50g");
  const auto condition = condition_of(book, "a");
  ASSERT_TRUE(condition);
  EXPECT_EQ(condition->item, "snout-vent");
  EXPECT_EQ(condition->sizes.size(), 1u);
  EXPECT_FALSE(condition->earlier);
  ASSERT_TRUE(condition->others);
  EXPECT_EQ(condition->others->count, 1);
}

TEST(BodyCondition, TheNearestWeighingWithinTheWindow) {
  Book book = tub()
                  .gecko("a")
                  .measured(100, "a", "110mm")
                  .weighed(100 - kSizeWindow_days - 1, "a", "51g")
                  .measured(20, "a", "110mm")
                  .weighed(24, "a", "52g")
                  .weighed(17, "a", "53g");
  const auto condition = condition_of(book, "a");
  ASSERT_TRUE(condition);
  ASSERT_EQ(condition->sizes.size(), 1u);
  EXPECT_EQ(condition->sizes[0].weighed, date(kToday) - 17);
  EXPECT_NEAR(condition->sizes[0].size.mass.grams(), 53, 1e-9);
  const Book alone = tub().gecko("a").measured(10, "a", "110mm");
  EXPECT_TRUE(condition_of(alone, "a")->sizes.empty());
  EXPECT_EQ(sign_of(alone, "a").says, "nothing");
  EXPECT_FALSE(condition_of(tub().gecko("a").weighed(3, "a", "50g"), "a"));
}

// 5.3g is a tenth; the weighing of two days later is taken.
TEST(BodyCondition, AWeighingThatIsNotBelievedIsPassedOver) {
  const Book book = tub()
                        .gecko("a")
                        .weighed(40, "a", "52g")
                        .weighed(30, "a", "52g")
                        .measured(20, "a", "110mm")
                        .weighed(20, "a", "5.3g")
                        .weighed(18, "a", "53g")
                        .weighed(8, "a", "52g");
  EXPECT_NEAR(condition_of(book, "a")->sizes.at(0).size.mass.grams(), 53, 1e-9);
}

// What is still in its gut is no body: the two weighings differ by the meal alone.
TEST(BodyCondition, AMealIsTakenOffTheMass) {
  Book book = tub();
  book.animal("a", "corn_snake");
  book.sized(60, "a", "120cm", "600g").sized(5, "a", "120cm", "660g");
  book.entry(to_text(date(kToday) - 6), EntryKind::fed, "a");
  const auto condition = condition_of(book, "a");
  EXPECT_NEAR(condition->sizes.at(0).size.mass.grams(), 600, 1e-9);
  EXPECT_LT(condition->sizes.at(1).size.mass.grams(), 630);
}

TEST(BodyCondition, AMisplacedPointInALengthIsNotBelieved) {
  const Book book = tub()
                        .gecko("a")
                        .sized(200, "a", "110mm", "50g")
                        .sized(100, "a", "110mm", "50g")
                        .sized(50, "a", "11mm", "50g")
                        .sized(5, "a", "110mm", "50g");
  const auto condition = condition_of(book, "a");
  ASSERT_TRUE(condition);
  EXPECT_EQ(condition->sizes.size(), 3u);
  ASSERT_EQ(condition->not_believed.size(), 1u);
  EXPECT_EQ(condition->not_believed[0].measured, date(kToday) - 50);
  EXPECT_NEAR(condition->earlier->change, 0, 1e-9);
}

TEST(BodyCondition, SeveralLengthsOfOneDayAreOne) {
  const Book book =
      tub().gecko("a").measured(5, "a", "100mm").measured(5, "a", "121mm").weighed(5, "a", "50g");
  const auto condition = condition_of(book, "a");
  ASSERT_EQ(condition->sizes.size(), 1u);
  EXPECT_NEAR(condition->sizes[0].size.length.millimetres(), 110, 1e-9);  // sqrt(100 * 121)
}

// Eight animals on the line M = 4e-5 L^3.2 (mm, g), of which one has grown up in the notebook: its
// ten sizes are one animal, and the slope is that of the line whatever their number.
TEST(BodyCondition, EightAnimalsGiveASlopeAndEachCountsOnce) {
  Book book = tub();
  const auto on_line = [](double length_mm) { return 4e-5 * std::pow(length_mm, 3.2); };
  const auto add = [&](int ago, const std::string& id, double length_mm, double share = 1) {
    book.measured(ago, id.c_str(), (std::to_string(length_mm) + "mm").c_str());
    book.weighed(ago, id.c_str(), (std::to_string(share * on_line(length_mm)) + "g").c_str());
  };
  for (int i = 0; i < 8; ++i) book.gecko(("g" + std::to_string(i)).c_str());
  for (int i = 1; i < 8; ++i) add(5, "g" + std::to_string(i), 80 + 6.0 * i);
  for (int i = 0; i < 10; ++i) add(300 - 30 * i, "g0", 70 + 5.0 * i);
  const auto condition = condition_of(book, "g0");
  ASSERT_TRUE(condition);
  EXPECT_FALSE(condition->isometric) << condition->exponent_why;
  EXPECT_EQ(condition->animals, 8);
  EXPECT_NEAR(condition->exponent, 3.2, 1e-4);  // lengths and masses are written to 6 places
  EXPECT_NEAR(condition->earlier->change, 0, 1e-4);
  EXPECT_NEAR(condition->others->change, 0, 1e-4);
}

TEST(BodyCondition, TooAlikeOrTooUncertainIsIsometry) {
  Book alike = tub(), uncertain = tub();
  for (int i = 0; i < 8; ++i) {
    const std::string id = "g" + std::to_string(i);
    alike.gecko(id.c_str())
        .sized(5, id.c_str(), (std::to_string(100 + i) + "mm").c_str(),
               (std::to_string(40 + i) + "g").c_str());
    uncertain.gecko(id.c_str())
        .sized(5, id.c_str(), (std::to_string(80 + 6 * i) + "mm").c_str(),
               (std::to_string(i % 2 == 0 ? 30 + 3 * i : 50 + 2 * i) + "g").c_str());
  }
  EXPECT_THAT(condition_of(alike, "g0")->exponent_why, HasSubstr("too alike"));
  EXPECT_EQ(condition_of(alike, "g0")->exponent, 3);
  EXPECT_THAT(condition_of(uncertain, "g0")->exponent_why, HasSubstr("too uncertain"));
  EXPECT_EQ(condition_of(uncertain, "g0")->exponent, 3);
}

TEST(BodyCondition, AGroupIsNotJudged) {
  Book book = tub();
  book.animal("frogs", "leopard_gecko", [](room::Animal& a) { a.count = 3; });
  book.sized(5, "frogs", "110mm", "50g");
  EXPECT_FALSE(condition_of(book, "frogs"));
}

TEST(BodyCondition, StandsAfterWeightAmongEquals) {
  const Book book = tub().gecko("a").sized(60, "a", "120mm", "60g").sized(5, "a", "120mm", "60g");
  const auto test = book.day(kToday);
  const auto signs = HealthOfDay(test.day).of(test.animal("a")).signs;
  ASSERT_GE(signs.size(), 2u);
  EXPECT_THAT(signs[0].says, HasSubstr("too few weighings"));
  EXPECT_THAT(signs[1].says, HasSubstr("its own middle for its length"));
}

}  // namespace
}  // namespace warmside::health
