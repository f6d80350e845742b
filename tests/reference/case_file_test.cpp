// The case file and the weather file: what cannot be is refused with the line of its field and what
// would be right, and what is written reads back as it was. No outside source: docs/case-file.md.

#include "climate/case_file.h"

#include <fmt/format.h>
#include <gtest/gtest.h>
#include <rapidcheck.h>
#include <rapidcheck/gtest.h>

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "climate/moist_air.h"
#include "reference/case_generator.h"
#include "reference/enclosure_cases.h"

namespace warmside::climate {
namespace {

// --- Cases that cannot be ---

/// Lines as they are counted below: the first is line 1.
constexpr const char* kGood[] = {
    "[enclosure]",               // 1
    "length = \"60cm\"",         // 2
    "width = \"45cm\"",          // 3
    "height = \"40cm\"",         // 4
    "[faces]",                   // 5
    "front = \"glass 4mm\"",     // 6
    "back = \"glass 4mm\"",      // 7
    "left = \"glass 4mm\"",      // 8
    "right = \"glass 4mm\"",     // 9
    "top = \"mesh 1mm\"",        // 10
    "bottom = \"glass 6mm\"",    // 11
    "[substrate]",               // 12
    "kind = \"sand\"",           // 13
    "depth = \"3cm\"",           // 14
    "[openings]",                // 15
    "leak_changes_per_h = 0.5",  // 16
    "[room]",                    // 17
    "temperature = \"21C\"",     // 18
    "[dish]",                    // 19
    "x = \"50cm\"",              // 20
    "y = \"10cm\"",              // 21
    "area = \"80cm2\"",          // 22
    "[[probe]]",                 // 23
    "name = \"warm\"",           // 24
    "x = \"10cm\"",              // 25
    "y = \"20cm\"",              // 26
    "z = \"2cm\"",               // 27
    "[[thermostat]]",            // 28
    "name = \"control\"",        // 29
    "probe = \"warm\"",          // 30
    "day = \"30C\"",             // 31
    "[[heater]]",                // 32
    "name = \"mat\"",            // 33
    "kind = \"mat under\"",      // 34
    "power = \"15W\"",           // 35
    "x = \"0cm..25cm\"",         // 36
    "y = \"5cm..40cm\"",         // 37
    "thermostat = \"control\"",  // 38
    "[[body]]",                  // 39
    "name = \"rock\"",           // 40
    "kind = \"rock\"",           // 41
    "x = \"30cm..40cm\"",        // 42
    "y = \"20cm..30cm\"",        // 43
    "height = \"5cm\"",          // 44
    "[[misting]]",               // 45
    "time = \"08:00\"",          // 46
    "water = \"50mL\"",          // 47
    "[[neighbour]]",             // 48
    "face = \"back\"",           // 49
    "insulated = true",          // 50
};

/// The good case with some lines in place of others ("" leaves one out, as a blank line).
std::string with(const std::vector<std::pair<int, std::string>>& changes) {
  std::string text;
  for (std::size_t i = 0; i < std::size(kGood); ++i) {
    std::string line = kGood[i];
    for (const auto& [at, other] : changes) {
      if (at == static_cast<int>(i) + 1) line = other;
    }
    text += line + "\n";
  }
  return text;
}

struct Bad {
  const char* what;  // of it is wrong, for the test's reader
  std::vector<std::pair<int, std::string>> changes;
  int line;              // of the problem
  const char* field;     // it names
  const char* says;      // part of what it says is wrong
  const char* expected;  // part of what it says would be right
};

TEST(CaseFileReference, AGoodCaseIsRead) {
  const auto read = read_case_file(with({}), "tank.toml");
  ASSERT_TRUE(read.ok()) << to_line(read.problem().front());
  EXPECT_EQ(read->heaters.size(), 1u);
  EXPECT_NEAR(read->size.length.metres(), 0.6, 1e-15);
  EXPECT_EQ(read->thermostats[0].probe, "warm");
}

TEST(CaseFileReference, WhatCannotBeIsRefusedWithItsLine) {
  const std::string two_mats =
      "thermostat = \"control\"\n[[heater]]\nname = \"mat\"\nkind = \"mat under\"\npower = "
      "\"5W\"\nx = \"30cm..40cm\"\ny = \"5cm..40cm\"";
  const Bad kBad[] = {
      {"a probe outside", {{25, "x = \"70cm\""}}, 25, "probe warm.x", "outside", "60cm x 45cm"},
      {"a mat longer than the floor",
       {{36, "x = \"0cm..70cm\""}},
       36,
       "heater mat.x",
       "larger",
       "within"},
      {"a mat of nothing", {{36, "x = \"10cm\""}}, 32, "heater mat", "covers nothing", "..30cm"},
      {"a mat on feet",
       {{34, "kind = \"mat under\"\nz = \"3cm\""}},
       35,
       "heater mat.z",
       "hangs",
       "leave it out"},
      {"a lamp without height",
       {{34, "kind = \"lamp\""}},
       32,
       "heater mat.z",
       "must be given",
       "height"},
      {"a lamp above the lid",
       {{34, "kind = \"lamp\"\nz = \"50cm\""}},
       35,
       "heater mat.z",
       "outside",
       "at most 40cm"},
      {"a power of nothing",
       {{35, "power = \"0W\""}},
       35,
       "heater mat.power",
       "not a power",
       "more than 0W"},
      {"a power without unit", {{35, "power = \"15\""}}, 35, "heater mat.power", "unit", "W"},
      {"a power in metres", {{35, "power = \"15cm\""}}, 35, "heater mat.power", "", "W"},
      {"a power that is a number",
       {{35, "power = 15"}},
       35,
       "heater mat.power",
       "belong",
       "quotes"},
      {"an unlisted material",
       {{7, "back = \"marble 2cm\""}},
       7,
       "faces.back",
       "not listed",
       "glass"},
      {"an unlisted substrate",
       {{13, "kind = \"gravel\""}},
       13,
       "substrate.kind",
       "not listed",
       "sand"},
      {"a wall of no layers", {{7, "back = \"\""}}, 7, "faces.back", "", "glass 4mm"},
      {"a wall 2 m thick", {{7, "back = \"glass 2m\""}}, 7, "faces.back", "not a size", "100cm"},
      {"mesh on a side", {{8, "left = \"mesh 1mm\""}}, 8, "faces.left", "mesh", "top"},
      {"mesh in a sandwich",
       {{10, "top = \"mesh 1mm + glass 4mm\""}},
       10,
       "faces.top",
       "mesh",
       "one layer"},
      {"no depth", {{14, "depth = \"0cm\""}}, 14, "substrate.depth", "not a size", "0.1cm"},
      {"depth left out", {{14, ""}}, 12, "substrate.depth", "must be given", "deep"},
      {"no floor at all", {{12, "[ground]"}}, 0, "substrate", "must be given", "[substrate]"},
      {"a size of nothing", {{2, "length = \"0cm\""}}, 2, "enclosure.length", "not a size", "5cm"},
      {"a negative size", {{3, "width = \"-45cm\""}}, 3, "enclosure.width", "", ""},
      {"a thermostat without a heater",
       {{38, ""}},
       28,
       "thermostat control",
       "without a heater",
       "thermostat = \"control\""},
      {"a thermostat that is not there",
       {{38, "thermostat = \"other\""}},
       38,
       "heater mat.thermostat",
       "no thermostat",
       "[[thermostat]]"},
      {"a probe that is not there",
       {{30, "probe = \"cool\""}},
       30,
       "thermostat control.probe",
       "no probe",
       "[[probe]]"},
      {"a thermostat on a temp gun",
       {{24, "name = \"warm\"\nkind = \"temp gun\""}},
       31,
       "thermostat control.probe",
       "temp gun",
       "another kind"},
      {"a band of nothing",
       {{31, "day = \"30C\"\nband = \"0K\""}},
       32,
       "thermostat control.band",
       "band",
       "0.05K"},
      {"a set point of fire",
       {{31, "day = \"200C\""}},
       31,
       "thermostat control.day",
       "temperature",
       "70C"},
      {"two heaters of one name", {{38, two_mats}}, 39, "heater mat", "twice", "another name"},
      {"a name left out", {{33, ""}}, 32, "heater.name", "must be given", "name"},
      {"half a timer",
       {{35, "power = \"15W\"\non = \"08:00\""}},
       36,
       "heater mat.on",
       "both",
       "off"},
      {"a time that is none", {{46, "time = \"25:00\""}}, 46, "misting.time", "", ""},
      {"mist of nothing", {{47, "water = \"0mL\""}}, 47, "misting.water", "not an amount", "0mL"},
      {"a dish outside", {{20, "x = \"80cm\""}}, 19, "dish", "outside", "within"},
      {"a dish as large as the floor",
       {{22, "area = \"2600cm2\""}},
       22,
       "dish.area",
       "area",
       "80 %"},
      {"a rock beyond the floor",
       {{42, "x = \"50cm..70cm\""}},
       39,
       "body rock",
       "beyond",
       "within"},
      {"a rock of glass wool",
       {{44, "height = \"5cm\"\nmaterial = \"wool\""}},
       45,
       "body rock.material",
       "not listed",
       "slate"},
      {"a neighbour of a word",
       {{49, "face = \"behind\""}},
       49,
       "neighbour behind.face",
       "no such",
       "front, back"},
      {"a neighbour on mesh", {{49, "face = \"top\""}}, 48, "neighbour top", "mesh", "closed"},
      {"a neighbour both warm and insulated",
       {{50, "insulated = true\ntemperature = \"25C\""}},
       50,
       "neighbour back.insulated",
       "both",
       "one of them"},
      {"a leak like a storm",
       {{16, "leak_changes_per_h = 500.0"}},
       16,
       "openings.leak_changes_per_h",
       "leaking",
       "60"},
      {"a leak of no number",
       {{16, "leak_changes_per_h = nan"}},
       16,
       "openings.leak_changes_per_h",
       "",
       ""},
      {"a room of 100 degrees",
       {{18, "temperature = \"100C\""}},
       18,
       "room.temperature",
       "temperature",
       "70C"},
      {"a heated room without walls",
       {{18, "heater = \"1000W\""}},
       17,
       "room.walls_w_per_k",
       "walls",
       "W for each K"},
      {"a field that is not there",
       {{14, "depth = \"3cm\"\ncolour = \"red\""}},
       15,
       "substrate.colour",
       "no such field",
       "depth"},
      {"a part that is not there", {{45, "[[fog]]"}}, 45, "fog", "no such part", "misting"},
      {"a heater in single brackets", {{32, "[heater]"}}, 32, "heater", "not a list", "[[heater]]"},
      {"not TOML", {{5, "[faces"}}, 5, "", "", ""},
  };
  for (const Bad& bad : kBad) {
    const auto read = read_case_file(with(bad.changes), "tank.toml");
    ASSERT_FALSE(read.ok()) << bad.what;
    // Of several problems one is this; those of a part that is in doubt may follow.
    const auto found =
        std::find_if(read.problem().begin(), read.problem().end(), [&](const auto& p) {
          return p.where.line == bad.line && (p.where.field == bad.field || *bad.field == 0);
        });
    std::string all;
    for (const Problem& problem : read.problem()) all += "\n  " + to_line(problem);
    ASSERT_NE(found, read.problem().end()) << bad.what << all;
    EXPECT_EQ(found->where.file, "tank.toml") << bad.what;
    EXPECT_NE(found->what.find(bad.says), std::string::npos) << bad.what << all;
    EXPECT_NE(found->expected.find(bad.expected), std::string::npos) << bad.what << all;
    EXPECT_FALSE(found->what.empty()) << bad.what;
    EXPECT_LE(read.problem().size(), 6u) << bad.what << all;  // one slip, no flood
  }
}

// A part is named in messages as far as one line holds: its name may be long, or have breaks in it.
TEST(CaseFileReference, LongNamesStayShortInMessages) {
  const std::string name = std::string(200, 'x') + "\\n\\u0007" + std::string(200, 'y');
  const auto read =
      read_case_file(with({{33, "name = \"" + name + "\""}, {35, "power = \"0W\""}}), "tank.toml");
  ASSERT_FALSE(read.ok());
  ASSERT_EQ(read.problem().size(), 1u);
  const Problem& problem = read.problem().front();
  EXPECT_EQ(problem.where.line, 35);
  EXPECT_LE(problem.where.field.size(), 160u);
  EXPECT_EQ(problem.where.field.find('\n'), std::string::npos);
}

// --- Weather ---

constexpr const char* kHead = "utc_time,temp_c,relative_humidity_pct\n";

/// Rows of full hours of a day in November.
std::string hours(int from, int count, double first_c = 5) {
  std::string out;
  for (int h = from; h < from + count; ++h) {
    out += fmt::format("2026-11-{:02}T{:02}:00:00Z,{},80\n", 1 + h / 24, h % 24, first_c + h % 24);
  }
  return out;
}

TEST(CaseFileReference, WeatherIsReadByTheHour) {
  const auto read = read_weather(kHead + hours(0, 48), "weather.csv");
  ASSERT_TRUE(read.ok()) << to_line(read.problem().front());
  ASSERT_EQ(read->temperature_k.size(), 48u);
  ASSERT_EQ(read->vapour_kg_per_m3.size(), 48u);
  EXPECT_NEAR(read->temperature_k[7], 273.15 + 12, 1e-9);
  // Vapour of 12 degC at 80 %: p / (R_v T).
  const double want = 0.8 * saturation_pressure_pa(285.15) / (kVapourGasConstant * 285.15);
  EXPECT_NEAR(read->vapour_kg_per_m3[7], want, 1e-6 * want);
}

TEST(CaseFileReference, WeatherOfOtherColumnsZonesAndHalfHours) {
  // Columns in another order, one more, quotes, another zone, and readings at the half hour: the
  // full hours lie in the middle between them.
  std::string text = "note,temp_c,utc_time,relative_humidity_pct\n";
  for (int h = 0; h < 26; ++h) {
    text += fmt::format("\"a, b\",{},2026-11-{:02}T{:02}:30:00+02:00,100\n", h, 1 + h / 24, h % 24);
  }
  const auto read = read_weather(text, "weather.csv");
  ASSERT_TRUE(read.ok()) << to_line(read.problem().front());
  ASSERT_EQ(read->temperature_k.size(), 25u);
  EXPECT_NEAR(read->temperature_k[0], 273.15 + 0.5, 1e-9);
  EXPECT_NEAR(read->temperature_k[24], 273.15 + 24.5, 1e-9);
}

TEST(CaseFileReference, AShortGapIsFilledInAStraightLine) {
  const auto read = read_weather(kHead + hours(0, 20) + hours(24, 24), "weather.csv");
  ASSERT_TRUE(read.ok()) << to_line(read.problem().front());
  ASSERT_EQ(read->temperature_k.size(), 48u);
  // From 24 degC at 19 h to 5 degC at 24 h.
  EXPECT_NEAR(read->temperature_k[20], 273.15 + 24 - 19.0 / 5, 1e-9);
  EXPECT_NEAR(read->temperature_k[23], 273.15 + 24 - 4 * 19.0 / 5, 1e-9);
}

TEST(CaseFileReference, FaultyWeatherIsRefusedWithItsLine) {
  struct Row {
    const char* what;
    std::string text;
    int line;
    const char* field;
    const char* says;
  };
  const std::string day = hours(0, 24);
  const Row kRows[] = {
      {"empty", "", 0, "", "empty"},
      {"no humidity", "utc_time,temp_c\n2026-11-01T00:00:00Z,5\n", 1, "relative_humidity_pct",
       "no such column"},
      {"a gap", kHead + day + "2026-11-04T01:00:00Z,5,80\n", 26, "utc_time", "gap"},
      {"out of order", kHead + day + "2026-11-01T22:00:00Z,5,80\n", 26, "utc_time", "not after"},
      {"the same hour twice", kHead + day + "2026-11-01T23:00:00Z,5,80\n", 26, "utc_time",
       "not after"},
      {"not a number", kHead + day + "2026-11-02T00:00:00Z,cold,80\n", 26, "temp_c", "not a value"},
      {"nothing", kHead + day + "2026-11-02T00:00:00Z,,80\n", 26, "temp_c", "not a value"},
      {"a number and more", kHead + day + "2026-11-02T00:00:00Z,5C,80\n", 26, "temp_c",
       "not a value"},
      {"nan", kHead + day + "2026-11-02T00:00:00Z,nan,80\n", 26, "temp_c", "not a value"},
      {"infinite", kHead + day + "2026-11-02T00:00:00Z,inf,80\n", 26, "temp_c", "not a value"},
      {"kelvin", kHead + day + "2026-11-02T00:00:00Z,278.15,80\n", 26, "temp_c", "not a value"},
      {"humidity of 180", kHead + day + "2026-11-02T00:00:00Z,5,180\n", 26, "relative_humidity_pct",
       "not a value"},
      {"a time that is none", kHead + day + "tomorrow,5,80\n", 26, "utc_time", ""},
      {"a date without its time", kHead + day + "2026-11-02,5,80\n", 26, "utc_time", ""},
      {"a short row", kHead + day + "2026-11-02T00:00:00Z,5\n", 26, "", "too short"},
      {"half a day", kHead + hours(0, 12), -1, "", "too short"},
  };
  for (const Row& row : kRows) {
    const auto read = read_weather(row.text, "weather.csv");
    ASSERT_FALSE(read.ok()) << row.what;
    const Problem& problem = read.problem().front();
    if (row.line > 0) {
      EXPECT_EQ(problem.where.line, row.line) << row.what << ": " << to_line(problem);
    }
    EXPECT_EQ(problem.where.file, "weather.csv") << row.what;
    EXPECT_EQ(problem.where.field, row.field) << row.what << ": " << to_line(problem);
    EXPECT_NE(problem.what.find(row.says), std::string::npos)
        << row.what << ": " << to_line(problem);
    EXPECT_FALSE(problem.expected.empty()) << row.what << ": " << to_line(problem);
  }
}

// --- Writing ---

/// Whether all fields of two parts are the same, to the bit.
template <class Part>
bool same(const Part& a, const Part& b) {
  std::vector<const void*> others;
  Part::describe(
      b, [&](const char*, Need, const auto& field, const char*) { others.push_back(&field); });
  std::size_t i = 0;
  bool equal = true;
  Part::describe(a, [&](const char*, Need, const auto& field, const char*) {
    using Field = std::remove_cvref_t<decltype(field)>;
    equal = equal && field == *static_cast<const Field*>(others[i++]);
  });
  return equal;
}
template <class Part>
bool same(const std::vector<Part>& a, const std::vector<Part>& b) {
  return std::equal(a.begin(), a.end(), b.begin(), b.end(),
                    [](const Part& x, const Part& y) { return same(x, y); });
}
bool same_case(const EnclosureCase& a, const EnclosureCase& b) {
  return same(a.size, b.size) && same(a.faces, b.faces) && same(a.substrate, b.substrate) &&
         same(a.openings, b.openings) && same(a.room, b.room) &&
         a.dish.has_value() == b.dish.has_value() && (!a.dish || same(*a.dish, *b.dish)) &&
         same(a.bodies, b.bodies) && same(a.heaters, b.heaters) &&
         same(a.thermostats, b.thermostats) && same(a.probes, b.probes) &&
         same(a.mistings, b.mistings) && same(a.neighbours, b.neighbours);
}

TEST(CaseFileReference, EveryCaseReadsBack) {
  for (const NamedCase& one : enclosure_cases()) {
    const auto read = read_case_file(one.text, "case.toml");
    ASSERT_TRUE(read.ok()) << one.name << ": " << to_line(read.problem().front());
    for (const UnitSystem units : {UnitSystem::metric, UnitSystem::us}) {
      const std::string written = write_case_file(*read, units);
      const auto again = read_case_file(written, "case.toml");
      ASSERT_TRUE(again.ok()) << one.name << ": " << to_line(again.problem().front());
      EXPECT_TRUE(same_case(*read, *again)) << one.name << "\n" << written;
      EXPECT_EQ(write_case_file(*again, units), written) << one.name;
    }
  }
}

RC_GTEST_PROP(CaseFileProperty, WhatIsWrittenReadsBackTheSame, ()) {
  const EnclosureCase drawn = any_case();
  const Problems wrong = check_case(drawn);
  RC_LOG() << write_case_file(drawn) << std::endl;
  if (!wrong.empty()) RC_FAIL(to_line(wrong.front()));  // the generator's own mistake
  for (const UnitSystem units : {UnitSystem::metric, UnitSystem::us}) {
    const std::string written = write_case_file(drawn, units);
    const auto again = read_case_file(written, "case.toml");
    if (!again) RC_FAIL(to_line(again.problem().front()));
    RC_ASSERT(same_case(drawn, *again));
    RC_ASSERT(write_case_file(*again, units) == written);
  }
}

}  // namespace
}  // namespace warmside::climate
