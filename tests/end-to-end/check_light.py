"""`warmside light plan`: of the demo room, through a change of clocks, and where there is no plan.

Zone rule: IANA time zone database, Europe: last Sundays of March and October.
"""

import datetime

from harness import DEMO_DATE, expect, expect_equal, expect_words

ROOM = """
[room]
name = "Test room"
latitude = 60.39
longitude = 5.32
zone = "Europe/Oslo"

[[enclosure]]
id = "table"
name = "Basking table"

[[enclosure]]
id = "dark"

[[animal]]
id = "rex"
species = "bearded_dragon"
enclosure = "table"

[[animal]]
id = "kaa"
species = "corn_snake"
enclosure = "dark"

[[timer]]
id = "timer"
on = "08:00"
off = "17:00"

[[lamp]]
id = "led"
kind = "LED"
enclosure = "table"
timer = "timer"
"""


def made(bench, text=ROOM):
    bench.run("import", "--book", "room.db", bench.write("room.toml", text))


def plan(bench, *arguments, code=0):
    return bench.json("light_plan", "light", "plan", "--book", "room.db", *arguments, code=code)


def minutes(text):
    return int(text[:2]) * 60 + int(text[3:])


def comes_near_week_by_week(bench):
    """From 9 h towards the 13.9 h of midsummer: 40 min a week, 20 at each edge."""
    made(bench)
    answer = plan(bench, "table", "--date", "2026-06-01", "--weeks", "12")["enclosures"][0]
    expect_equal(answer["timers"], ["timer"], "timers")
    expect_equal(answer["now"], {"on": "08:00", "off": "17:00"}, "now")
    before = answer["now"]
    for week in answer["weeks"]:
        for edge in ("on", "off"):
            expect(abs(minutes(week[edge]) - minutes(before[edge])) <= 20, f"{before} to {week}")
        expect_equal((minutes(week["off"]) - minutes(week["on"])) / 60, week["length_h"], "length")
        before = week
    expect_equal([w["on"] for w in answer["weeks"]][:3], ["07:40", "07:20", "07:00"], "first weeks")
    first, last = answer["weeks"][0], answer["weeks"][-1]
    expect(first["on_the_way"] and not last["on_the_way"], f"{first} {last}")
    expect(abs(last["length_h"] - last["wanted_h"]) <= 2.5 / 60 + 1e-9, last)


def the_change_of_clocks(bench):
    made(bench)
    weeks = plan(bench, "table", "--date", "2026-10-01")["enclosures"][0]["weeks"]
    expect_equal(len(weeks), 52, "weeks")
    changed = [w for w in weeks if w["clock_change"]]
    expect_equal([w["clock_change"]["date"] for w in changed], ["2026-10-25", "2027-03-28"], "changes")
    for week, hour in zip(changed, (-60, 60)):
        for edge in ("on", "off"):
            expect_equal(minutes(week["clock_change"][edge]) - minutes(week[edge]), hour, f"{edge} of {week}")
    mondays = [datetime.date.fromisoformat(w["monday"]) for w in weeks]
    expect(all(m.weekday() == 0 for m in mondays), "not a Monday")
    expect(mondays[0] <= datetime.date(2026, 10, 1) < mondays[1], "the first week")


def of_the_demo_room(bench):
    bench.run("demo", "d")
    words = ("light", "plan", "--book", "d/room.db", "--date", DEMO_DATE, "--weeks", "4")
    answer = bench.json("light_plan", *words)
    found = {e["enclosure"]: e for e in answer["enclosures"]}
    expect_equal(sorted(found), ["rack-b-1", "rack-b-2", "rack-b-3", "skink-table", "tortoise-table"], "enclosures")
    expect("no animal" in found["tortoise-table"]["unknown"], found["tortoise-table"])
    expect(all(len(e["weeks"]) == 4 for e in answer["enclosures"] if e["unknown"] is None), "weeks")
    page = " ".join(bench.run(*words).out.split())
    expect_words(page, ["Skink table", "degrees from the equator", "from memory", "licensed electrician",
                        "No plan: no animal lives there"], "page")


def no_plan_is_no(bench):
    made(bench)
    answer = plan(bench, "dark", code=1)["enclosures"][0]
    expect("no lamp" in answer["unknown"] and answer["weeks"] == [], answer)
    expect_words(bench.run("light", "plan", "--book", "room.db", "dark", code=1).out, ["No plan: no lamp"], "page")
    expect_words(bench.run("light", "plan", "--book", "room.db", "nowhere", code=1).err, ["no enclosure of this name"], "unknown enclosure")
    for weeks in ("0", "521", "many"):
        bench.run("light", "plan", "--book", "room.db", "--weeks", weeks, code=2)
    bench.run("light", code=2)


def without_a_latitude(bench):
    made(bench, ROOM.replace("latitude = 60.39\n", ""))
    answer = plan(bench)["enclosures"][0]
    expect("latitude" in answer["unknown"], answer)


def checks():
    for check in (comes_near_week_by_week, the_change_of_clocks, of_the_demo_room, no_plan_is_no, without_a_latitude):
        yield f"light plan: {check.__name__.replace('_', ' ')}", check
