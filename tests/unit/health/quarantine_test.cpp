// Quarantine (docs/models/health.md). Numbers copied by hand from data/species_facts.csv and
// data/care_rules.csv:
//   corn_snake 90 d, 3 faecal tests including Cryptosporidium, fed every 10 d when grown
//   royal_python 90 d, 90 to 180 d by quarantine_boa_python, nidovirus swab, arenavirus PCR
//   whites_tree_frog 60 d, 60 to 90 d by quarantine_amphibian_infection, Bd, ranavirus, 3 faecal
//   3 mite-free checks 14 d apart, samples 14 d apart, 2 normal sheds, 3 meals, sign for 30 d
// Dates are counted by hand: 2026-03-01 + 90 d = 2026-05-30 (30 of March, 30 of April, 30 of May).

#include "health/quarantine.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "support/room_builder.h"

namespace warmside::health {
namespace {

using room::EntryKind;
using test::date;
using test::RoomBuilder;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::Not;

constexpr const char* kFaecal = "faecal sample: negative";
constexpr const char* kCrypto = "Cryptosporidium PCR: negative";
constexpr const char* kMites = "mites: negative";

auto arrived(const char* on) {
  return [=](room::Animal& a) { a.arrived = date(on); };
}

/// A newcomer of 2026-03-01 in "corner".
RoomBuilder newcomer(const char* species = "corn_snake") {
  return RoomBuilder().enclosure("corner").animal("new", species, arrived("2026-03-01"));
}

Quarantine on(const RoomBuilder& b, const char* day, const char* animal = "new") {
  const test::TestDay made = b.day(day);
  return quarantine_of(made.animal(animal), made.day);
}
std::string line(const RoomBuilder& b, const char* day, const char* animal = "new") {
  const Quarantine q = on(b, day, animal);
  return q.holds() ? progress_line(q) : "none";
}
std::vector<Sign> signs(const RoomBuilder& b, const char* day, const char* animal = "new") {
  const test::TestDay made = b.day(day);
  return quarantine_signs(made.animal(animal), made.day);
}
/// The only requirement of a kind.
Requirement requirement(const Quarantine& q, Need need) {
  for (const Requirement& r : q.requirements) {
    if (r.need == need) return r;
  }
  ADD_FAILURE() << "no requirement " << word(need);
  return {};
}
std::vector<std::string> dates(const std::vector<Date>& days) {
  std::vector<std::string> texts;
  for (const Date day : days) texts.push_back(to_text(day));
  return texts;
}

/// A corn snake's quarantine with all it asks for by 2026-05-30.
RoomBuilder complete(const char* species = "corn_snake") {
  RoomBuilder b = newcomer(species);
  for (const char* day : {"2026-03-01", "2026-03-22", "2026-04-12"}) {
    b.checked(day, "new", kFaecal).checked(day, "new", kCrypto).checked(day, "new", kMites);
  }
  for (const char* day : {"2026-03-20", "2026-05-01"}) b.entry(day, EntryKind::shed, "new");
  for (const char* day : {"2026-05-02", "2026-05-12", "2026-05-22"}) {
    b.entry(day, EntryKind::fed, "new");
  }
  return b;
}

TEST(Quarantine, AnArrivalsFirstDay) {
  EXPECT_EQ(line(newcomer(), "2026-03-01"),
            "0 of 90 days done, 90 left, until 2026-05-30 at the earliest; open: "
            "3 negative faecal samples at least 14 days apart (0 of 3); "
            "3 negative tests for Cryptosporidium at least 14 days apart (0 of 3); "
            "3 mite-free checks in a row at least 14 days apart (0 of 3); "
            "2 normal sheds or a steady mass (0 of 2); "
            "3 meals in a row eaten and kept down (0 of 3)");
  const Quarantine q = on(newcomer(), "2026-03-01");
  EXPECT_TRUE(q.presumed);
  EXPECT_EQ(q.requirements.front().need, Need::days);
  EXPECT_THAT(signs(newcomer(), "2026-03-01"), IsEmpty());
}

TEST(Quarantine, WithAllMetTheSignOffIsOfferedAndStaysOffered) {
  EXPECT_EQ(line(complete(), "2026-05-29"),
            "89 of 90 days done, 1 left, until 2026-05-30 at the earliest; all else is met");
  EXPECT_EQ(line(complete(), "2026-05-30"),
            "90 of 90 days done, 0 left, until 2026-05-30 at the earliest; all met, the sign-off "
            "is the keeper's");
  EXPECT_THAT(signs(complete(), "2026-05-29"), IsEmpty());
  const auto said = signs(complete(), "2026-05-30");
  ASSERT_EQ(said.size(), 1u);
  EXPECT_EQ(said[0].response, Response::change_nothing);
  EXPECT_EQ(said[0].says, "has met all that its quarantine asks for");
  EXPECT_THAT(said[0].advice, HasSubstr("`warmside jot quarantine new --ended`"));
  EXPECT_THAT(said[0].for_vet, HasSubstr("2026-03-01, 2026-03-22, 2026-04-12"));
  EXPECT_THAT(said[0].source, HasSubstr("common practice, no source"));
  // Fed on, it is offered a hundred days later too; without meals it no longer feeds normally.
  RoomBuilder later = complete();
  EXPECT_THAT(line(later, "2026-09-07"), HasSubstr("open: 3 meals in a row"));
  for (const char* day : {"2026-08-20", "2026-08-28", "2026-09-05"}) {
    later.entry(day, EntryKind::fed, "new");
  }
  EXPECT_TRUE(on(later, "2026-09-07").all_met());
}

TEST(Quarantine, IllnessRestartsIt) {
  RoomBuilder b = complete().entry("2026-04-01", EntryKind::ill, "new",
                                   [](room::Entry& e) { e.item = "wheezing"; });
  // 2026-04-01 + 90 d: 29 of April, 31 of May, 30 of June.
  EXPECT_THAT(line(b, "2026-04-11"),
              HasSubstr("10 of 90 days done, 80 left, until 2026-06-30 at the earliest; began "
                        "again on 2026-04-01: ill: wheezing; open: ill since 2026-04-01; "));
  // The samples before it no longer count, the one of 12 April does.
  const Requirement samples = requirement(on(b, "2026-04-20"), Need::faecal);
  EXPECT_THAT(dates(samples.counted), ElementsAre("2026-04-12"));
  EXPECT_EQ(requirement(on(b, "2026-04-11"), Need::well).standing, Standing::failed);
  EXPECT_EQ(requirement(on(b, "2026-04-11"), Need::well).have, 0);
  b.entry("2026-04-15", EntryKind::recovered, "new");
  EXPECT_EQ(requirement(on(b, "2026-04-20"), Need::well).standing, Standing::met);
  // News for a week.
  ASSERT_EQ(signs(b, "2026-04-07").size(), 1u);
  EXPECT_EQ(signs(b, "2026-04-07")[0].says,
            "began its quarantine again on 2026-04-01: ill: wheezing");
  EXPECT_THAT(signs(b, "2026-04-08"), IsEmpty());
}

TEST(Quarantine, ANewcomerInTheSameEnclosureRestartsIt) {
  const RoomBuilder b = newcomer().animal("berta", "corn_snake", arrived("2026-03-20"));
  // 51 days: 11 of March, 30 of April, 10 of May. 2026-03-20 + 90 d = 2026-06-18.
  EXPECT_THAT(line(b, "2026-05-10"),
              HasSubstr("51 of 90 days done, 39 left, until 2026-06-18 at the earliest; began "
                        "again on 2026-03-20: berta joined it in corner; open: "));
  const Quarantine q = on(b, "2026-05-10");
  ASSERT_EQ(q.restarts.size(), 1u);
  EXPECT_EQ(q.restarts[0].reason, RestartReason::newcomer);
  // Found by the scenario quarantine_progress_restarts: the day before knew of the arrival.
  EXPECT_THAT(on(b, "2026-03-19").restarts, IsEmpty());
  // For the newcomer itself it is the beginning.
  EXPECT_THAT(on(b, "2026-05-10", "berta").restarts, IsEmpty());
  // Two of one day began together, whatever the hour.
  RoomBuilder hours = RoomBuilder().enclosure("corner").animal("new", "corn_snake");
  hours.animal("berta", "corn_snake");
  hours.entry("2026-03-01 09:00", EntryKind::quarantine_started, "new");
  hours.entry("2026-03-01 15:00", EntryKind::quarantine_started, "berta");
  EXPECT_THAT(on(hours, "2026-05-10").restarts, IsEmpty());
  const RoomBuilder pair = newcomer().animal("berta", "corn_snake", arrived("2026-03-01"));
  EXPECT_THAT(on(pair, "2026-05-10").restarts, IsEmpty());
}

TEST(Quarantine, AnAnimalOutsideQuarantineRestartsNothing) {
  RoomBuilder b = newcomer()
                      .animal("old", "corn_snake", arrived("2020-01-01"))
                      .animal("unknown", "corn_snake")
                      .enclosure("shelf")
                      .animal("far", "corn_snake", arrived("2020-01-01"));
  const std::string alone = line(newcomer(), "2026-04-20");
  EXPECT_EQ(line(b, "2026-04-20"), alone);
  b.moved("2026-04-01", "far", "corner").entry("2026-04-02", EntryKind::ill, "far");
  b.entry("2026-04-02", EntryKind::ill, "old").checked("2026-04-03", "old", "mites: positive");
  EXPECT_EQ(line(b, "2026-04-20"), alone);
  EXPECT_EQ(line(b, "2026-04-20", "old"), "none");
  // Put into quarantine it is a newcomer there.
  b.entry("2026-04-05", EntryKind::quarantine_started, "far");
  EXPECT_THAT(line(b, "2026-04-20"), HasSubstr("15 of 90 days done"));
}

TEST(Quarantine, APositiveTestRestartsItAndIsForTheVeterinarian) {
  RoomBuilder b = newcomer().checked("2026-03-01", "new", kFaecal);
  b.checked("2026-03-22", "new", "faecal sample");
  b.checked("2026-03-29", "new", "faecal sample: positive");
  EXPECT_THAT(line(b, "2026-04-10"),
              HasSubstr("12 of 90 days done, 78 left, until 2026-06-27 at the earliest; began "
                        "again on 2026-03-29: faecal sample positive; open: "));
  const Requirement samples = requirement(on(b, "2026-04-10"), Need::faecal);
  EXPECT_EQ(samples.standing, Standing::failed);
  EXPECT_EQ(samples.have, 0);
  EXPECT_EQ(samples.detail, "positive on 2026-03-22");  // when it was taken
  const auto said = signs(b, "2026-04-10");
  ASSERT_EQ(said.size(), 1u);
  EXPECT_EQ(said[0].response, Response::call_vet);
  EXPECT_THAT(said[0].advice, HasSubstr("veterinarian"));
  b.checked("2026-04-05", "new", kFaecal);
  EXPECT_EQ(requirement(on(b, "2026-04-10"), Need::faecal).standing, Standing::open);
}

TEST(Quarantine, TwoOfThreeSamples) {
  RoomBuilder b = newcomer().checked("2026-03-01", "new", kFaecal);
  b.checked("2026-03-22", "new", "faecal sample").checked("2026-03-30", "new", kFaecal);
  const Requirement samples = requirement(on(b, "2026-04-05"), Need::faecal);
  EXPECT_EQ(samples.standing, Standing::open);
  EXPECT_EQ(samples.have, 2);
  EXPECT_EQ(samples.wanted, 3);
  // The answer of 30 March is that to the sample of 22 March.
  EXPECT_THAT(dates(samples.counted), ElementsAre("2026-03-01", "2026-03-22"));
  EXPECT_EQ(samples.detail, "next from 2026-04-05 on");
  EXPECT_THAT(line(b, "2026-04-05"), HasSubstr("samples at least 14 days apart (2 of 3)"));
}

TEST(Quarantine, SamplesTooCloseTogether) {
  RoomBuilder b = newcomer().checked("2026-03-01", "new", kFaecal);
  b.checked("2026-03-14", "new", kFaecal);
  Requirement samples = requirement(on(b, "2026-03-15"), Need::faecal);
  EXPECT_EQ(samples.have, 1);
  EXPECT_EQ(samples.detail,
            "2026-03-14 not counted: less than 14 days after the one before; next from 2026-03-15 "
            "on");
  samples = requirement(on(b.checked("2026-03-15", "new", kFaecal), "2026-03-15"), Need::faecal);
  EXPECT_THAT(dates(samples.counted), ElementsAre("2026-03-01", "2026-03-15"));
}

// What notes say is not read; checks from before results could be written are without one.
TEST(Quarantine, ACheckWithoutAResultIsShownAndNotCounted) {
  RoomBuilder b = newcomer().entry("2026-03-01", EntryKind::checked, "new", [](room::Entry& e) {
    e.item = "mites";
    e.note = "none seen, negative";
  });
  b.checked("2026-03-15", "new", "faecal sample: Negative");
  const Quarantine q = on(b, "2026-03-20");
  EXPECT_EQ(requirement(q, Need::mites).have, 0);
  EXPECT_EQ(requirement(q, Need::mites).detail, "1 without a result in the notebook");
  EXPECT_EQ(requirement(q, Need::faecal).have, 0);
}

TEST(Quarantine, MiteFreeChecksAreInARow) {
  RoomBuilder b = newcomer();
  for (const char* day : {"2026-03-01", "2026-03-15"}) b.checked(day, "new", kMites);
  b.checked("2026-03-29", "new", "mites: positive");
  b.checked("2026-03-29 15:00", "new", kMites);  // a second look on that day proves nothing
  EXPECT_EQ(requirement(on(b, "2026-03-30"), Need::mites).standing, Standing::failed);
  for (const char* day : {"2026-04-12", "2026-04-26"}) b.checked(day, "new", kMites);
  EXPECT_EQ(requirement(on(b, "2026-05-01"), Need::mites).have, 2);
  b.checked("2026-05-10", "new", kMites);
  EXPECT_EQ(requirement(on(b, "2026-05-10"), Need::mites).standing, Standing::met);
}

TEST(Quarantine, AnAmphibian) {
  RoomBuilder b = newcomer("whites_tree_frog");
  EXPECT_EQ(line(b, "2026-03-31"),
            "30 of 90 days done, 60 left, until 2026-05-30 at the earliest (60 days, until "
            "2026-04-30, once negative for Bd and ranavirus); open: "
            "3 negative faecal samples at least 14 days apart (0 of 3); "
            "Bd negative (Bd qPCR swab) (0 of 1); ranavirus negative (ranavirus PCR) (0 of 1); "
            "2 normal sheds or a steady mass (0 of 2); "
            "3 meals in a row eaten and kept down (0 of 3)");
  EXPECT_EQ(on(b, "2026-03-31").requirements[0].trust, Trust::from_memory);
  EXPECT_EQ(on(b, "2026-03-31").requirements[0].detail, "60 once negative for Bd and ranavirus");
  b.checked("2026-03-10", "new", "Bd swab: negative");
  EXPECT_THAT(line(b, "2026-03-31"), HasSubstr("once negative for ranavirus)"));
  b.checked("2026-03-10", "new", "ranavirus: negative");
  EXPECT_THAT(line(b, "2026-03-31"),
              HasSubstr("30 of 60 days done, 30 left, until 2026-04-30 at the earliest; open: 3 "
                        "negative faecal"));
}

TEST(Quarantine, APythonStaysLonger) {
  RoomBuilder b = newcomer("royal_python");
  // 2026-03-01 + 180 d: 30, 30, 31, 30, 31 to 31 July are 152, 28 of August.
  EXPECT_THAT(line(b, "2026-04-10"),
              HasSubstr("40 of 180 days done, 140 left, until 2026-08-28 at the earliest (90 days, "
                        "until 2026-05-30, once negative for nidovirus and arenavirus); open: "));
  EXPECT_THAT(line(newcomer("boa_imperator"), "2026-04-10"),
              HasSubstr("once negative for arenavirus)"));
  b.checked("2026-03-05", "new", "nidovirus swab: negative");
  b.checked("2026-03-05", "new", "arenavirus PCR: negative");
  EXPECT_THAT(line(b, "2026-04-10"), HasSubstr("40 of 90 days done, 50 left"));
}

TEST(Quarantine, EndedEarlyItIsEndedAndWhatWasOpenIsSaidForThirtyDays) {
  RoomBuilder b = complete().entry("2026-04-10", EntryKind::quarantine_ended, "new");
  EXPECT_EQ(line(b, "2026-04-10"), "none");
  const auto said = signs(b, "2026-05-10");
  ASSERT_EQ(said.size(), 1u);
  EXPECT_EQ(said[0].says, "was signed off from quarantine on 2026-04-10 with something open");
  // The third samples and the later meals came after that day.
  EXPECT_EQ(said[0].evidence,
            "Open on that day: 50 more days; "
            "3 negative faecal samples at least 14 days apart (2 of 3); "
            "3 negative tests for Cryptosporidium at least 14 days apart (2 of 3); "
            "3 mite-free checks in a row at least 14 days apart (2 of 3); "
            "2 normal sheds or a steady mass (1 of 2); "
            "3 meals in a row eaten and kept down (0 of 3).");
  EXPECT_THAT(signs(b, "2026-05-11"), IsEmpty());
  // With all met there is nothing to say.
  RoomBuilder met = complete().entry("2026-05-30", EntryKind::quarantine_ended, "new");
  EXPECT_THAT(signs(met, "2026-05-31"), IsEmpty());
  const test::TestDay day = met.day("2026-05-31");
  const auto ended = ended_quarantine_of(day.animal("new"), day.day);
  ASSERT_TRUE(ended);
  EXPECT_EQ(ended_line(*ended), "signed off on 2026-05-30 after 90 of 90 days, all met");
  // The same with a beginning in the notebook.
  RoomBuilder jotted = newcomer().entry("2026-03-05", EntryKind::quarantine_started, "new");
  jotted.entry("2026-03-25", EntryKind::quarantine_ended, "new");
  EXPECT_THAT(signs(jotted, "2026-04-01").at(0).evidence, HasSubstr("70 more days"));
}

TEST(Quarantine, TheKeepersOwnLengthHolds) {
  RoomBuilder b = newcomer().override_for("new", "quarantine_length", "45d");
  EXPECT_THAT(line(b, "2026-03-11"),
              HasSubstr("10 of 45 days done, 35 left, until 2026-04-15 at the earliest; open: "));
  EXPECT_EQ(on(b, "2026-03-11").requirements[0].trust, Trust::keeper);
  // Also for a python, whatever is tested.
  RoomBuilder python = newcomer("royal_python").override_for("new", "quarantine_length", "120d");
  EXPECT_THAT(line(python, "2026-03-11"), HasSubstr("10 of 120 days done"));
  // The keeper's own list of tests is the whole list.
  b.override_for("new", "quarantine_tests", "2 faecal tests");
  EXPECT_THAT(line(b, "2026-03-11"), Not(HasSubstr("mite")));
  EXPECT_THAT(line(b, "2026-03-11"), HasSubstr("open: 2 negative faecal samples"));
  RoomBuilder none = newcomer().override_for("new", "quarantine_tests", "none");
  EXPECT_THAT(line(none, "2026-03-11"), HasSubstr("; open: 2 normal sheds"));
  RoomBuilder own =
      newcomer().override_for("new", "quarantine_tests", "inclusion body disease PCR");
  EXPECT_EQ(requirement(on(own, "2026-03-11"), Need::test).what,
            "inclusion body disease negative (inclusion body disease PCR)");
  own.checked("2026-03-05", "new", "Inclusion body disease, PCR: negative");
  EXPECT_EQ(requirement(on(own, "2026-03-11"), Need::test).standing, Standing::met);
  // A length that no date can hold is cut short.
  RoomBuilder long_one = newcomer().override_for("new", "quarantine_length", "99999999999d");
  EXPECT_EQ(on(long_one, "2026-03-11").days_wanted, 36500);
}

TEST(Quarantine, AGroupIsWhatTheRoomDoesNotTellApart) {
  const auto placed = [](const char* first, const char* second, const char* rack = "") {
    const auto at = [=](const char* place) {
      return [=](room::Enclosure& e) {
        e.place = place;
        e.rack = rack;
      };
    };
    return RoomBuilder()
        .enclosure("corner", at(first))
        .animal("new", "corn_snake", arrived("2026-03-01"))
        .enclosure("bench", at(second))
        .animal("berta", "corn_snake", arrived("2026-03-20"));
  };
  EXPECT_THAT(line(placed("", ""), "2026-04-01"),
              HasSubstr("began again on 2026-03-20: berta joined the same group, in bench"));
  EXPECT_EQ(on(placed("far corner", "far corner"), "2026-04-01").restarts.size(), 1u);
  EXPECT_EQ(on(placed("far corner", ""), "2026-04-01").restarts.size(), 1u);
  EXPECT_THAT(on(placed("far corner", "bathroom"), "2026-04-01").restarts, IsEmpty());
  EXPECT_EQ(on(placed("top", "bottom", "rack-q"), "2026-04-01").restarts.size(), 1u);
}

TEST(Quarantine, MovesTowardsEachOtherRestartBoth) {
  const auto at = [](const char* place) { return [=](room::Enclosure& e) { e.place = place; }; };
  RoomBuilder b = RoomBuilder()
                      .enclosure("corner", at("far corner"))
                      .animal("new", "corn_snake", arrived("2026-03-01"))
                      .enclosure("bench", at("bathroom"))
                      .animal("berta", "corn_snake", arrived("2026-03-05"));
  b.moved("2026-03-15", "new", "bench");
  EXPECT_THAT(on(b, "2026-04-01").restarts.at(0).says,
              "moved to bench, where berta is in quarantine");
  EXPECT_EQ(on(b, "2026-04-01").restarts.at(0).reason, RestartReason::move);
  EXPECT_THAT(on(b, "2026-04-01", "berta").restarts.at(0).says, "new joined it in bench");
  // Its illness there is the other's too; back in its corner it is not.
  b.entry("2026-03-20", EntryKind::ill, "berta").moved("2026-03-25", "new", "corner");
  b.entry("2026-03-28", EntryKind::ill, "berta");
  const Quarantine q = on(b, "2026-04-01");
  ASSERT_EQ(q.restarts.size(), 2u);
  EXPECT_EQ(q.restarts[1].says, "berta, in the same enclosure, ill");
  EXPECT_EQ(q.clock_since, date("2026-03-20"));
}

TEST(Quarantine, ANewcomerThatLeftAgainHasRestartedIt) {
  const RoomBuilder b = newcomer().animal("guest", "corn_snake", [](room::Animal& a) {
    a.arrived = date("2026-03-20");
    a.left = date("2026-03-22");
  });
  EXPECT_EQ(on(b, "2026-04-01").clock_since, date("2026-03-20"));
}

TEST(Quarantine, NobodyIsMetWhereAnotherOnceWas) {
  RoomBuilder b = RoomBuilder().enclosure("corner", [](auto& e) { e.place = "far corner"; });
  b.animal("new", "corn_snake", arrived("2026-03-01"));
  b.enclosure("bench", [](auto& e) { e.place = "bathroom"; });
  b.animal("guest", "corn_snake", [](room::Animal& a) { a.left = date("2026-03-22"); });
  b.entry("2026-03-02", EntryKind::quarantine_started, "guest").moved("2026-03-25", "new", "bench");
  EXPECT_THAT(on(b, "2026-04-01").restarts, IsEmpty());
}

TEST(Quarantine, AStartThatWasJottedGoesOnUntilItIsSignedOff) {
  RoomBuilder b = newcomer().entry("2026-03-05", EntryKind::quarantine_started, "new");
  const Quarantine q = on(b, "2027-03-05");
  EXPECT_FALSE(q.presumed);
  EXPECT_EQ(q.began, date("2026-03-05"));
  EXPECT_EQ(q.days_left, 0);
  EXPECT_FALSE(q.all_met());
}

TEST(Quarantine, APresumedOneLapsesOnlyWhenNobodyWorksAtIt) {
  // 90 days and 30 more: 2026-06-29 is 120 days after 2026-03-01.
  EXPECT_THAT(line(newcomer(), "2026-06-29"), HasSubstr("90 of 90 days done"));
  EXPECT_EQ(line(newcomer(), "2026-06-30"), "none");
  const auto said = signs(newcomer(), "2026-06-01");
  ASSERT_EQ(said.size(), 1u);
  EXPECT_EQ(said[0].says, "has passed its days of quarantine, and nobody has signed it off");
  EXPECT_THAT(said[0].advice, HasSubstr("`warmside jot quarantine new --at \"2026-03-01 12:00\"`"));
  RoomBuilder followed = newcomer().checked("2026-03-15", "new", kMites);
  EXPECT_THAT(line(followed, "2026-12-01"), HasSubstr("90 of 90 days done"));
  EXPECT_TRUE(on(followed, "2026-12-01").followed);
  // An illness years later is none of it.
  RoomBuilder old = newcomer().entry("2026-11-01", EntryKind::ill, "new");
  EXPECT_EQ(line(old, "2026-11-02"), "none");
}

// For the round: as long as the quarantine holds, restarts included.
TEST(Quarantine, ANewcomerIsPresumedToBeInIt) {
  const auto since = [](const RoomBuilder& b, const char* on) {
    test::TestDay test = b.day(on);
    presume_quarantines(test.day);
    return test.animal("new").quarantine_since;
  };
  EXPECT_EQ(since(newcomer(), "2026-03-01"), date("2026-03-01"));
  EXPECT_EQ(since(newcomer(), "2026-06-29"), date("2026-03-01"));
  EXPECT_FALSE(since(newcomer(), "2026-06-30"));
  RoomBuilder ill = newcomer().entry("2026-05-01", EntryKind::ill, "new");
  EXPECT_EQ(since(ill, "2026-08-29"), date("2026-03-01"));  // 120 days after the illness
  EXPECT_FALSE(since(ill, "2026-08-30"));
  RoomBuilder ended = newcomer().entry("2026-05-01", EntryKind::quarantine_ended, "new");
  EXPECT_FALSE(since(ended, "2026-05-02"));
}

TEST(Quarantine, NobodyIsInItForHavingNoProfile) {
  RoomBuilder b = RoomBuilder().enclosure("corner");
  b.add<room::OwnSpecies>("rough_snake", [](auto& s) {
    s.common_name = "Rough snake";
    s.group = Group::snake;
  });
  b.animal("new", "rough_snake", arrived("2026-03-01"));
  EXPECT_EQ(line(b, "2026-03-02"), "none");
  b.entry("2026-03-01", EntryKind::quarantine_started, "new");
  // quarantine_reptile 60 to 90 d, the long end; samples and mites by the general rules
  EXPECT_THAT(line(b, "2026-03-11"), HasSubstr("10 of 90 days done, 80 left"));
  EXPECT_EQ(requirement(on(b, "2026-03-11"), Need::faecal).wanted, 3);
}

TEST(Quarantine, ASteadyMassStandsForSheds) {
  RoomBuilder b = newcomer();
  b.weighed("2026-03-01", "new", "500g").weighed("2026-03-15", "new", "505g");
  EXPECT_EQ(requirement(on(b, "2026-03-20"), Need::shed_or_mass).standing, Standing::open);
  b.weighed("2026-03-29", "new", "480g");  // 28 days; 4 % under the middle of 500 g
  const Requirement steady = requirement(on(b, "2026-03-29"), Need::shed_or_mass);
  EXPECT_EQ(steady.standing, Standing::met);
  EXPECT_EQ(steady.detail, "steady mass: 480 g on 2026-03-29, middle of its weighings 500 g");
  b.weighed("2026-04-05", "new", "470g");  // the middle of four: the upper, 500 g; 6 %
  EXPECT_EQ(requirement(on(b, "2026-04-05"), Need::shed_or_mass).standing, Standing::open);
  // A loss before a restart is not forgotten: the middle of six is 500 g.
  RoomBuilder fell = newcomer();
  for (const char* day : {"2026-03-01", "2026-03-08", "2026-03-15"}) {
    fell.weighed(day, "new", "500g");
  }
  fell.entry("2026-03-20", EntryKind::ill, "new");
  for (const char* day : {"2026-03-22", "2026-04-05", "2026-04-19"}) {
    fell.weighed(day, "new", "450g");
  }
  EXPECT_EQ(requirement(on(fell, "2026-04-19"), Need::shed_or_mass).detail,
            "mass fell: 450 g on 2026-04-19, middle of its weighings 500 g");
  // Two normal sheds; a stuck one begins anew.
  b.entry("2026-04-10", EntryKind::shed, "new").entry("2026-05-10", EntryKind::shed, "new");
  EXPECT_EQ(requirement(on(b, "2026-05-10"), Need::shed_or_mass).standing, Standing::met);
  b.entry("2026-05-20", EntryKind::shed, "new", [](room::Entry& e) { e.item = "stuck"; });
  EXPECT_EQ(requirement(on(b, "2026-05-20"), Need::shed_or_mass).have, 0);
}

TEST(Quarantine, ARefusalOrRegurgitationBreaksTheRowOfMeals) {
  RoomBuilder b = newcomer();
  for (const char* day : {"2026-03-05", "2026-03-15", "2026-03-25"}) {
    b.entry(day, EntryKind::fed, "new");
  }
  EXPECT_EQ(requirement(on(b, "2026-03-26"), Need::feeding).standing, Standing::met);
  b.entry("2026-03-27", EntryKind::regurgitated, "new");
  EXPECT_EQ(requirement(on(b, "2026-03-27"), Need::feeding).have, 0);
  EXPECT_EQ(requirement(on(b, "2026-03-27"), Need::feeding).detail, "regurgitated on 2026-03-27");
}

// Every profile's list of tests is read: nothing that it names is left out.
TEST(Quarantine, EveryProfileIsRead) {
  for (const species::Profile& profile : species::built_in().all()) {
    const RoomBuilder b = newcomer(profile.id.text().c_str());
    const Quarantine q = on(b, "2026-03-01");
    const std::string open = q.open_in_words();
    for (const char* name : {"Bd", "Bsal", "ranavirus", "herpesvirus", "Mycoplasma", "adenovirus",
                             "arenavirus", "nidovirus", "Cryptosporidium", "faecal"}) {
      const bool named =
          profile.text(species::Key::quarantine_tests).find(name) != std::string::npos;
      EXPECT_EQ(open.find(name) != std::string::npos, named) << profile.id.text() << ": " << name;
    }
    EXPECT_EQ(open.find("mite-free") != std::string::npos, !is_amphibian(profile.group));
  }
}

}  // namespace
}  // namespace warmside::health
