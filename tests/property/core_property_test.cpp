// What must hold for every moment, day, zone and field of a table.
// Seed: the environment variable RC_PARAMS, such as "seed=1 max_success=2000"; RapidCheck prints
// the seed and the smallest case on failure.

#include <gtest/gtest.h>
#include <rapidcheck.h>
#include <rapidcheck/gtest.h>

#include <algorithm>
#include <set>
#include <string>
#include <utility>
#include <vector>

#include "core/csv.h"
#include "core/time.h"
#include "core/uuid.h"

namespace warmside {
namespace {

constexpr std::int64_t kDay_ms = 86'400'000;
constexpr int kFirstDay = -719'162;  // 0001-01-01; 1969 years and 477 leap days before 1970
constexpr int kLastDay = 2'932'896;  // 9999-12-31; 8030 years and 1947 leap days after, less one

rc::Gen<Instant> any_instant() {
  return rc::gen::map(
      rc::gen::inRange<std::int64_t>(kFirstDay * kDay_ms, (kLastDay + std::int64_t{1}) * kDay_ms),
      [](std::int64_t ms) { return Instant::unix_ms(ms); });
}

/// Zones with changes at midnight, by half an hour, of a whole day, of odd seconds, and without.
const std::vector<std::string> kZones{"UTC",
                                      "Europe/Oslo",
                                      "Europe/Dublin",
                                      "America/New_York",
                                      "Asia/Beirut",
                                      "America/Sao_Paulo",
                                      "America/Havana",
                                      "America/St_Johns",
                                      "Pacific/Apia",
                                      "Pacific/Kwajalein",
                                      "Asia/Kathmandu",
                                      "Australia/Lord_Howe",
                                      "Africa/Monrovia",
                                      "Antarctica/Troll",
                                      "Africa/Casablanca",
                                      "Asia/Manila",
                                      "America/Juneau",
                                      "Pacific/Kiritimati"};

/// Days that the clocks of a zone never showed (IANA time zone database, files australasia and
/// asia): the date line was moved to the other side.
const std::set<std::pair<std::string, std::string>> kSkippedDays{
    {"Pacific/Apia", "2011-12-30"},
    {"Pacific/Kwajalein", "1993-08-21"},
    {"Asia/Manila", "1844-12-31"},
    {"Pacific/Kiritimati", "1994-12-31"},
};

bool skipped(const std::string& zone, Date day) {
  return kSkippedDays.count({zone, to_text(day)}) > 0;
}

Zone named(const std::string& name) {
  auto zone = Zone::named(name);
  RC_ASSERT(zone.ok());
  return *zone;
}

RC_GTEST_PROP(InstantProperty, TextReadsBack, ()) {
  const Instant t = *any_instant();
  const auto back = parse_instant(to_text(t));
  RC_ASSERT(back.ok());
  RC_ASSERT(*back == t);
}

RC_GTEST_PROP(InstantProperty, TextsOfWholeSecondsSortAsTheirMoments, ()) {
  const auto whole = [](Instant t) {
    return Instant::unix_ms(t.unix_ms() - ((t.unix_ms() % 1000) + 1000) % 1000);
  };
  const Instant a = whole(*any_instant()), b = whole(*any_instant());
  RC_ASSERT((a < b) == (to_text(a) < to_text(b)));
}

RC_GTEST_PROP(InstantProperty, AnyTextIsReadOrRefused, (const std::string& text)) {
  const auto t = parse_instant(text);
  const auto d = parse_date(text);
  const auto c = parse_time_of_day(text);
  const auto z = Zone::named(text);
  const auto u = parse_uuid(text);
  if (t) RC_ASSERT(parse_instant(to_text(*t)).ok());
  if (d) RC_ASSERT(to_text(*d) == text);
  if (c) RC_ASSERT(to_text(*c) == text);
  if (z) RC_ASSERT(z->name() == text);
  RC_ASSERT(!u.ok() || text.size() == 36u);
}

RC_GTEST_PROP(InstantProperty, AGoodTextWithOneByteChangedIsReadOrRefused, ()) {
  std::string text = to_text(*any_instant());
  const auto at = *rc::gen::inRange<std::size_t>(0, text.size());
  text[at] = *rc::gen::arbitrary<char>();
  const auto t = parse_instant(text);
  if (t) RC_ASSERT(parse_instant(to_text(*t))->unix_ms() == t->unix_ms());
}

RC_GTEST_PROP(DateProperty, TextAndPartsReadBack, ()) {
  const Date d = Date::days_from_epoch(*rc::gen::inRange(kFirstDay, kLastDay + 1));
  RC_ASSERT(*parse_date(to_text(d)) == d);
  RC_ASSERT(*Date::of(d.year(), d.month(), d.day()) == d);
  RC_ASSERT((d + 1) - d == 1);
}

RC_GTEST_PROP(ZoneProperty, ADayIsTheDateOfItsStart, ()) {
  const std::string name = *rc::gen::elementOf(kZones);
  const Zone zone = named(name);
  // 1840 to 2100, where zones have their changes.
  const Date day = Date::days_from_epoch(*rc::gen::inRange(-47'482, 47'482));
  const Date shown = zone.date_of(zone.start_of(day));
  RC_ASSERT(shown == (skipped(name, day) ? day + 1 : day));
}

/// The same for every day, since changes are few and a random day seldom meets one.
TEST(ZoneEveryDay, IsTheDateOfItsStartAndDaysFollowOneAnother) {
  for (const std::string& name : kZones) {
    const Zone zone = *Zone::named(name);
    Instant last = zone.start_of(Date::days_from_epoch(-47'483));
    for (int n = -47'482; n < 47'482; ++n) {
      const Date day = Date::days_from_epoch(n);
      const Instant start = zone.start_of(day);
      ASSERT_EQ(zone.date_of(start), skipped(name, day) ? day + 1 : day)
          << name << " " << to_text(day);
      ASSERT_LE(last, start) << name << " " << to_text(day);
      // Nothing of the day comes before its start (a clock that is put back over midnight shows
      // the day before once more, but not the day after).
      ASSERT_LT(zone.date_of(Instant::unix_ms(start.unix_ms() - 1)), day)
          << name << " " << to_text(day);
      last = start;
    }
  }
}

RC_GTEST_PROP(ZoneProperty, AWallClockShowsTheTimeItWasAskedForOrALaterOne, ()) {
  const std::string name = *rc::gen::elementOf(kZones);
  const Zone zone = named(name);
  const Date day = Date::days_from_epoch(*rc::gen::inRange(-25'567, 25'567));  // 1900 to 2040
  const TimeOfDay time{*rc::gen::inRange(0, 1440)};
  const std::string asked = to_text(day) + " " + to_text(time);
  const std::string shown = zone.wall_text(zone.at(day, time));
  // Later only where the clock jumped: an hour at most, or a day over the date line.
  RC_ASSERT(shown >= asked);
  if (shown != asked) {
    const Instant jump = zone.at(day, time);
    RC_ASSERT(zone.wall_text(Instant::unix_ms(jump.unix_ms() - 1)) < asked);
  }
}

RC_GTEST_PROP(CsvProperty, FieldsOfAnyBytesReadBack,
              (const std::vector<std::vector<std::string>>& table)) {
  std::string text;
  std::vector<std::vector<std::string>> expected;
  for (const auto& record : table) {
    if (record.empty()) continue;  // a record has at least one field
    for (std::size_t i = 0; i < record.size(); ++i)
      text += (i > 0 ? "," : "") + csv_field(record[i]);
    text += *rc::gen::element<std::string>("\n", "\r\n");
    expected.push_back(record);
  }
  CsvReader reader(text);
  int line = 1;
  for (const auto& record : expected) {
    const auto got = reader.next();
    RC_ASSERT(got.ok());
    RC_ASSERT(*got != nullptr);
    RC_ASSERT(std::vector<std::string>((*got)->begin(), (*got)->end()) == record);
    RC_ASSERT(reader.line() == line);
    ++line;
    for (const std::string& field : record) {
      line += static_cast<int>(std::count(field.begin(), field.end(), '\n'));
    }
  }
  const auto end = reader.next();
  RC_ASSERT(end.ok() && *end == nullptr);
}

/// Strings made of the few bytes that mean something to a reader of tables.
RC_GTEST_PROP(CsvProperty, FieldsOfHostileBytesReadBack, ()) {
  const auto field = *rc::gen::container<std::string>(
      rc::gen::element('"', ',', '\n', '\r', '#', 'a', ' ', '\xEF', '\xBB', '\xBF', '\0'));
  const std::string text = csv_field(field) + "," + csv_field(field) + "\r\n";
  CsvReader reader(text);
  const auto got = reader.next();
  RC_ASSERT(got.ok());
  RC_ASSERT(*got != nullptr);
  RC_ASSERT((*got)->size() == 2u);
  RC_ASSERT((**got)[0] == field);
  RC_ASSERT((**got)[1] == field);
}

RC_GTEST_PROP(CsvProperty, AnyTextEnds, ()) {
  const auto text =
      *rc::gen::container<std::string>(rc::gen::element('"', ',', '\n', '\r', '#', 'a', '\xEF'));
  CsvReader reader(text);
  std::size_t steps = 0;
  for (;; ++steps) {
    const auto got = reader.next();
    if (got.ok() && *got == nullptr) break;
    RC_ASSERT(steps <= text.size());
  }
}

RC_GTEST_PROP(UuidProperty, TextReadsBackInEitherCase, ()) {
  Uuid id;
  for (auto& byte : id.bytes) byte = *rc::gen::arbitrary<std::uint8_t>();
  std::string text = to_text(id);
  RC_ASSERT(*parse_uuid(text) == id);
  for (char& c : text) {
    if (c >= 'a' && c <= 'f') c = static_cast<char>(c - 'a' + 'A');
  }
  RC_ASSERT(*parse_uuid(text) == id);
}

}  // namespace
}  // namespace warmside
