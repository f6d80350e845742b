// The sun against published positions and events.
//
// - Reda & Andreas 2003, NREL/TP-560-34302, table A5.1: one worked example with every intermediate
//   value, printed to 6 and more digits; and the sunrise and sunset rows of the same report.
// - United States Naval Observatory, tables of sunrise and sunset for 39 N 105 W in 2015, printed
// to
//   the minute.
// - PyEphem 4.1 and the NOAA equations (Meeus 1998, ch. 25): rows computed outside the program.
// - Forsythe, Rykiel, Stahl, Wu & Schoolfield 1995, Ecological Modelling 80:87-95: day length.

#include "light/sun.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <string>

namespace warmside::light {
namespace {

Instant moment(std::string_view text) {
  return parse_instant(text).value();
}
Date date(std::string_view text) {
  return parse_date(text).value();
}
Zone zone(std::string_view name) {
  return Zone::named(name).value();
}
SunDay day_at(Place place, std::string_view day, std::string_view zone_name = "UTC") {
  return sun_day(place, date(day), zone(zone_name)).value();
}
double seconds_between(const std::optional<Instant>& found, std::string_view wanted) {
  return found ? std::abs((*found - moment(wanted)).seconds()) : INFINITY;
}

// ---- The worked example: 2003-10-17 12:30:30, UTC-7, 39.742476 N 105.1786 W, delta T 67 s. ------
// Half a unit of the last printed digit, and as much again for the digits that the paper dropped.

constexpr const char* kExample = "2003-10-17T12:30:30-07:00";

TEST(SunOfTheWorkedExample, Position) {
  const SunPosition sun = sun_position(moment(kExample), Duration::seconds(67));
  EXPECT_NEAR(sun.longitude_deg, 204.0085519281, 1e-9);
  EXPECT_NEAR(sun.distance_au, 0.9965422974, 1e-10);
  EXPECT_NEAR(sun.sidereal_time_deg, 318.511910, 1e-6);
  EXPECT_NEAR(sun.right_ascension_deg, 202.227408, 1e-6);
  EXPECT_NEAR(sun.declination_deg, -9.31434, 1e-5);
  EXPECT_NEAR(sun.equation_of_time_min, 14.64, 0.01);
}

TEST(SunOfTheWorkedExample, Elevation) {
  // Printed: 39.872046 from the place itself. From the centre of the Earth it is higher by the
  // parallax, printed as 0.002451 at the horizon, times the cosine of the elevation: 0.001881. The
  // tolerance is for the flattening of the Earth (1/298 of the parallax: 6e-6) and for delta T,
  // here of the year and not the example's 67 s (2.5 s, in which the sun runs 3e-5 along the
  // ecliptic).
  const Place golden{39.742476, -105.1786};
  EXPECT_NEAR(sun_elevation_deg(golden, moment(kExample)), 39.872046 + 0.001881, 4e-5);
}

TEST(SunOfTheReport, Events) {
  struct Row {
    double latitude_deg;
    const char *day, *sunrise, *sunset;
  };
  // Printed to the second, with delta T 64 s; the printed second may be cut off or rounded.
  for (const Row& row : {Row{-35, "1996-07-05", "1996-07-05T07:08:15Z", "1996-07-05T17:01:04Z"},
                         Row{-35, "2004-12-04", "2004-12-04T04:38:57Z", "2004-12-04T19:02:02Z"},
                         Row{35, "1994-01-02", "1994-01-02T07:08:12Z", "1994-01-02T16:59:55Z"}}) {
    const SunDay found = day_at({row.latitude_deg, 0}, row.day);
    EXPECT_LE(seconds_between(found.sunrise, row.sunrise), 1) << row.day;
    EXPECT_LE(seconds_between(found.sunset, row.sunset), 1) << row.day;
  }
}

TEST(SunOfTheNavalObservatory, MinutesOfAYear) {
  struct Row {
    const char *day, *sunrise, *sunset;
  };
  // Mountain Standard Time all year. Rounded to the minute: half a minute, and a second for their
  // own rounding.
  for (const Row& row :
       {Row{"2015-01-02", "2015-01-02T07:19:00-07:00", "2015-01-02T16:49:00-07:00"},
        Row{"2015-04-02", "2015-04-02T05:43:00-07:00", "2015-04-02T18:24:00-07:00"},
        Row{"2015-08-02", "2015-08-02T05:01:00-07:00", "2015-08-02T19:10:00-07:00"},
        Row{"2015-12-02", "2015-12-02T07:01:00-07:00", "2015-12-02T16:38:00-07:00"}}) {
    const SunDay found = day_at({39, -105}, row.day, "America/Phoenix");
    EXPECT_LE(seconds_between(found.sunrise, row.sunrise), 31) << row.day;
    EXPECT_LE(seconds_between(found.sunset, row.sunset), 31) << row.day;
  }
}

// ---- Rows computed with PyEphem 4.1 (upper limb at -34', no air) and the NOAA equations ---------
// 30 s is what the program promises. PyEphem takes the sun's true radius and the parallax, which
// are worth some seconds; the noon of both is the same to a second, the height to the parallax
// (0.0025) and the last printed digit.

struct ComputedRow {
  Place place;
  const char *day, *sunrise, *noon, *sunset;
  double length_h, noon_deg, noaa_h, cbm_h;
};

constexpr ComputedRow kComputed[] = {
    {{1.35, 103.82},
     "2024-12-21",
     "2024-12-20T23:01:26Z",
     "2024-12-21T05:02:52Z",
     "2024-12-21T11:04:17Z",
     12.0475,
     65.211,
     12.0430,
     12.043},
    {{33.45, -112.07},
     "2024-06-20",
     "2024-06-20T12:18:53Z",
     "2024-06-20T19:30:03Z",
     "2024-06-21T02:41:12Z",
     14.3719,
     79.988,
     14.3710,
     14.372},
    {{51.50, 0},
     "2024-12-21",
     "2024-12-21T08:03:24Z",
     "2024-12-21T11:58:17Z",
     "2024-12-21T15:53:10Z",
     7.8295,
     15.059,
     7.8261,
     7.824},
    {{60.17, 24.94},
     "2024-06-20",
     "2024-06-20T00:54:00Z",
     "2024-06-20T10:21:55Z",
     "2024-06-20T19:49:53Z",
     18.9315,
     53.266,
     18.9321,
     18.936},
};

TEST(SunComputedElsewhere, EventsAndNoon) {
  for (const ComputedRow& row : kComputed) {
    const SunDay found = day_at(row.place, row.day);
    EXPECT_LE(seconds_between(found.sunrise, row.sunrise), 30) << row.day;
    EXPECT_LE(seconds_between(found.solar_noon, row.noon), 1) << row.day;
    EXPECT_LE(seconds_between(found.sunset, row.sunset), 30) << row.day;
    EXPECT_NEAR(found.day_length.hours(), row.length_h, 30 / 3600.0) << row.day;
    EXPECT_NEAR(found.noon_elevation_deg, row.noon_deg, 0.003) << row.day;
    EXPECT_EQ(found.polar, Polar::no) << row.day;
    // The NOAA equations take one declination for the whole day: a minute below 65 degrees.
    EXPECT_NEAR(found.day_length.hours(), row.noaa_h, 1 / 60.0) << row.day;
    EXPECT_NEAR(found.day_length.hours(), row.cbm_h, 2.5 / 60) << row.day;
  }
}

TEST(SunComputedElsewhere, ThePolarDay) {
  struct Row {
    Place place;
    const char *day, *noon, *zone;
    double noon_deg;
  };
  for (const Row& row :
       {Row{{69.65, 18.96}, "2024-06-21", "2024-06-21T10:46:04Z", "Europe/Oslo", 43.785},
        Row{{-77.85, 166.67}, "2024-01-15", "2024-01-15T01:02:23Z", "Pacific/Auckland", 33.394}}) {
    const SunDay found = day_at(row.place, row.day, row.zone);
    EXPECT_EQ(found.polar, Polar::day);
    EXPECT_FALSE(found.sunrise || found.sunset);
    EXPECT_EQ(found.day_length, Duration::hours(24));
    EXPECT_LE(seconds_between(found.solar_noon, row.noon), 1);
    EXPECT_NEAR(found.noon_elevation_deg, row.noon_deg, 0.003);
  }
}

// Another route: astropy with the centre at -0.8333 degrees, to a tenth of a second. Its delta T
// and nutation are newer: a second.
TEST(SunComputedElsewhere, TheSameConvention) {
  const SunDay london = day_at({51.50, 0}, "2024-12-21");
  EXPECT_LE(seconds_between(london.sunrise, "2024-12-21T08:03:26.5Z"), 2);
  EXPECT_LE(seconds_between(london.sunset, "2024-12-21T15:53:08.4Z"), 2);
  const SunDay helsinki = day_at({60.17, 24.94}, "2024-06-20");
  EXPECT_LE(seconds_between(helsinki.sunrise, "2024-06-20T00:53:56.4Z"), 3);
  EXPECT_LE(seconds_between(helsinki.sunset, "2024-06-20T19:49:57.2Z"), 3);
}

// ---- The CBM model of day length ----------------------------------------------------------------

double cbm_day_length_h(double latitude_deg, int day_of_year) {
  constexpr double kDegree = std::numbers::pi / 180;
  const double revolution =
      0.2163108 + 2 * std::atan(0.9671396 * std::tan(0.00860 * (day_of_year - 186)));
  const double declination = std::asin(0.39795 * std::cos(revolution));
  const double latitude = latitude_deg * kDegree;
  const double cosine = (std::sin(0.8333 * kDegree) + std::sin(latitude) * std::sin(declination)) /
                        (std::cos(latitude) * std::cos(declination));
  return 24 - 24 / std::numbers::pi * std::acos(std::clamp(cosine, -1.0, 1.0));
}

TEST(SunAndTheCbmModel, ItsOwnNumbers) {
  EXPECT_NEAR(cbm_day_length_h(0, 80), 12.11111, 1e-5);
  EXPECT_NEAR(cbm_day_length_h(51.5, 172), 16.63994, 1e-5);
  EXPECT_NEAR(cbm_day_length_h(51.5, 355), 7.82556, 1e-5);
  EXPECT_NEAR(cbm_day_length_h(40, 1), 9.37569, 1e-5);
  EXPECT_NEAR(cbm_day_length_h(-30, 15), 13.87357, 1e-5);
}

// Its authors give an error below seven minutes within 60 degrees (abstract, from memory). The one
// minute that they give within 40 is not held to: the formula knows the day of the year only, and
// from one year of the leap cycle to the next that is worth up to 2 minutes there.
TEST(SunAndTheCbmModel, TheYearsOfItsLeapCycle) {
  double worst_min = 0;
  for (const char* year : {"1992-01-01", "1993-01-01", "1994-01-01", "1995-01-01"}) {
    for (int latitude_deg = -60; latitude_deg <= 60; latitude_deg += 10) {
      for (int i = 0; i < 365; i += 5) {
        const double apart_h = day_length(latitude_deg, date(year) + i)->hours() -
                               cbm_day_length_h(latitude_deg, i + 1);
        worst_min = std::max(worst_min, 60 * std::abs(apart_h));
      }
    }
  }
  EXPECT_LT(worst_min, 7);
}

}  // namespace
}  // namespace warmside::light
