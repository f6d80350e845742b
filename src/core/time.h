#pragma once
// Moments, civil dates and time zones.
//
// An Instant is a moment in UTC, kept to the millisecond; a Date is a day on the wall calendar of
// the room. Only a Zone turns one into the other, so that no code can forget the zone. Nothing
// here reads the machine's clock: the time of "now" is handed in by the face.

#include <compare>
#include <cstdint>
#include <memory>
#include <string>
#include <string_view>

#include "core/quantity.h"
#include "core/result.h"

namespace warmside {

/// A moment in UTC, in milliseconds since 1970-01-01T00:00:00Z (leap seconds not counted, as in
/// POSIX time). Years 0001 to 9999.
class Instant {
 public:
  constexpr Instant() = default;
  static constexpr Instant unix_ms(std::int64_t ms) {
    Instant t;
    t.ms_ = ms;
    return t;
  }
  constexpr std::int64_t unix_ms() const { return ms_; }
  constexpr auto operator<=>(const Instant&) const = default;
  friend Duration operator-(Instant a, Instant b) {
    return Duration::seconds(static_cast<double>(a.ms_ - b.ms_) / 1000.0);
  }
  friend Instant operator+(Instant a, Duration d);
  friend Instant operator-(Instant a, Duration d) { return a + (-d); }

 private:
  std::int64_t ms_ = 0;
};

/// Reads RFC 3339 with an offset: "2026-11-25T07:10:00Z", "2026-11-25T08:10:00.250+01:00".
/// A time without an offset is a Problem (bad_value): it could mean two moments.
/// A leap second (:60) is read as the following second.
Result<Instant> parse_instant(std::string_view text);

/// RFC 3339 in UTC; fractions only where there are any. Reads back to the same Instant.
std::string to_text(Instant t);

/// A day on a wall calendar (proleptic Gregorian), years 0001 to 9999.
class Date {
 public:
  constexpr Date() = default;
  static constexpr Date days_from_epoch(std::int32_t days) {
    Date d;
    d.days_ = days;
    return d;
  }
  /// A day that does not exist (2026-02-30) is a Problem.
  static Result<Date> of(int year, int month, int day);
  constexpr std::int32_t days_from_epoch() const { return days_; }
  int year() const;
  int month() const;  // 1..12
  int day() const;    // 1..31
  constexpr auto operator<=>(const Date&) const = default;
  friend constexpr Date operator+(Date d, int days) { return days_from_epoch(d.days_ + days); }
  friend constexpr Date operator-(Date d, int days) { return days_from_epoch(d.days_ - days); }
  /// Whole days from b to a.
  friend constexpr int operator-(Date a, Date b) { return a.days_ - b.days_; }

 private:
  std::int32_t days_ = 0;
};

/// Reads "2026-11-25".
Result<Date> parse_date(std::string_view text);
std::string to_text(Date d);

/// A time on a wall clock, to the minute: when a timer switches.
struct TimeOfDay {
  int minutes = 0;  // after midnight, 0..1439
  auto operator<=>(const TimeOfDay&) const = default;
};
/// Reads "07:30" (00:00 to 23:59).
Result<TimeOfDay> parse_time_of_day(std::string_view text);
std::string to_text(TimeOfDay t);

/// An IANA time zone such as Europe/Oslo, from the system's zone files. Cheap to copy.
class Zone {
 public:
  /// UTC.
  Zone();
  static Result<Zone> named(std::string_view iana_name);
  const std::string& name() const { return name_; }
  /// The wall calendar's day at a moment.
  Date date_of(Instant t) const;
  /// The first moment of a day. Where midnight is skipped by a clock change, the first moment
  /// that exists; where it comes twice, the earlier.
  Instant start_of(Date day) const { return at(day, TimeOfDay{0}); }
  /// A wall-clock time on a day; skipped and doubled times as for start_of.
  Instant at(Date day, TimeOfDay time) const;
  /// What the wall clock shows at a moment, its seconds dropped.
  TimeOfDay time_of(Instant t) const;
  /// What the wall clock is ahead of UTC; negative in the west.
  Duration offset_at(Instant t) const;
  /// "2026-11-25 08:10" on the room's wall clock.
  std::string wall_text(Instant t) const;
  /// RFC 3339 on the wall clock, to the nearest second: "2026-11-25T08:10:03+01:00". Old offsets of
  /// broken minutes, which the form cannot say, are shortened to whole minutes, the time with them.
  std::string instant_text(Instant t) const;

 private:
  struct Rules;
  std::int64_t offset_ms(Instant t) const;
  std::string name_;
  std::shared_ptr<const Rules> rules_;
};

}  // namespace warmside
