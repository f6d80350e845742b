// The room file: what is read, every way to be refused with its line and field, and writing.

#include "book/room_file.h"

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "room/look_up.h"
#include "support/room_builder.h"

namespace warmside::book {
namespace {

using room::Room;
using test::date;
using test::q;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

/// "room.toml:12 animal a.species unknown_name"
std::string brief(const Problem& problem) {
  return fmt::format("{}:{} {} {}", problem.where.file, problem.where.line, problem.where.field,
                     name_of(problem.code));
}

std::vector<std::string> briefs(const Problems& problems) {
  std::vector<std::string> texts;
  for (const Problem& problem : problems) texts.push_back(brief(problem));
  return texts;
}

std::vector<std::string> refusals(std::string_view text) {
  Room room;
  RecordPlaces places;
  return briefs(read_room_file(text, "f", room, places));
}

Room read(std::string_view text) {
  Room room;
  RecordPlaces places;
  for (const Problem& problem : read_room_file(text, "f", room, places)) {
    ADD_FAILURE() << to_line(problem);
  }
  return room;
}

TEST(RoomFile, ReadsEachFormOfField) {
  const Room room = read(R"(# A room.
[room]
name = "Attic"
zone = "Europe/Oslo"
latitude = 59
longitude = 10.75
units = "us"
vulnerable_person = "no"

[[timer]]
id = "t"
on = "07:30"

[[enclosure]]
id = "tub"
shelf = 2
length = "120cm"
lid_covered = "60%"
front = "glass 4mm"
bottom = 'cork 20mm + pvc 10mm'
vents_low = "12cm2"
water_dish = false
retired = 2026-11-25

[[thermostat]]
id = "s"
kind = "pulse proportional"
day = "86F"
hysteresis = "0.5dC"

[[animal]]
id = "juniper"
species = "corn_snake"
enclosure = "tub"
born = "2020-02-29"
name = """
two
lines"""

[[task]]
id = "soak"
title = "soak"
every = "2wk"
)");
  EXPECT_EQ(room.info.name, "Attic");
  EXPECT_EQ(room.info.latitude_deg, 59);
  EXPECT_EQ(room.info.longitude_deg, 10.75);
  EXPECT_EQ(room.info.units, UnitSystem::us);
  EXPECT_EQ(room.info.vulnerable_person, room::Answer::no);
  EXPECT_EQ(room.timers.at(0).on, TimeOfDay{450});
  const room::Enclosure& tub = room.enclosures.at(0);
  EXPECT_EQ(tub.shelf, 2);
  EXPECT_EQ(tub.length, q<Length>("120cm"));
  EXPECT_EQ(tub.lid_covered, Percentage::percent(60));
  EXPECT_EQ(tub.front->layers.size(), 1u);
  EXPECT_EQ(tub.bottom->layers.at(1).material, "pvc");
  EXPECT_EQ(tub.vents_low, Area::square_centimetres(12));
  EXPECT_FALSE(tub.water_dish);
  EXPECT_EQ(tub.retired, date("2026-11-25"));
  EXPECT_EQ(room.thermostats.at(0).kind, room::ThermostatKind::pulse_proportional);
  EXPECT_EQ(room.thermostats.at(0).day, Temperature::celsius(30));
  EXPECT_EQ(room.thermostats.at(0).hysteresis, TemperatureDelta::kelvin(0.5));
  EXPECT_EQ(room.animals.at(0).born, date("2020-02-29"));
  EXPECT_EQ(room.animals.at(0).name, "two\nlines");
  EXPECT_EQ(room.tasks.at(0).every, Duration::days(14));
}

TEST(RoomFile, WhatIsNotGivenIsTheDefault) {
  const Room room = read("[[enclosure]]\nid = \"b\"\n[[enclosure]]\nid = \"a\"\n");
  room::Enclosure a, b;
  a.id = room::EnclosureId::trusted("a");
  b.id = room::EnclosureId::trusted("b");
  EXPECT_EQ(room.enclosures, (std::vector<room::Enclosure>{a, b}));  // in id order
  EXPECT_TRUE(read("") == Room{});
  EXPECT_TRUE(read("# nothing\n") == Room{});
}

TEST(RoomFile, EachRefusalHasItsLineAndField) {
  const struct {
    const char* text;
    const char* refusal;  // line, field, code
  } kCases[] = {
      // The text itself.
      {"[room\n", "1  bad_syntax"},
      {"[room]\nname = \"a\nzone = 1\n", "2  bad_syntax"},
      {"[room]\nname = 'a'\nname = 'b'\n", "3  bad_syntax"},
      {"\n\nx = \"\xff\"\n", "3  bad_syntax"},
      // Kinds of record.
      {"room = 1\n", "1 room bad_value"},
      {"[[room]]\nname = \"a\"\n", "1 room bad_value"},
      {"[animal]\nid = \"a\"\n", "1 animal bad_value"},
      {"\nanimal = [1]\n", "2 animal bad_value"},
      {"[[animals]]\nid = \"a\"\n", "1 animals unknown_name"},
      {"[[heater]]\nid = \"a\"\nkind = \"mat\"\n[[species]]\nid = \"s\"\ncommon_name = \"s\"\n"
       "group = \"frog\"\n[x]\n",
       "8 x unknown_name"},
      // Ids.
      {"[[enclosure]]\nname = \"a\"\n", "1 enclosure.id missing"},
      {"[[enclosure]]\nid = 7\n", "2 enclosure.id missing"},
      {"[[enclosure]]\nid = \"A b\"\n", "2 enclosure.id bad_value"},
      {"[[enclosure]]\nid = \"\"\n", "2 enclosure.id bad_value"},
      {"[[enclosure]]\nid = \"a\"\n[[enclosure]]\nid = \"a\"\n", "3 enclosure.id duplicate"},
      // Fields.
      {"[room]\nzone = \"UTC\"\n", "1 room.name missing"},
      {"[room]\nname = \"a\"\nzone = \"UTC\"\ncolour = 1\n", "4 room.colour unknown_name"},
      {"[[enclosure]]\nid = \"a\"\n\nnmae = \"b\"\n", "4 enclosure a.nmae unknown_name"},
      {"[[heater]]\nid = \"a\"\n", "1 heater a.kind missing"},
      {"[[heater]]\nid = \"a\"\nkind = \"oven\"\n", "3 heater a.kind bad_value"},
      {"[[heater]]\nid = \"a\"\nkind = \"mat\"\npower = \"25\"\n", "4 heater a.power bad_value"},
      {"[[heater]]\nid = \"a\"\nkind = \"mat\"\npower = \"25C\"\n", "4 heater a.power bad_value"},
      {"[[heater]]\nid = \"a\"\nkind = \"mat\"\npower = \"-5W\"\n",
       "4 heater a.power out_of_range"},
      {"[[heater]]\nid = \"a\"\nkind = \"mat\"\npower = \"x\"\n", "4 heater a.power bad_syntax"},
      {"[[enclosure]]\nid = \"a\"\nfront = \"glass\"\n", "3 enclosure a.front bad_value"},
      {"[[timer]]\nid = \"a\"\non = \"25:00\"\n", "3 timer a.on bad_value"},
      {"[[enclosure]]\nid = \"a\"\nretired = \"2026-02-30\"\n", "3 enclosure a.retired bad_value"},
      {"[[animal]]\nid = \"a\"\nspecies = \"Corn snake\"\n", "3 animal a.species bad_value"},
      // Types.
      {"[room]\nname = 1\nzone = \"UTC\"\n", "2 room.name bad_value"},
      {"[room]\nname = \"a\"\nzone = [\"UTC\"]\n", "3 room.zone bad_value"},
      {"[room]\nname = \"a\"\nzone = \"UTC\"\nlatitude = \"59\"\n", "4 room.latitude bad_value"},
      {"[room]\nname = \"a\"\nzone = \"UTC\"\nlatitude = true\n", "4 room.latitude bad_value"},
      {"[[enclosure]]\nid = \"a\"\nshelf = 1.5\n", "3 enclosure a.shelf bad_value"},
      {"[[enclosure]]\nid = \"a\"\nshelf = \"1\"\n", "3 enclosure a.shelf bad_value"},
      {"[[enclosure]]\nid = \"a\"\nshelf = 1000000001\n", "3 enclosure a.shelf bad_value"},
      {"[[enclosure]]\nid = \"a\"\nshelf = 9223372036854775808\n", "3  bad_syntax"},
      {"[[enclosure]]\nid = \"a\"\nwater_dish = \"yes\"\n", "3 enclosure a.water_dish bad_value"},
      {"[[enclosure]]\nid = \"a\"\nwater_dish = 1\n", "3 enclosure a.water_dish bad_value"},
      {"[[enclosure]]\nid = \"a\"\nlength = 120\n", "3 enclosure a.length bad_value"},
      {"[[enclosure]]\nid = \"a\"\nretired = 2026\n", "3 enclosure a.retired bad_value"},
      {"[[enclosure]]\nid = \"a\"\nretired = 2026-11-25T07:00:00Z\n",
       "3 enclosure a.retired bad_value"},
      {"[[enclosure]]\nid = \"a\"\n[enclosure.name]\nx = 1\n", "3 enclosure a.name bad_value"},
  };
  for (const auto& c : kCases) {
    EXPECT_THAT(refusals(c.text), ElementsAre(std::string("f:") + c.refusal)) << c.text;
  }
}

TEST(RoomFile, AllProblemsAreListedInTheOrderOfLines) {
  EXPECT_THAT(refusals("[[heater]]\n"
                       "id = \"h\"\n"
                       "power = \"25\"\n"
                       "colour = \"red\"\n"
                       "[room]\n"
                       "name = 1\n"
                       "[[animal]]\n"
                       "id = \"a\"\n"
                       "sex = \"both\"\n"
                       "[[cat]]\n"),
              ElementsAre("f:1 heater h.kind missing", "f:3 heater h.power bad_value",
                          "f:4 heater h.colour unknown_name", "f:5 room.zone missing",
                          "f:6 room.name bad_value", "f:7 animal a.species missing",
                          "f:9 animal a.sex bad_value", "f:10 cat unknown_name"));
}

TEST(RoomFile, ProblemsSayWhatWouldBeRight) {
  Room room;
  RecordPlaces places;
  const auto problems = read_room_file("[[heater]]\nid = \"h\"\nkind = \"oven\"\nwdith = \"1m\"\n",
                                       "f", room, places);
  ASSERT_EQ(problems.size(), 2u);
  EXPECT_EQ(problems[0].found, "oven");
  EXPECT_THAT(problems[0].expected, HasSubstr("mat, cable, panel"));
  EXPECT_THAT(problems[1].expected, HasSubstr("width"));
}

TEST(RoomFile, DepthAndLengthAreLimited) {
  const auto nested = [](int depth) {
    return "x = " + std::string(static_cast<std::size_t>(depth), '[') +
           std::string(static_cast<std::size_t>(depth), ']') + "\n";
  };
  EXPECT_THAT(refusals(nested(3)), ElementsAre("f:1 x unknown_name"));
  for (const int depth : {1000, 100'000}) {
    const auto found = refusals(nested(depth));
    ASSERT_EQ(found.size(), 1u) << depth;
    EXPECT_THAT(found[0], HasSubstr("bad_syntax")) << depth;
  }
  std::string dotted = "a";
  for (int i = 0; i < 100'000; ++i) dotted += ".a";
  for (const std::string& text : {dotted + " = 1\n", "[" + dotted + "]\n", "[[" + dotted + "]]\n",
                                  "x = {" + dotted + " = 1}\n"}) {
    const auto found = refusals(text);
    ASSERT_EQ(found.size(), 1u);
    EXPECT_THAT(found[0], HasSubstr("bad_syntax"));
  }
  // Dots in texts, comments and numbers are no keys.
  const std::string dots(1000, '.');
  EXPECT_EQ(read("[[enclosure]]\nid = \"a\"\nname = \"" + dots + "\" # " + dots + "\nplace = '" +
                 dots + "'\n")
                .enclosures.at(0)
                .name,
            dots);
  EXPECT_THAT(refusals("#" + std::string(16 * 1024 * 1024, ' ')), ElementsAre("f:0  bad_syntax"));
}

TEST(RoomFile, SeveralFilesMakeOneRoom) {
  Room room;
  RecordPlaces places;
  EXPECT_THAT(read_room_file("[room]\nname = \"a\"\nzone = \"UTC\"\n[[enclosure]]\nid = \"tub\"\n",
                             "one", room, places),
              IsEmpty());
  EXPECT_THAT(read_room_file("[[animal]]\nid = \"j\"\nspecies = \"corn_snake\"\n"
                             "enclosure = \"tub\"\n",
                             "two", room, places),
              IsEmpty());
  EXPECT_THAT(room::check_room(room), IsEmpty());
  // What another of them has already is a duplicate there.
  const auto problems = read_room_file(
      "[[enclosure]]\nid = \"new\"\n\n[[enclosure]]\nid = \"tub\"\n[room]\nname = \"b\"\nzone = "
      "\"UTC\"\n",
      "three", room, places);
  EXPECT_THAT(briefs(problems),
              ElementsAre("three:4 enclosure.id duplicate", "three:6 room bad_value"));
  EXPECT_THAT(problems[0].what, HasSubstr("one:4"));
}

TEST(RoomFile, ARecordReplacesOneThatWasThereBefore) {
  // From the book: whole, so that a field that is no longer given is gone.
  Room room;
  room.enclosures.resize(2);
  room.enclosures[0].id = room::EnclosureId::trusted("a");
  room.enclosures[0].name = "old";
  room.enclosures[0].rack = "old";
  room.enclosures[1].id = room::EnclosureId::trusted("b");
  room.enclosures[1].name = "stays";
  RecordPlaces places;
  EXPECT_THAT(read_room_file("[[enclosure]]\nid = \"a\"\nname = \"new\"\n", "f", room, places),
              IsEmpty());
  ASSERT_EQ(room.enclosures.size(), 2u);
  EXPECT_EQ(room.enclosures[0].name, "new");
  EXPECT_EQ(room.enclosures[0].rack, "");
  EXPECT_EQ(room.enclosures[1].name, "stays");
}

TEST(RecordPlaces, AFieldElseItsRecord) {
  Room room;
  RecordPlaces places;
  EXPECT_THAT(read_room_file("[[animal]]\nid = \"a\"\nspecies = \"cat\"\n"
                             "enclosure = \"nowhere\"\n",
                             "f", room, places),
              IsEmpty());
  EXPECT_EQ(places.find("animal", "a", "enclosure").line, 4);
  EXPECT_EQ(places.find("animal", "a", "count").line, 1);
  EXPECT_EQ(places.find("animal", "b", "count"), Where{});
  EXPECT_TRUE(places.has_record("animal", "a"));
  EXPECT_FALSE(places.has_record("animal", "b"));
  std::vector<std::string> found;
  for (const auto& problem : room::check_room(room)) found.push_back(brief(places.placed(problem)));
  EXPECT_THAT(found, ElementsAre(":0 room.name missing", "f:3 animal a.species unknown_name",
                                 "f:4 animal a.enclosure unknown_name"));
}

TEST(WriteRoomFile, IsCanonicalAndReadsBack) {
  Room room;
  room.info.name = "Quote \" back \\ line\nbreak\ttab \x01 é";
  room.info.zone = "Europe/Oslo";
  room.enclosures.resize(1);
  room.enclosures[0].id = room::EnclosureId::trusted("tub");
  room.enclosures[0].water_dish = false;
  room.enclosures[0].length = Length::inches(48);
  room.animals.resize(1);
  room.animals[0].id = room::AnimalId::trusted("j");
  room.animals[0].species = species::SpeciesId::trusted("corn_snake");
  room.animals[0].born = date("2020-02-29");
  const std::string text = write_room_file(room);
  EXPECT_TRUE(read(text) == room);
  EXPECT_EQ(write_room_file(read(text)), text);
  // Only what is not the default, and what must be there.
  EXPECT_THAT(text, HasSubstr("\n[[enclosure]]\nid = \"tub\"\nlength = \"121.92cm\"\n"
                              "water_dish = false\n\n[[animal]]\nid = \"j\"\n"
                              "species = \"corn_snake\"\nborn = 2020-02-29\n"));
  room.info.units = UnitSystem::us;
  EXPECT_THAT(write_room_file(room), HasSubstr("length = \"48in\""));
  EXPECT_TRUE(read(write_room_file(room)) == room);
}

TEST(WriteRoomFile, AnEmptyRoomStillHasItsMusts) {
  const Room room;
  EXPECT_THAT(write_room_file(room), testing::EndsWith("[room]\nname = \"\"\nzone = \"UTC\"\n"));
  EXPECT_TRUE(read(write_room_file(room)) == room);
}

}  // namespace
}  // namespace warmside::book
