#include "core/time.h"

#include <date/tz.h>
#include <fmt/format.h>

#include <chrono>
#include <cmath>

namespace warmside {
namespace {

constexpr std::int64_t kDayMs = 86'400'000;
constexpr std::int64_t kMinuteMs = 60'000;

Problem not_a(const char* thing, const char* expected, std::string_view found) {
  return {ProblemCode::bad_value, fmt::format("not {}", thing), {}, expected, shown(found)};
}

/// Reads exactly `count` digits at `at`; -1 when there is anything else.
int digits(std::string_view text, std::size_t at, std::size_t count) {
  if (at + count > text.size()) return -1;
  int n = 0;
  for (std::size_t i = at; i < at + count; ++i) {
    if (text[i] < '0' || text[i] > '9') return -1;
    n = n * 10 + (text[i] - '0');
  }
  return n;
}

std::chrono::year_month_day civil(Date d) {
  return std::chrono::year_month_day(std::chrono::sys_days(std::chrono::days(d.days_from_epoch())));
}

std::int64_t floor_div(std::int64_t a, std::int64_t b) {
  return a / b - ((a % b != 0 && (a % b < 0) != (b < 0)) ? 1 : 0);
}

}  // namespace

Instant operator+(Instant a, Duration d) {
  return Instant::unix_ms(a.ms_ + std::llround(d.seconds() * 1000.0));
}

Result<Instant> parse_instant(std::string_view text) {
  const auto bad = [&] {
    return not_a("a moment in time", "RFC 3339 with an offset, such as 2026-11-25T07:10:00Z", text);
  };
  const int hour = digits(text, 11, 2), minute = digits(text, 14, 2), second = digits(text, 17, 2);
  if (text.size() < 20 || (text[10] != 'T' && text[10] != 't' && text[10] != ' ') ||
      text[13] != ':' || text[16] != ':' || hour < 0 || hour > 23 || minute < 0 || minute > 59 ||
      second < 0 || second > 60) {
    return bad();
  }
  const auto day = parse_date(text.substr(0, 10));
  if (!day) return bad();
  std::size_t at = 19;
  std::int64_t ms = 0;
  if (text[at] == '.') {
    std::int64_t scale = 100;
    const std::size_t first = ++at;
    for (; at < text.size() && text[at] >= '0' && text[at] <= '9'; ++at, scale /= 10) {
      ms += (text[at] - '0') * scale;
    }
    if (at == first || at - first > 12) return bad();
  }
  std::int64_t offset = 0;  // minutes east of UTC
  if (at + 1 == text.size() && (text[at] == 'Z' || text[at] == 'z')) {
    offset = 0;
  } else if (at + 6 == text.size() && (text[at] == '+' || text[at] == '-') && text[at + 3] == ':') {
    const int h = digits(text, at + 1, 2), m = digits(text, at + 4, 2);
    if (h < 0 || h > 23 || m < 0 || m > 59) return bad();
    offset = (text[at] == '-' ? -1 : 1) * (h * 60 + m);
  } else {
    return bad();
  }
  const auto t =
      Instant::unix_ms(day->days_from_epoch() * kDayMs + (hour * 60 + minute) * kMinuteMs +
                       second * 1000 + ms - offset * kMinuteMs);
  // An offset can push the edge days out of the years that print with four digits.
  const Date first = *Date::of(1, 1, 1), last = *Date::of(9999, 12, 31);
  const auto utc_day = floor_div(t.unix_ms(), kDayMs);
  if (utc_day < first.days_from_epoch() || utc_day > last.days_from_epoch()) return bad();
  return t;
}

std::string to_text(Instant t) {
  const std::int64_t day = floor_div(t.unix_ms(), kDayMs);
  const std::int64_t in_day = t.unix_ms() - day * kDayMs;
  std::string text =
      fmt::format("{}T{:02}:{:02}:{:02}", to_text(Date::days_from_epoch(static_cast<int>(day))),
                  in_day / 3'600'000, in_day / kMinuteMs % 60, in_day / 1000 % 60);
  if (in_day % 1000 != 0) text += fmt::format(".{:03}", in_day % 1000);
  return text + "Z";
}

Result<Date> Date::of(int year, int month, int day) {
  const std::chrono::year_month_day ymd{std::chrono::year(year),
                                        std::chrono::month(static_cast<unsigned>(month)),
                                        std::chrono::day(static_cast<unsigned>(day))};
  // The bounds first: the parts of ymd keep the low bits of a number only.
  if (year < 1 || year > 9999 || month < 1 || month > 12 || day < 1 || day > 31 || !ymd.ok()) {
    return not_a("a day of the calendar", "a date such as 2026-11-25",
                 fmt::format("{}-{}-{}", year, month, day));
  }
  return days_from_epoch(
      static_cast<std::int32_t>(std::chrono::sys_days(ymd).time_since_epoch().count()));
}

int Date::year() const {
  return static_cast<int>(civil(*this).year());
}
int Date::month() const {
  return static_cast<int>(static_cast<unsigned>(civil(*this).month()));
}
int Date::day() const {
  return static_cast<int>(static_cast<unsigned>(civil(*this).day()));
}

Result<Date> parse_date(std::string_view text) {
  const int year = digits(text, 0, 4), month = digits(text, 5, 2), day = digits(text, 8, 2);
  if (text.size() == 10 && text[4] == '-' && text[7] == '-' && year > 0 && month > 0 && day > 0) {
    const auto date = Date::of(year, month, day);
    if (date) return date;
  }
  return not_a("a day of the calendar", "a date such as 2026-11-25", text);
}

std::string to_text(Date d) {
  const auto ymd = civil(d);
  return fmt::format("{:04}-{:02}-{:02}", static_cast<int>(ymd.year()),
                     static_cast<unsigned>(ymd.month()), static_cast<unsigned>(ymd.day()));
}

Result<TimeOfDay> parse_time_of_day(std::string_view text) {
  const int hour = digits(text, 0, 2), minute = digits(text, 3, 2);
  if (text.size() != 5 || text[2] != ':' || hour < 0 || hour > 23 || minute < 0 || minute > 59) {
    return not_a("a time of day", "hours and minutes such as 07:30", text);
  }
  return TimeOfDay{hour * 60 + minute};
}

std::string to_text(TimeOfDay t) {
  return fmt::format("{:02}:{:02}", t.minutes / 60, t.minutes % 60);
}

struct Zone::Rules {
  const date::time_zone* zone = nullptr;  // null: UTC
};

Zone::Zone() : name_("UTC"), rules_(std::make_shared<Rules>()) {}

Result<Zone> Zone::named(std::string_view iana_name) {
  Zone zone;
  if (iana_name == "UTC") return zone;
  // The library opens a file of this name below the system's zone folder, so keep to names.
  const bool plain = !iana_name.empty() && iana_name.size() < 64 && iana_name[0] != '/' &&
                     iana_name.find("..") == std::string_view::npos &&
                     iana_name.find_first_not_of(
                         "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789/_+-") ==
                         std::string_view::npos;
  try {
    if (plain) {
      zone.name_ = std::string(iana_name);
      zone.rules_ = std::make_shared<Rules>(Rules{date::locate_zone(zone.name_)});
      return zone;
    }
  } catch (const std::exception&) {
    // falls through to the same words as for a badly formed name
  }
  return Problem{ProblemCode::unknown_name,
                 "unknown time zone",
                 {},
                 "an IANA zone such as Europe/Oslo",
                 shown(iana_name)};
}

std::int64_t Zone::offset_ms(Instant t) const {
  if (rules_->zone == nullptr) return 0;
  const auto info = rules_->zone->get_info(
      date::sys_time<std::chrono::milliseconds>(std::chrono::milliseconds(t.unix_ms())));
  return std::chrono::milliseconds(info.offset).count();
}

Date Zone::date_of(Instant t) const {
  return Date::days_from_epoch(
      static_cast<std::int32_t>(floor_div(t.unix_ms() + offset_ms(t), kDayMs)));
}

TimeOfDay Zone::time_of(Instant t) const {
  const std::int64_t ms = t.unix_ms() + offset_ms(t);
  return {
      static_cast<int>(floor_div(ms, kMinuteMs) - floor_div(ms, kDayMs) * (kDayMs / kMinuteMs))};
}

Duration Zone::offset_at(Instant t) const {
  return Duration::seconds(static_cast<double>(offset_ms(t)) / 1000);
}

Instant Zone::at(Date day, TimeOfDay time) const {
  const std::int64_t wall_ms =
      day.days_from_epoch() * kDayMs + static_cast<std::int64_t>(time.minutes) * kMinuteMs;
  if (rules_->zone == nullptr) return Instant::unix_ms(wall_ms);
  const date::local_time<std::chrono::milliseconds> wall{std::chrono::milliseconds(wall_ms)};
  // choose::earliest gives the moment of the jump for a skipped time, the first of two otherwise.
  return Instant::unix_ms(
      rules_->zone->to_sys(wall, date::choose::earliest).time_since_epoch().count());
}

std::string Zone::wall_text(Instant t) const {
  return fmt::format("{} {}", to_text(date_of(t)), to_text(time_of(t)));
}

std::string Zone::instant_text(Instant t) const {
  const std::int64_t minutes = offset_ms(t) / kMinuteMs;
  const std::int64_t second = floor_div(t.unix_ms() + minutes * kMinuteMs + 500, 1000);
  std::string text = to_text(Instant::unix_ms(second * 1000));
  text.pop_back();  // the Z
  const std::int64_t size = minutes < 0 ? -minutes : minutes;
  return text + fmt::format("{}{:02}:{:02}", minutes < 0 ? '-' : '+', size / 60, size % 60);
}

}  // namespace warmside
