// The sun's day: how it is settled which events belong to a date, the long days and nights, and
// what is refused. Values against published ones: tests/reference/sun_test.cpp.

#include "light/sun.h"

#include <gtest/gtest.h>

#include <cmath>

namespace warmside::light {
namespace {

Date date(std::string_view text) {
  return parse_date(text).value();
}
Zone zone(std::string_view name) {
  return Zone::named(name).value();
}
SunDay day_at(Place place, Date day, const Zone& zone) {
  return sun_day(place, day, zone).value();
}

TEST(SunDay, NoonLiesOnTheDateAndTheEventsRoundIt) {
  for (const char* name : {"Europe/Oslo", "Pacific/Auckland", "America/Anchorage", "UTC"}) {
    for (const double longitude_deg : {-179.0, -100.0, 0.0, 5.32, 90.0, 175.0}) {
      for (int i = 0; i < 365; i += 13) {
        const Date day = date("2026-01-01") + i;
        const SunDay found = day_at({47, longitude_deg}, day, zone(name));
        const double from_noon_h =
            std::abs((found.solar_noon - zone(name).at(day, TimeOfDay{720})).hours());
        EXPECT_LE(from_noon_h, 12.6) << name << " " << longitude_deg;  // half a day of 25 hours
        ASSERT_TRUE(found.sunrise && found.sunset);
        EXPECT_LT(*found.sunrise, found.solar_noon);
        EXPECT_LT(found.solar_noon, *found.sunset);
        EXPECT_NEAR((*found.sunset - *found.sunrise).seconds(), found.day_length.seconds(), 0.01);
      }
    }
  }
}

/// By its definition: at sunrise and sunset the centre stands at -0.8333 degrees. The elevation at
/// an instant is computed afresh, without the interpolation over the day.
TEST(SunDay, TheCentreStandsFiftyMinutesUnderTheHorizon) {
  for (const double latitude_deg : {-65.0, -40.0, 0.0, 30.0, 60.39, 65.0}) {
    for (int i = 0; i < 365; i += 30) {
      const Place place{latitude_deg, 5.32};
      const SunDay found = day_at(place, date("2026-01-01") + i, zone("Europe/Oslo"));
      ASSERT_TRUE(found.sunrise && found.sunset);
      // A millisecond of an Instant is 4e-6 degrees.
      EXPECT_NEAR(sun_elevation_deg(place, *found.sunrise), -0.8333, 1e-5);
      EXPECT_NEAR(sun_elevation_deg(place, *found.sunset), -0.8333, 1e-5);
      EXPECT_NEAR(sun_elevation_deg(place, found.solar_noon), found.noon_elevation_deg, 1e-5);
    }
  }
}

/// Every moment at which the sun crosses the horizon belongs to one date and no more.
TEST(SunDay, NoSunriseIsLostOrDoubledOverAYear) {
  for (const double latitude_deg : {60.39, 66.0, 69.65}) {
    std::optional<Instant> last;
    int rises = 0, falls = 0;
    for (int i = 0; i < 365; ++i) {
      const SunDay found =
          day_at({latitude_deg, 18.96}, date("2026-01-01") + i, zone("Europe/Oslo"));
      for (const auto& event : {found.sunrise, found.sunset}) {
        if (!event) continue;
        if (last) {
          EXPECT_LT(*last, *event) << latitude_deg << " day " << i;
        }
        last = event;
      }
      rises += found.sunrise ? 1 : 0;
      falls += found.sunset ? 1 : 0;
    }
    // What has come up goes down; the year begins in the night.
    EXPECT_EQ(rises, falls) << latitude_deg;
    if (latitude_deg < 65) {
      EXPECT_EQ(rises, 365);
    }
  }
}

TEST(SunDay, BetweenTheBrightAndTheUsualSeasonOneEventIsMissing) {
  int one_event = 0;
  for (int i = 0; i < 365; ++i) {
    const SunDay found = day_at({69.65, 18.96}, date("2026-01-01") + i, zone("Europe/Oslo"));
    if (found.sunrise.has_value() == found.sunset.has_value()) continue;
    ++one_event;
    EXPECT_EQ(found.polar, Polar::no);
    EXPECT_GT(found.day_length, Duration::hours(12));
    EXPECT_LT(found.day_length, Duration::hours(24));
  }
  EXPECT_GE(one_event, 1);
  EXPECT_LE(one_event, 4);  // at the two ends of the bright season
}

TEST(SunDay, ThePolesHaveADayAndANightAYear) {
  for (const double latitude_deg : {90.0, -90.0}) {
    int days = 0, nights = 0;
    for (int i = 0; i < 365; ++i) {
      const SunDay found = day_at({latitude_deg, 0}, date("2026-01-01") + i, Zone());
      days += found.polar == Polar::day ? 1 : 0;
      nights += found.polar == Polar::night ? 1 : 0;
      EXPECT_LE(found.sunrise.has_value() + found.sunset.has_value(), 1);
    }
    EXPECT_GE(days, 180);
    EXPECT_GE(nights, 170);
    EXPECT_GE(days + nights, 362);
  }
}

TEST(SunDay, ADayThatTheClocksShortenOrLengthenHasOneNoon) {
  const Zone oslo = zone("Europe/Oslo");
  for (const char* text : {"2026-03-29", "2026-10-25"}) {  // EU rule: last Sundays
    const SunDay before = day_at({60.39, 5.32}, date(text) - 1, oslo);
    const SunDay on = day_at({60.39, 5.32}, date(text), oslo);
    EXPECT_NEAR((on.solar_noon - before.solar_noon).hours(), 24, 31 / 3600.0);
    EXPECT_EQ(oslo.date_of(on.solar_noon), date(text));
  }
}

TEST(SunDay, NoPlaceNoYearNoDay) {
  const Date day = date("2026-06-21");
  for (const Place& place : {Place{90.01, 0}, Place{-91, 0}, Place{NAN, 0}, Place{0, 180.5},
                             Place{0, -181}, Place{0, INFINITY}}) {
    const auto found = sun_day(place, day, Zone());
    ASSERT_FALSE(found.ok());
    EXPECT_EQ(found.problem().code, ProblemCode::out_of_range);
  }
  EXPECT_FALSE(sun_day({}, date("1899-12-31"), Zone()).ok());
  EXPECT_FALSE(sun_day({}, date("2101-01-01"), Zone()).ok());
  EXPECT_TRUE(sun_day({}, date("1900-01-01"), zone("Pacific/Auckland")).ok());
  EXPECT_TRUE(sun_day({}, date("2100-12-31"), zone("America/Anchorage")).ok());
  // Samoa went over the date line and left this day out (IANA: Pacific/Apia).
  EXPECT_FALSE(sun_day({-13.8, -171.7}, date("2011-12-30"), zone("Pacific/Apia")).ok());
  EXPECT_FALSE(day_length(91, day).ok());
  EXPECT_FALSE(summer_share(true, date("2200-01-01")).ok());
}

/// Espenak & Meeus's polynomials meet at their seams within 0.1 s up to 2050 (their text); a slip
/// of a coefficient would tear them apart.
TEST(DeltaT, HasNoJumps) {
  for (const char* seam :
       {"1920-01-01", "1941-01-01", "1961-01-01", "1986-01-01", "2005-01-01", "2050-01-01"}) {
    const double jump_s = (delta_t(date(seam)) - delta_t(date(seam) - 1)).seconds();
    EXPECT_LT(std::abs(jump_s), 0.5) << seam;
  }
  // Observed: 63.8 s at 2000.0 (Astronomical Almanac, table of delta T).
  EXPECT_NEAR(delta_t(date("2000-01-01")).seconds(), 63.8, 0.2);
}

TEST(SummerShare, RunsFromSolsticeToSolstice) {
  EXPECT_NEAR(*summer_share(true, date("2026-06-21")), 1, 1e-3);
  EXPECT_NEAR(*summer_share(true, date("2026-12-21")), 0, 1e-3);
  EXPECT_NEAR(*summer_share(false, date("2026-06-21")), 0, 1e-3);
  // Equinox 2026-03-20T14:46Z (United States Naval Observatory); declination runs 0.4 degrees a
  // day.
  EXPECT_NEAR(*summer_share(true, date("2026-03-20")), 0.5, 0.4 / 23.4 / 2);
}

}  // namespace
}  // namespace warmside::light
