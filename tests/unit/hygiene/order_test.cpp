// The order of stops (docs/models/round.md): preparation; newly hatched animals and amphibians out
// of quarantine; breeders; residents; animals under observation; quarantine, oldest arrival first;
// sick. Inside a class the least cost by the prices of hygiene/order.h, which keep frogs,
// salamanders, lizards, snakes and chelonians apart.

#include "hygiene/order.h"

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "health/quarantine.h"
#include "support/room_builder.h"

namespace warmside::hygiene {
namespace {

using room::EntryKind;
using test::date;
using test::RoomBuilder;
using testing::ElementsAre;
using testing::HasSubstr;

constexpr const char* kToday = "2026-11-25";

/// Some animal of a kind in an enclosure of its own.
RoomBuilder& lives(RoomBuilder& b, const char* enclosure, const char* species,
                   const std::function<void(room::Animal&)>& change = {}) {
  const std::string animal = std::string("a-") + enclosure;
  return b.enclosure(enclosure).animal(animal.c_str(), species, change);
}

std::vector<std::string> ids(const std::vector<Place>& order) {
  std::vector<std::string> ids;
  for (const Place& place : order) {
    ids.push_back(place.enclosure == nullptr ? "-" : place.enclosure->id.text());
  }
  return ids;
}

/// A day with the quarantines that nobody has jotted.
test::TestDay judged(const RoomBuilder& b, const char* on = kToday) {
  test::TestDay test = b.day(on);
  health::presume_quarantines(test.day);
  return test;
}

/// The places of every enclosure.
std::vector<Place> places_on(const room::Day& day, const std::set<room::AnimalId>& watched) {
  return order_of_service(day, watched, every_enclosure(day)).places;
}

std::vector<std::string> order_of(const RoomBuilder& b, const char* day = kToday,
                                  const std::set<room::AnimalId>& watched = {}) {
  const auto test = judged(b, day);
  return ids(places_on(test.day, watched));
}

Place place_of(const RoomBuilder& b, const char* enclosure,
               const std::set<room::AnimalId>& watched = {}) {
  const auto test = judged(b);
  for (Place& place : places_on(test.day, watched)) {
    if (place.enclosure != nullptr && place.enclosure->id.text() == enclosure) {
      place.enclosure = nullptr;  // does not outlive the day
      return place;
    }
  }
  ADD_FAILURE() << enclosure << " has no place";
  return {};
}

/// The steps before each stop, by enclosure ("-": preparation).
std::map<std::string, std::vector<std::string>> steps_of(
    const RoomBuilder& b, const std::set<room::AnimalId>& watched = {}) {
  const auto test = judged(b);
  std::map<std::string, std::vector<std::string>> steps;
  for (const Place& place : places_on(test.day, watched)) {
    steps[place.enclosure == nullptr ? "-" : place.enclosure->id.text()] = place.before;
  }
  return steps;
}

// Named so that the order of ids is the reverse of the order of service.
RoomBuilder one_of_each_class() {
  RoomBuilder b;
  lives(b, "g-frog", "dyeing_dart_frog");
  lives(b, "f-hatchling", "corn_snake", [](auto& a) { a.born = date("2026-11-01"); });
  lives(b, "e-breeder", "corn_snake", [](auto& a) { a.breeding = true; });
  lives(b, "d-resident", "corn_snake");
  lives(b, "c-watched", "corn_snake");
  lives(b, "b-quarantine", "corn_snake", [](auto& a) { a.arrived = date("2026-11-01"); });
  lives(b, "a-sick", "corn_snake");
  b.entry("2026-11-20", EntryKind::ill, "a-a-sick");
  return b;
}
const std::set<room::AnimalId> kWatched{room::AnimalId::trusted("a-c-watched")};

TEST(OrderOfService, ClassesAreAHardOrder) {
  EXPECT_THAT(order_of(one_of_each_class(), kToday, kWatched),
              ElementsAre("-", "g-frog", "f-hatchling", "e-breeder", "d-resident", "c-watched",
                          "b-quarantine", "a-sick"));
}

TEST(OrderOfService, EachClassWithItsReason) {
  const RoomBuilder b = one_of_each_class();
  const struct {
    const char* enclosure;
    ServiceClass service_class;
    const char* reason;
  } kCases[] = {
      {"g-frog", ServiceClass::young_and_clean_amphibians, "amphibians out of quarantine"},
      {"f-hatchling", ServiceClass::young_and_clean_amphibians, "a-f-hatchling is newly hatched"},
      {"e-breeder", ServiceClass::breeding, "a-e-breeder is a healthy breeder"},
      {"d-resident", ServiceClass::resident, "healthy residents"},
      {"c-watched", ServiceClass::observation, "a-c-watched is under observation"},
      {"b-quarantine", ServiceClass::quarantine,
       "a-b-quarantine is in quarantine since 2026-11-01"},
      {"a-sick", ServiceClass::sick, "a-a-sick is noted as ill since 2026-11-20"},
  };
  for (const auto& c : kCases) {
    const Place place = place_of(b, c.enclosure, kWatched);
    EXPECT_EQ(place.service_class, c.service_class) << c.enclosure;
    EXPECT_THAT(place.reason, HasSubstr(c.reason));
  }
}

TEST(OrderOfService, TheWorstOfWhatHoldsForAnAnimalCounts) {
  RoomBuilder b;
  lives(b, "box", "dyeing_dart_frog", [](auto& a) { a.breeding = true; });
  EXPECT_EQ(place_of(b, "box").service_class, ServiceClass::young_and_clean_amphibians);
  const std::set<room::AnimalId> watched{room::AnimalId::trusted("a-box")};
  EXPECT_EQ(place_of(b, "box", watched).service_class, ServiceClass::observation);
  b.entry("2026-11-01", EntryKind::quarantine_started, "a-box");
  EXPECT_EQ(place_of(b, "box", watched).service_class, ServiceClass::quarantine);
  b.entry("2026-11-02", EntryKind::ill, "a-box");
  EXPECT_EQ(place_of(b, "box", watched).service_class, ServiceClass::sick);
}

TEST(OrderOfService, TheMostExposedOfSeveralAnimalsPlacesAnEnclosure) {
  for (const bool sick_first : {true, false}) {
    RoomBuilder b;
    b.enclosure("shared").animal(sick_first ? "z" : "a", "corn_snake");
    b.animal(sick_first ? "a" : "z", "corn_snake", [](auto& a) { a.breeding = true; });
    EXPECT_EQ(place_of(b, "shared").service_class, ServiceClass::resident);
    b.entry("2026-11-20", EntryKind::ill, sick_first ? "a" : "z");
    EXPECT_EQ(place_of(b, "shared").service_class, ServiceClass::sick);
    lives(b, "other", "corn_snake");
    EXPECT_THAT(order_of(b), ElementsAre("-", "other", "shared"));
  }
}

TEST(OrderOfService, GroupsStayApartInsideAClass) {
  RoomBuilder b;
  lives(b, "a", "hermanns_tortoise");
  lives(b, "b", "corn_snake");
  lives(b, "c", "leopard_gecko");
  lives(b, "e", "corn_snake");
  EXPECT_THAT(order_of(b), ElementsAre("-", "c", "b", "e", "a"));
  RoomBuilder wet;
  lives(wet, "a", "axolotl");
  lives(wet, "b", "dyeing_dart_frog");
  EXPECT_THAT(order_of(wet), ElementsAre("-", "b", "a"));
}

RoomBuilder& at(RoomBuilder& b, const char* id, const char* rack, int shelf, int position,
                const char* place = "") {
  b.enclosure(id, [=](auto& e) {
    e.rack = rack;
    e.place = place;
    if (shelf > 0) e.shelf = shelf;
    if (position > 0) e.position = position;
  });
  return b.animal((std::string("a-") + id).c_str(), "corn_snake");
}

TEST(OrderOfService, WalksAlongShelvesAndRacks) {
  RoomBuilder b;
  at(b, "a", "rack-b", 1, 1);
  at(b, "b", "rack-a", 4, 1);
  at(b, "c", "rack-a", 2, 10);
  at(b, "d", "rack-a", 2, 2);
  at(b, "e", "rack-a", 2, 2);
  at(b, "g", "", 0, 0);
  // From the far end of shelf 2 back to its second place, up to place 1 of shelf 4. Of several
  // orders as short the first by rack, shelf, place and id.
  EXPECT_THAT(order_of(b), ElementsAre("-", "g", "c", "d", "e", "b", "a"));
  const auto test = judged(b);
  const ServiceOrder order = order_of_service(test.day, {}, every_enclosure(test.day));
  // g to c and b to a 10 each; c to d 8, e to b 2 * 2 + 1.
  EXPECT_EQ(order.cost_s, 10 + 8 + (2 * 2 + 1) + 10);
  EXPECT_TRUE(order.proven());
}

TEST(OrderOfService, RacksOfOnePlaceFollowOneAnother) {
  RoomBuilder b;
  at(b, "a", "rack-a", 1, 1, "east wall");
  at(b, "b", "rack-b", 1, 1, "west wall");
  at(b, "c", "rack-c", 1, 1, "east wall");
  at(b, "d", "", 0, 0, "west wall");
  EXPECT_THAT(order_of(b), ElementsAre("-", "d", "b", "a", "c"));
}

/// Visits to every enclosure, with what is used at some.
struct Used {
  const char *enclosure, *jar, *thawed;
};
ServiceOrder order_with(const RoomBuilder& b, std::initializer_list<Used> used) {
  const auto test = judged(b);
  auto visits = every_enclosure(test.day);
  for (const Used& one : used) {
    Visit& visit = visits.emplace_back();
    visit.enclosure = room::EnclosureId::trusted(one.enclosure);
    if (*one.jar != 0) visit.jars.insert(room::JarId::trusted(one.jar));
    if (*one.thawed != 0) visit.thawed.insert(room::SupplyId::trusted(one.thawed));
  }
  ServiceOrder order = order_of_service(test.day, {}, visits);
  for (Place& place : order.places)
    place.reason = place.enclosure ? place.enclosure->id.text() : "-";
  return order;
}
std::vector<std::string> ids_in_reason(const ServiceOrder& order) {
  std::vector<std::string> ids;
  for (const Place& place : order.places) ids.push_back(place.reason);
  return ids;
}

TEST(OrderOfService, OneJarAndOneBatchOfPreyAfterTheOther) {
  RoomBuilder b;
  for (const char* id : {"a", "b", "c", "d"}) at(b, id, "rack", 1, 1);
  const auto by_jar =
      order_with(b, {{"a", "calcium", ""}, {"b", "d3", ""}, {"c", "calcium", ""}, {"d", "d3", ""}});
  EXPECT_THAT(ids_in_reason(by_jar), ElementsAre("-", "a", "c", "b", "d"));
  EXPECT_EQ(by_jar.cost_s, 2 * 5);
  const auto by_prey =
      order_with(b, {{"a", "", "mice"}, {"b", "", "rats"}, {"c", "", "mice"}, {"d", "", ""}});
  EXPECT_THAT(ids_in_reason(by_prey), ElementsAre("-", "a", "c", "b", "d"));
  EXPECT_EQ(by_prey.cost_s, 2 * 10);
}

TEST(OrderOfService, OnlyStopsWithWorkCount) {
  RoomBuilder b;
  lives(b, "a", "corn_snake", [](auto& a) { a.arrived = date("2026-11-01"); });
  lives(b, "b", "corn_snake", [](auto& a) { a.arrived = date("2026-11-10"); });
  const auto test = judged(b);
  const Visit only{room::EnclosureId::trusted("b"), {}, {}};
  const auto order = order_of_service(test.day, {}, std::span(&only, 1));
  ASSERT_EQ(order.places.size(), 2u);
  // Nobody goes to a today: the overgarment is put on at b.
  EXPECT_THAT(order.places[1].before.front(), HasSubstr("put on an overgarment"));
}

TEST(OrderOfService, MoreStopsThanAreSearchedAreSorted) {
  RoomBuilder b;
  for (int i = 0; i < 601; ++i) {
    at(b, fmt::format("e{:03}", i).c_str(), "rack", 1, 601 - i);
  }
  lives(b, "frog", "dyeing_dart_frog");
  const auto test = judged(b);
  const ServiceOrder order = order_of_service(test.day, {}, every_enclosure(test.day));
  const auto found = ids(order.places);
  ASSERT_EQ(found.size(), 603u);
  EXPECT_EQ(found[1], "frog");
  EXPECT_EQ(found[2], "e600");
  EXPECT_EQ(found.back(), "e000");
  EXPECT_EQ(order.cost_s, 10 + 600);  // to the rack, then from position to position
  EXPECT_EQ(order.bound_s, 0);
  EXPECT_FALSE(order.proven());
}

TEST(OrderOfService, NewlyOutOfQuarantineAfterTheSettledOfItsGroup) {
  RoomBuilder b;
  lives(b, "a", "corn_snake").entry("2026-11-20", EntryKind::quarantine_ended, "a-a");
  lives(b, "b", "corn_snake").entry("2026-10-01", EntryKind::quarantine_ended, "a-b");
  lives(b, "c", "hermanns_tortoise");
  EXPECT_THAT(order_of(b), ElementsAre("-", "b", "a", "c"));
}

TEST(OrderOfService, QuarantineGoesOldestArrivalFirst) {
  RoomBuilder b;
  lives(b, "a", "leopard_gecko", [](auto& a) { a.arrived = date("2026-11-20"); });
  lives(b, "b", "hermanns_tortoise", [](auto& a) { a.arrived = date("2026-10-20"); });
  lives(b, "c", "corn_snake", [](auto& a) { a.arrived = date("2026-11-10"); });
  EXPECT_THAT(order_of(b), ElementsAre("-", "b", "c", "a"));  // before the groups
  b.entry("2026-11-22", EntryKind::quarantine_started, "a-b");
  EXPECT_THAT(order_of(b), ElementsAre("-", "c", "a", "b"));
}

TEST(OrderOfService, OfSeveralInQuarantineTogetherTheNewestArrivalCounts) {
  for (const bool newest_first : {true, false}) {
    RoomBuilder b;
    b.enclosure("shared");
    b.animal(newest_first ? "a" : "z", "corn_snake",
             [](auto& a) { a.arrived = date("2026-11-20"); });
    b.animal(newest_first ? "z" : "a", "corn_snake",
             [](auto& a) { a.arrived = date("2026-10-01"); });
    lives(b, "single", "corn_snake", [](auto& a) { a.arrived = date("2026-11-01"); });
    EXPECT_THAT(order_of(b), ElementsAre("-", "single", "shared"));
  }
}

TEST(OrderOfService, RetiredOnesAreLeftOutAndEmptyOnesComeWithTheResidents) {
  RoomBuilder b;
  b.enclosure("empty");
  b.enclosure("old", [](auto& e) { e.retired = date(kToday); }).animal("x", "corn_snake");
  b.enclosure("soon", [](auto& e) { e.retired = date("2026-11-26"); }).animal("y", "corn_snake");
  lives(b, "breeders", "corn_snake", [](auto& a) { a.breeding = true; });
  lives(b, "quarantine", "corn_snake", [](auto& a) { a.arrived = date("2026-11-20"); });
  EXPECT_THAT(order_of(b), ElementsAre("-", "breeders", "soon", "empty", "quarantine"));
  EXPECT_EQ(place_of(b, "empty").service_class, ServiceClass::resident);
  EXPECT_EQ(place_of(b, "empty").reason, "nobody lives here");
}

TEST(OrderOfService, AnAnimalCountsWhereItLivesNow) {
  RoomBuilder b;
  b.enclosure("a").enclosure("b").animal("x", "corn_snake");
  b.moved("2026-11-20", "x", "a").entry("2026-11-21", EntryKind::ill, "x");
  EXPECT_EQ(place_of(b, "a").service_class, ServiceClass::sick);
  EXPECT_EQ(place_of(b, "b").reason, "nobody lives here");
}

TEST(OrderOfService, AnEmptyRoomHasOnlyThePreparation) {
  EXPECT_THAT(order_of(RoomBuilder()), ElementsAre("-"));
}

// ---- Steps on the way --------------------------------------------------------------------------

constexpr const char* kWash = "Hands: wash with soap and water";
constexpr const char* kFresh = "Gloves: fresh";
constexpr const char* kWetGloves = "Gloves: fresh, powder-free, rinsed with dechlorinated water";
constexpr const char* kShared = "Tools: shared ones only when disinfected, rinsed and dry";

TEST(StepsBefore, Preparation) {
  EXPECT_THAT(steps_of(RoomBuilder())["-"], ElementsAre(kWash));
}

TEST(StepsBefore, ANewClassOrGroupIsWashedForTheNextOfTheSameSanitised) {
  RoomBuilder b;
  lives(b, "a", "leopard_gecko");
  lives(b, "b", "leopard_gecko");
  lives(b, "c", "corn_snake");
  lives(b, "d", "leopard_gecko", [](auto& a) { a.breeding = true; });
  auto steps = steps_of(b);  // d, a, b, c
  EXPECT_THAT(steps["d"], ElementsAre(kWash, kShared));
  EXPECT_THAT(steps["a"], ElementsAre(kWash, kShared));
  EXPECT_THAT(steps["b"], ElementsAre("Hands: sanitise and let dry", kShared));
  EXPECT_THAT(steps["c"], ElementsAre(kWash, kShared));
}

TEST(StepsBefore, AmphibiansAlwaysHaveRinsedHandsAndGloves) {
  RoomBuilder b;
  lives(b, "a", "dyeing_dart_frog");
  lives(b, "b", "dyeing_dart_frog");
  auto steps = steps_of(b);
  for (const char* id : {"a", "b"}) {
    EXPECT_THAT(steps[id],
                ElementsAre("Hands: wash with soap and water and rinse well; no sanitiser residue",
                            kWetGloves, kShared));
  }
}

TEST(StepsBefore, UnderObservationGlovesAndNothingShared) {
  RoomBuilder b;
  lives(b, "a", "corn_snake");
  lives(b, "b", "corn_snake");
  lives(b, "c", "corn_snake");
  auto steps = steps_of(b, {room::AnimalId::trusted("a-b"), room::AnimalId::trusted("a-c")});
  EXPECT_THAT(steps["b"], ElementsAre(kWash, kFresh, HasSubstr("none of its own")));
  EXPECT_THAT(steps["c"],
              ElementsAre("Hands: sanitise and let dry", kFresh, HasSubstr("none of its own")));
}

TEST(StepsBefore, QuarantineAndSickEachWithAnOvergarment) {
  RoomBuilder b;
  const auto arrived = [](auto& a) { a.arrived = date("2026-11-20"); };
  lives(b, "a", "corn_snake", arrived);
  lives(b, "b", "corn_snake", arrived);
  lives(b, "c", "dyeing_dart_frog", arrived);
  lives(b, "d", "corn_snake");
  b.entry("2026-11-20", EntryKind::ill, "a-d");
  auto steps = steps_of(b);  // c (frogs first), a, b, d
  const char* kOvergarment =
      "Hands: wash with soap and water; put on an overgarment kept for these stops";
  const char* kForTheSick =
      "Hands: wash with soap and water; change the overgarment for one kept for the sick";
  EXPECT_THAT(steps["c"], ElementsAre(kOvergarment, kWetGloves, HasSubstr("none of its own")));
  EXPECT_THAT(steps["a"], ElementsAre(kWash, kFresh, HasSubstr("none of its own")));
  EXPECT_THAT(steps["b"], ElementsAre(kWash, kFresh, HasSubstr("none of its own")));
  EXPECT_THAT(steps["d"], ElementsAre(kForTheSick, kFresh, HasSubstr("none of its own")));
}

TEST(StepsBefore, AnotherOvergarmentForTheSick) {
  RoomBuilder b;
  lives(b, "a", "corn_snake", [](auto& a) { a.arrived = date("2026-11-20"); });
  lives(b, "b", "corn_snake").entry("2026-11-20", EntryKind::ill, "a-b");
  auto steps = steps_of(b);
  EXPECT_THAT(steps["a"].front(), HasSubstr("put on an overgarment"));
  EXPECT_THAT(steps["b"].front(), HasSubstr("change the overgarment"));
}

TEST(StepsBefore, AJarIsTakenWhereItWasNotUsedBefore) {
  RoomBuilder b;
  for (const char* id : {"a", "b", "c"}) at(b, id, "rack", 1, 1);
  b.add<room::Jar>("calcium", [](room::Jar& jar) { jar.contents = room::SupplementKind::calcium; });
  const auto order = order_with(b, {{"a", "calcium", ""}, {"b", "calcium", ""}});
  ASSERT_THAT(ids_in_reason(order), ElementsAre("-", "a", "b", "c"));
  EXPECT_THAT(order.places[1].before, testing::Contains("Jar: take calcium (calcium)"));
  for (const std::size_t stop : {2u, 3u}) {
    EXPECT_THAT(order.places[stop].before, testing::Not(testing::Contains(HasSubstr("Jar:"))));
  }
}

TEST(StepsBefore, ItsOwnToolsByNameAndMark) {
  RoomBuilder b;
  lives(b, "a", "corn_snake");
  lives(b, "b", "corn_snake", [](auto& a) { a.arrived = date("2026-11-20"); });
  const auto tool = [&](const char* id, room::ToolKind kind, const char* whose, const char* mark) {
    b.add<room::Tool>(id, [=](room::Tool& t) {
      t.kind = kind;
      t.enclosure = room::EnclosureId::trusted(whose);
      t.mark = mark;
    });
  };
  tool("t1", room::ToolKind::tongs, "b", "red tape");
  tool("t2", room::ToolKind::tub, "b", "");
  tool("t3", room::ToolKind::scoop, "a", "");
  tool("t4", room::ToolKind::hook, "", "");
  auto steps = steps_of(b);
  EXPECT_EQ(steps["a"].back(), "Tools: its own scoop");
  EXPECT_EQ(steps["b"].back(), "Tools: its own tongs (red tape), tub and nothing shared");
}

}  // namespace
}  // namespace warmside::hygiene
