// Moments and days against two other programs: Howard Hinnant's date library (github.com/
// HowardHinnant/date, its parser and formatter, which core/time.cpp does not use) and the C
// library's localtime_r, which reads the same zone files with code of its own. All agree exactly;
// there is no rounding, so no tolerance.

#include "core/time.h"

#include <date/date.h>
#include <fmt/format.h>
#include <gtest/gtest.h>
#include <time.h>

#include <chrono>
#include <cstdlib>
#include <random>
#include <sstream>
#include <string>

namespace warmside {
namespace {

constexpr std::uint64_t kSeed = 20261125;
constexpr std::int64_t kFirst_ms = -719'162LL * 86'400'000;      // 0001-01-01T00:00:00Z
constexpr std::int64_t kLast_ms = 2'932'897LL * 86'400'000 - 1;  // 9999-12-31T23:59:59.999Z

using Milliseconds = std::chrono::milliseconds;

std::string hinnant_text(std::int64_t ms) {
  const date::sys_time<Milliseconds> t{Milliseconds(ms)};
  return ms % 1000 != 0 ? date::format("%FT%TZ", t)
                        : date::format("%FT%TZ", date::floor<std::chrono::seconds>(t));
}

TEST(TimeReference, TextOfInstantsAsByHinnant) {
  std::mt19937_64 random(kSeed);
  std::uniform_int_distribution<std::int64_t> any(kFirst_ms, kLast_ms);
  for (int i = 0; i < 5000; ++i) {
    const std::int64_t ms = i % 2 == 0 ? any(random) : any(random) / 1000 * 1000;
    ASSERT_EQ(to_text(Instant::unix_ms(ms)), hinnant_text(ms)) << "seed " << kSeed << ", " << ms;
  }
}

TEST(TimeReference, ReadInstantsAsHinnant) {
  std::mt19937_64 random(kSeed + 1);
  // A day inside, so that no offset leaves the years.
  std::uniform_int_distribution<std::int64_t> any(kFirst_ms + 86'400'000, kLast_ms - 86'400'000);
  std::uniform_int_distribution<int> offsets(-1439, 1439);
  for (int i = 0; i < 5000; ++i) {
    const int offset = offsets(random);
    const std::string zone = fmt::format("{}{:02}:{:02}", offset < 0 ? '-' : '+',
                                         std::abs(offset) / 60, std::abs(offset) % 60);
    std::string text = hinnant_text(any(random));
    text.replace(text.size() - 1, 1, zone);

    date::sys_time<Milliseconds> expected;
    std::istringstream in(text);
    in >> date::parse("%FT%T%Ez", expected);
    ASSERT_FALSE(in.fail()) << text;
    const auto got = parse_instant(text);
    ASSERT_TRUE(got.ok()) << text;
    ASSERT_EQ(got->unix_ms(), expected.time_since_epoch().count())
        << text << ", seed " << kSeed + 1;
  }
}

TEST(TimeReference, EveryDayOfTheCalendarAsByHinnant) {
  std::mt19937_64 random(kSeed + 2);
  std::uniform_int_distribution<int> years(1, 9999), months(1, 12), days(1, 31);
  for (int i = 0; i < 20'000; ++i) {
    const int y = years(random), m = months(random), d = days(random);
    const date::year_month_day ymd = date::year(y) / m / d;
    const auto got = Date::of(y, m, d);
    ASSERT_EQ(got.ok(), ymd.ok()) << y << "-" << m << "-" << d;
    if (!ymd.ok()) continue;
    ASSERT_EQ(got->days_from_epoch(), date::sys_days(ymd).time_since_epoch().count());
    ASSERT_EQ(to_text(*got), date::format("%F", ymd));
    ASSERT_TRUE(got->year() == y && got->month() == m && got->day() == d) << to_text(*got);
  }
}

/// Sets the C library's zone for a while.
class CZone {
 public:
  explicit CZone(const char* name) {
    setenv("TZ", name, 1);
    tzset();
  }
  ~CZone() {
    unsetenv("TZ");
    tzset();
  }
  CZone(const CZone&) = delete;
  CZone& operator=(const CZone&) = delete;
};

std::string c_wall_text(std::int64_t ms) {
  const time_t seconds = date::floor<std::chrono::seconds>(Milliseconds(ms)).count();
  struct tm wall {};
  localtime_r(&seconds, &wall);
  return fmt::format("{:04}-{:02}-{:02} {:02}:{:02}", wall.tm_year + 1900, wall.tm_mon + 1,
                     wall.tm_mday, wall.tm_hour, wall.tm_min);
}

// 1975 to 2037: the years for which zone files of either form list every change.
TEST(TimeReference, WallClocksAsByTheCLibrary) {
  std::mt19937_64 random(kSeed + 3);
  std::uniform_int_distribution<std::int64_t> any(157'766'400'000, 2'114'380'800'000);
  for (const char* name :
       {"Europe/Oslo", "Europe/London", "Europe/Dublin", "America/New_York", "America/Sao_Paulo",
        "America/Havana", "America/St_Johns", "Asia/Beirut", "Asia/Kathmandu", "Asia/Pyongyang",
        "Australia/Lord_Howe", "Pacific/Apia", "Pacific/Chatham", "Africa/Casablanca",
        "Antarctica/Troll", "Etc/GMT-14"}) {
    const auto zone = Zone::named(name);
    ASSERT_TRUE(zone.ok()) << name;
    const CZone c_zone(name);
    for (int i = 0; i < 2000; ++i) {
      const Instant t = Instant::unix_ms(any(random));
      const std::string expected = c_wall_text(t.unix_ms());
      ASSERT_EQ(zone->wall_text(t), expected) << name << " " << to_text(t);
      ASSERT_EQ(to_text(zone->date_of(t)), expected.substr(0, 10)) << name << " " << to_text(t);
    }
  }
}

}  // namespace
}  // namespace warmside
