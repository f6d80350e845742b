"""`warmside calc sun`: events, the long days, and what is no place, day or zone.

Times: PyEphem 4.1 (Phoenix, London), the United States Naval Observatory's minutes (Colorado).
tests/reference/ holds the sun against more.
"""

import datetime

from harness import expect, expect_equal, expect_words


def sun(bench, latitude, longitude, date, zone):
    return bench.json("calc_sun", "calc", "sun", "--lat", latitude, "--lon", longitude, "--date",
                      date, "--zone", zone)


def near(text, wanted, most_s):
    found = datetime.datetime.fromisoformat(text)
    expect(abs((found - datetime.datetime.fromisoformat(wanted)).total_seconds()) <= most_s,
           f"{text}, wanted {wanted}")


def events(bench):
    for place, date, zone, rise, noon, fall in (
            ((33.45, -112.07), "2024-06-20", "America/Phoenix", "2024-06-20T05:18:53-07:00",
             "2024-06-20T12:30:03-07:00", "2024-06-20T19:41:12-07:00"),
            ((51.5, 0), "2024-12-21", "Europe/London", "2024-12-21T08:03:24+00:00",
             "2024-12-21T11:58:17+00:00", "2024-12-21T15:53:10+00:00")):
        answer = sun(bench, *place, date, zone)
        near(answer["sunrise"], rise, 30)
        near(answer["solar_noon"], noon, 2)
        near(answer["sunset"], fall, 30)
        expect_equal(answer["sunrise"][-6:], rise[-6:], "offset of the zone")
        expect(answer["polar"] is None, answer)
    colorado = sun(bench, 39, -105, "2015-08-02", "America/Denver")
    near(colorado["sunrise"], "2015-08-02T06:01:00-06:00", 31)
    near(colorado["sunset"], "2015-08-02T20:10:00-06:00", 31)


def length_is_from_sunrise_to_sunset(bench):
    answer = sun(bench, -35, 149, "2026-01-10", "Australia/Sydney")
    apart = (datetime.datetime.fromisoformat(answer["sunset"])
             - datetime.datetime.fromisoformat(answer["sunrise"])).total_seconds()
    expect(abs(apart / 3600 - answer["day_length_h"]) * 3600 <= 1.01, answer)


def the_day_of_a_far_zone(bench):
    """Singapore's sun by UTC rises on the evening before."""
    answer = sun(bench, 1.35, 103.82, "2024-12-21", "UTC")
    near(answer["sunrise"], "2024-12-20T23:01:26+00:00", 30)
    near(answer["sunset"], "2024-12-21T11:04:17+00:00", 30)


def polar_day_and_night(bench):
    for latitude, date, polar, length in ((69.65, "2024-06-21", "day", 24), (69.65, "2024-12-21", "night", 0),
                                          (90, "2026-06-01", "day", 24), (-90, "2026-06-01", "night", 0)):
        answer = sun(bench, latitude, 18.96, date, "Europe/Oslo")
        expect_equal((answer["polar"], answer["sunrise"], answer["sunset"]), (polar, None, None), f"{latitude} {date}")
        expect_equal(answer["day_length_h"], length, f"{latitude} {date}")
        expect(answer["solar_noon"].startswith(date), answer)


def the_change_of_clocks(bench):
    """In Oslo on 2026-03-29 the clock goes from +01:00 to +02:00 before sunrise."""
    before = sun(bench, 60.39, 5.32, "2026-03-28", "Europe/Oslo")
    after = sun(bench, 60.39, 5.32, "2026-03-29", "Europe/Oslo")
    expect_equal((before["sunrise"][-6:], after["sunrise"][-6:]), ("+01:00", "+02:00"), "offsets")
    day = datetime.timedelta(days=1)
    apart = (datetime.datetime.fromisoformat(after["solar_noon"])
             - datetime.datetime.fromisoformat(before["solar_noon"]) - day).total_seconds()
    # The equation of time runs by less than 31 s a day (Meeus 1998, ch. 28).
    expect(abs(apart) < 31, f"noon moved by {apart} s")


def impossible(bench):
    for latitude, longitude, date, zone, words in (
            ("90.1", "0", "2026-01-01", "UTC", ["latitude", "-90 to 90"]),
            ("nan", "0", "2026-01-01", "UTC", ["latitude", "expected"]),
            ("60", "-181", "2026-01-01", "UTC", ["longitude", "-180 to 180"]),
            ("60", "5", "2026-02-29", "UTC", ["--date", "expected"]),
            ("60", "5", "1899-12-31", "UTC", ["date", "1900 to 2100"]),
            ("60", "5", "2101-01-01", "UTC", ["date", "1900 to 2100"]),
            ("60", "5", "2026-01-01", "Europe/Atlantis", ["--zone", "unknown time zone"]),
            ("-13.8", "-171.7", "2011-12-30", "Pacific/Apia", ["missing from the calendar"])):
        answer = bench.run("calc", "sun", "--lat", latitude, "--lon", longitude, "--date", date, "--zone", zone,
                           "--json", code=1)
        expect_words(answer.err, words, f"{latitude} {longitude} {date} {zone}")
        expect(answer.out == "", "something was printed", answer)
    bench.run("calc", "sun", "--lat", "north", "--lon", "5", "--date", "2026-01-01", "--zone", "UTC", code=2)
    bench.run("calc", "sun", "--lat", "60", "--date", "2026-01-01", "--zone", "UTC", code=2)


def pages(bench):
    place = ("calc", "sun", "--lat", "69.65", "--lon", "18.96", "--zone", "Europe/Oslo", "--date")
    expect_words(bench.run(*place, "2024-03-20").out, ["sunrise", "2024-03-20T", "+01:00", "day length", "12 h"], "page")
    expect_words(bench.run(*place, "2024-06-21").out, ["24 h: the sun is up all day"], "page of a polar day")
    expect_words(bench.run(*place, "2024-12-21").out, ["0 h: the sun stays down all day"], "page of a polar night")


def checks():
    for check in (events, length_is_from_sunrise_to_sunset, the_day_of_a_far_zone, polar_day_and_night,
                  the_change_of_clocks, impossible, pages):
        yield f"sun: {check.__name__.replace('_', ' ')}", check
