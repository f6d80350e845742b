"""The short forms of `warmside jot`: what each writes, seen in the notebook that is exported."""

import datetime
import re
import zoneinfo

from harness import expect, expect_equal, expect_words

ROOM = """[room]
name = "Test room"
zone = "Europe/Oslo"

[[keeper]]
id = "kim"

[[enclosure]]
id = "tub"
name = "Big tub"

[[enclosure]]
id = "shelf"

[[thermostat]]
id = "stat"
kind = "on/off"
enclosure = "tub"

[[lamp]]
id = "sun"
kind = "T5 tube"
enclosure = "tub"
uvb = true

[[tool]]
id = "hook"
kind = "hook"

[[jar]]
id = "d3"
contents = "calcium with D3"

[[safety_device]]
id = "alarm"
kind = "smoke alarm"

[[animal]]
id = "corn"
name = "Juniper"
species = "corn_snake"
enclosure = "tub"

[[animal]]
id = "rowan"
species = "corn_snake"
enclosure = "tub"

[[task]]
id = "filter"
title = "Rinse the filter"
every = "7d"
"""

AT = "2026-03-01T08:00:00Z"

# Words after `jot`, and the entries that they must write, without id and at.
FORMS = (
    ("weigh corn 812g", [{"kind": "weighed", "animal": "corn", "mass": "812g"}]),
    ("weigh corn 812g rowan 640.5g", [{"kind": "weighed", "animal": "corn", "mass": "812g"},
                                      {"kind": "weighed", "animal": "rowan", "mass": "640.5g"}]),
    ("weigh JUNIPER 1.2kg", [{"kind": "weighed", "animal": "corn", "mass": "1200g"}]),
    ("fed corn rowan --food|adult mouse|--count 2 --jar d3",
     [{"kind": "fed", "animal": name, "count": 2, "item": "adult mouse", "target": "jar d3"}
      for name in ("corn", "rowan")]),
    ("fed corn --mass 31g", [{"kind": "fed", "animal": "corn", "mass": "31g"}]),
    ("refused corn --food mouse --note|in shed soon?",
     [{"kind": "refused", "animal": "corn", "item": "mouse", "note": "in shed soon?"}]),
    ("leftovers corn --food cricket --count 4",
     [{"kind": "leftovers", "animal": "corn", "item": "cricket", "count": 4}]),
    ("leftovers corn --food mouse --given-to rowan",
     [{"kind": "leftovers", "animal": "corn", "item": "mouse", "target": "animal rowan"}]),
    ("regurgitated corn", [{"kind": "regurgitated", "animal": "corn"}]),
    ("in-shed corn", [{"kind": "in_shed", "animal": "corn"}]),
    ("shed corn", [{"kind": "shed", "animal": "corn", "item": "complete"}]),
    ("shed corn --stuck", [{"kind": "shed", "animal": "corn", "item": "stuck"}]),
    ("droppings corn --look loose", [{"kind": "droppings", "animal": "corn", "item": "loose"}]),
    ("watered tub shelf", [{"kind": "watered", "enclosure": "tub"}, {"kind": "watered", "enclosure": "shelf"}]),
    ("cleaned|Big tub", [{"kind": "spot_cleaned", "enclosure": "tub"}]),
    ("cleaned tub --full", [{"kind": "full_cleaned", "enclosure": "tub"}]),
    ("misted tub", [{"kind": "misted", "enclosure": "tub"}]),
    ("reading tub warm side 31.2C 48%",
     [{"kind": "reading", "enclosure": "tub", "temperature": "31.2C", "humidity": "48%", "item": "warm side"}]),
    ("reading tub 48%", [{"kind": "reading", "enclosure": "tub", "humidity": "48%"}]),
    ("uv sun 2.4UVI", [{"kind": "uv_reading", "lamp": "sun", "uvi": "2.4UVI"}]),
    ("measured corn 14.2cm --what shell",
     [{"kind": "measured", "animal": "corn", "length": "14.2cm", "item": "shell"}]),
    ("eggs corn --count 12", [{"kind": "laid_eggs", "animal": "corn", "count": 12}]),
    ("moved corn rowan --to shelf", [{"kind": "moved", "animal": name, "target": "enclosure shelf"}
                                     for name in ("corn", "rowan")]),
    ("note corn looks lively", [{"kind": "note", "animal": "corn", "note": "looks lively"}]),
    ("note room warm --note day", [{"kind": "note", "room": "room", "note": "warm; day"}]),
    ("checked corn --what mites", [{"kind": "checked", "animal": "corn", "item": "mites"}]),
    ("checked corn --what|faecal sample|--result negative",
     [{"kind": "checked", "animal": "corn", "item": "faecal sample: negative"}]),
    ("tested stat alarm --result good",
     [{"kind": "tested", "thermostat": "stat", "item": "good"},
      {"kind": "tested", "safety_device": "alarm", "item": "good"}]),
    ("opened d3", [{"kind": "opened", "jar": "d3"}]),
    ("replaced sun", [{"kind": "replaced", "lamp": "sun"}]),
    ("done filter", [{"kind": "done", "task": "filter"}]),
    ("used hook --with corn", [{"kind": "used", "tool": "hook", "target": "animal corn"}]),
    ("used hook --with tub", [{"kind": "used", "tool": "hook", "target": "enclosure tub"}]),
    ("disinfected hook --with|bleach 1:32|--minutes 10",
     [{"kind": "disinfected", "tool": "hook", "count": 10, "item": "bleach 1:32"}]),
    ("quarantine corn", [{"kind": "quarantine_started", "animal": "corn"}]),
    ("quarantine corn --ended", [{"kind": "quarantine_ended", "animal": "corn"}]),
    ("brumation corn", [{"kind": "brumation_started", "animal": "corn"}]),
    ("brumation corn --ended", [{"kind": "brumation_ended", "animal": "corn"}]),
    ("ill corn --look wheezing", [{"kind": "ill", "animal": "corn", "item": "wheezing"}]),
    ("recovered corn", [{"kind": "recovered", "animal": "corn"}]),
    ("fed corn --by kim", [{"kind": "fed", "animal": "corn", "by": "kim"}]),
)


def words_of(text):
    """"a b|c d|e" -> a, b, "c d", e: what stands between bars is one word."""
    words = []
    for number, part in enumerate(text.split("|")):
        words += part.split() if number % 2 == 0 else [part]
    return words


def make_book(bench):
    bench.write("room.toml", ROOM)
    bench.run("import", "--book", "room.db", "room.toml")


def by_id(bench):
    return {entry["id"]: entry for entry in bench.exported()}


def form_check(text, wanted):
    def check(bench):
        make_book(bench)
        ids = bench.json("jot", "jot", "--book", "room.db", "--at", AT, *words_of(text))["ids"]
        entries = by_id(bench)
        expect_equal(len(entries), len(wanted), "entries")
        for entry_id, fields in zip(ids, wanted):
            expect_equal(entries[entry_id], {"id": entry_id, "at": AT, **fields}, "entry")
        bench.run("verify", "--book", "room.db")
    return check


def the_future_is_refused(bench):
    make_book(bench)
    done = bench.run("jot", "--book", "room.db", "--at", "2999-01-01T00:00:00Z", "weigh", "corn", "812g",
                     code=1)
    expect("not come yet" in done.err, done.err)
    expect_equal(by_id(bench), {}, "entries")


def every_form_is_tried(bench):
    listed = set(re.findall(r"^  ([a-z-]+) ", bench.run("jot", "--help").out.split("Subcommands:")[1],
                            re.MULTILINE))
    tried = {words_of(text)[0] for text, _ in FORMS} | {"strike"}
    expect(listed - {"warmside"} == tried, f"not tried: {listed - tried}; not listed: {tried - listed}")


def says_what_it_wrote(bench):
    make_book(bench)
    out = bench.run("jot", "--book", "room.db", "weigh", "corn", "812g", "rowan", "640g").out
    expect(re.fullmatch(r"[0-9a-f-]{36}  corn: weighed 812 g\n[0-9a-f-]{36}  rowan: weighed 640 g\n", out), out)


def says_how_long_to_keep_it_wet(bench):
    make_book(bench)

    def out(*words):
        return bench.run("jot", "--book", "room.db", "disinfected", "hook", *words).out

    oslo = zoneinfo.ZoneInfo("Europe/Oslo")
    ten = datetime.timedelta(minutes=10)
    before = datetime.datetime.now(oslo) + ten
    said = out("--with", "bleach 0.1%", "--minutes", "10")
    after = datetime.datetime.now(oslo) + ten
    expect(any(f"Wet until {t:%H:%M}, then rinse and dry." in said or
               f"Wet until {t:%Y-%m-%d %H:%M}, then rinse and dry." in said for t in (before, after)), said)
    expect_words(said, ["covers bacteria, enveloped viruses, other viruses."], "what it covers")
    past = out("--with", "bleach 0.1%", "--minutes", "10", "--at", "2026-01-15 07:30")
    expect("Wet until" not in past, past)
    for words, why in ((("--with", "bleach 0.1%"), "no contact time"), (("--minutes", "10"), "nobody wrote with what"),
                       (("--with", "bleach 1:32", "--minutes", "10"), "no strength")):
        expect_words(out(*words), [f"counts for nothing: {why}", "--minutes 10"], f"{words}")
        expect("Never mix" not in out(*words), f"{words}")
    expect_words(out("--with", "bleach 0.1% with vinegar", "--minutes", "10"), ["Never mix these", "gas can kill"], "acid")


def strike(bench):
    make_book(bench)
    wrong = bench.json("jot", "jot", "--book", "room.db", "weigh", "corn", "81.2g")["ids"][0]
    struck = bench.json("jot", "jot", "--book", "room.db", "strike", wrong, "--note", "point")["ids"][0]
    entries = by_id(bench)
    expect_equal({k: v for k, v in entries[struck].items() if k not in ("id", "at")},
                 {"kind": "struck", "animal": "corn", "strikes": wrong, "note": "point"}, "entry")
    expect(wrong in entries, "the struck entry is gone")
    page = bench.json("animal", "animal", "--book", "room.db", "corn")
    expect_equal([(e["id"], e["struck"]) for e in page["entries"] if e["id"] == wrong], [(wrong, True)],
                 "the struck entry on the page")
    expect_equal(page["weighings"], [], "weighings that hold")
    expect_words(bench.run("animal", "--book", "room.db", "corn").out, ["struck out: does not hold"], "page")
    # A striking entry is not struck, nor one that is not there.
    bench.run("jot", "--book", "room.db", "strike", struck, code=1)
    bench.run("jot", "--book", "room.db", "strike", "01960000-0000-7000-8000-000000000001", code=1)
    bench.run("jot", "--book", "room.db", "strike", "that one", code=1)
    expect_equal(by_id(bench), entries, "entries")


def same_id_twice(bench):
    make_book(bench)
    given = "01960000-0000-7000-8000-000000000001"
    command = ("jot", "--book", "room.db", "--id", given, "--at", AT, "weigh", "corn")
    for _ in range(2):
        expect_equal(bench.json("jot", *command, "812g")["ids"], [given], "ids")
    expect_equal(len(bench.exported()), 1, "entries")
    answer = bench.run(*command, "813g", code=1)  # the same id for something else
    expect(given in answer.err or "id" in answer.err, "no reason", answer)
    bench.run("jot", "--book", "room.db", "--id", given, "weigh", "corn", "1g", "rowan", "1g", code=1)
    bench.run("jot", "--book", "room.db", "--id", "1", "weigh", "corn", "1g", code=1)
    expect_equal([e["mass"] for e in bench.exported()], ["812g"], "entries")


def bad_words_write_nothing(bench):
    """Exit 1, what was expected, and not one of the entries that the same line would have made."""
    make_book(bench)
    for text, said in (
            ("weigh nobody 812g", ["nobody", "one of corn, rowan"]), ("weigh corn 812g nobody 1g", ["nobody"]),
            ("weigh corn 812", ["without a unit", "350g"]), ("weigh corn 81cm", ["81cm"]),
            ("weigh corn -5g", ["negative"]), ("weigh corn 0g", ["0g"]), ("weigh corn", ["mass"]),
            ("weigh corn 812g rowan", ["rowan"]), ("fed corn nobody", ["nobody"]), ("fed corn --by me", ["--by", "me"]),
            ("fed corn --jar d4", ["d4"]), ("fed corn --mass much", ["much"]),
            ("reading tub warm side", ["31.2C"]), ("reading tub 30C 31C", ["two values"]),
            ("reading tub 30C 48% 31C", ["two values"]), ("reading corn 30C", ["corn"]),
            ("reading tub 31.2", ["31.2C"]), ("uv sun 2.4", ["2.4"]), ("uv hook 2.4UVI", ["hook"]),
            ("watered corn", ["corn"]), ("moved corn --to corn", ["corn"]), ("note corn", ["words"]),
            ("note nobody hello", ["nobody"]), ("opened sun", ["sun", "jar"]), ("done corn", ["task"]),
            ("used hook --with moon", ["moon"]), ("tested corn", ["corn"]), ("fed corn --at 7:30", ["07:30"]),
            ("fed corn --at 25:00", ["--at"]), ("fed corn --at|2026-02-30 07:30", ["--at"]),
            ("fed corn --at 2026-03-01T08:00:00", ["offset"]), ("fed corn --at yesterday", ["--at"])):
        answer = bench.run("jot", "--book", "room.db", *words_of(text), code=1)
        expect_words(answer.err, said, text)
        expect_equal(answer.out, "", f"{text}: standard output")
    expect_equal(bench.exported(), [], "entries")


def times(bench):
    """--at: RFC 3339, or the room's wall clock; Oslo is 1 hour before UTC in winter, 2 in summer."""
    make_book(bench)
    for at, wanted in (("2026-03-01T08:00:00Z", "2026-03-01T08:00:00Z"),
                       ("2026-03-01T08:00:00.250+05:30", "2026-03-01T02:30:00.250Z"),
                       ("2026-01-15 07:30", "2026-01-15T06:30:00Z"),
                       ("2026-07-15T07:30", "2026-07-15T05:30:00Z"),
                       ("2026-10-25 02:30", "2026-10-25T00:30:00Z"),   # comes twice: the first
                       ("2026-03-29 02:30", "2026-03-29T01:00:00Z")):  # skipped: the moment of the jump
        entry = bench.json("jot", "jot", "--book", "room.db", "--at", at, "fed", "corn")["ids"][0]
        expect_equal(by_id(bench)[entry]["at"], wanted, at)


def times_of_today(bench):
    make_book(bench)
    oslo = zoneinfo.ZoneInfo("Europe/Oslo")
    before = datetime.datetime.now(oslo)
    clock = bench.json("jot", "jot", "--book", "room.db", "fed", "corn", "--at", "07:30")["ids"][0]
    now = bench.json("jot", "jot", "--book", "room.db", "fed", "corn")["ids"][0]
    after = datetime.datetime.now(oslo)
    entries = by_id(bench)
    # The latest 07:30 that has come: today's, or before half past seven yesterday's.
    mornings = set()
    for moment in (before, after):
        morning = datetime.datetime.combine(moment.date(), datetime.time(7, 30), oslo)
        mornings.add(morning if morning <= moment else morning - datetime.timedelta(days=1))
    expect(datetime.datetime.fromisoformat(entries[clock]["at"]) in mornings, entries[clock]["at"])
    second = datetime.timedelta(seconds=1)
    expect(before - second <= datetime.datetime.fromisoformat(entries[now]["at"]) <= after + second,
           entries[now]["at"])


def us_units(bench):
    """What is typed in pounds, ounces, degrees Fahrenheit is kept as the same mass and temperature.
    1 lb = 453.59237 g, 16 oz to the pound (exact); 0 degC = 32 degF."""
    make_book(bench)
    pound = 453.59237
    for typed, grams in (("1.2lb", 1.2 * pound), ("12.5oz", 12.5 * pound / 16), ("0.35kg", 350)):
        bench.run("jot", "--book", "room.db", "weigh", "corn", typed)
        mass = bench.json("animal", "animal", "--book", "room.db", "corn")["weighings"][-1]["mass_g"]
        expect(abs(mass - grams) < 1e-9 * grams, f"{typed}: {mass} g")
    bench.run("jot", "--book", "room.db", "reading", "tub", "warm", "side", "82F")
    page = bench.json("enclosure", "enclosure", "--book", "room.db", "tub")
    celsius = page["entries"][0]["temperature_c"]
    expect(abs(celsius - 50 / 1.8) < 1e-9, f"82F: {celsius} degC")


def room_that_reads_us_units(bench):
    bench.write("room.toml", ROOM.replace('zone =', 'units = "us"\nzone ='))
    bench.run("import", "--book", "room.db", "room.toml")
    out = bench.run("jot", "--book", "room.db", "weigh", "corn", "1.5lb").out
    expect(re.search(r"corn: weighed (1\.5 lb|24 oz)", out), out)
    expect(re.fullmatch(r"1\.5lb|24oz", bench.exported()[0]["mass"]), bench.exported()[0]["mass"])
    out = bench.run("jot", "--book", "room.db", "reading", "tub", "28C").out
    expect_words(out, ["82.4 °F"], "answer")


def seen_in_the_round(bench):
    """What was jotted counts at once: a fed animal is not fed again, an ill one comes last."""
    make_book(bench)
    day = ("--book", "room.db", "--date", "2026-03-01")
    fed = [t["animal"] for s in bench.json("today", "today", *day)["round"] for t in s["tasks"]
           if t["task"] == "feeding"]
    expect_equal(fed, ["corn", "rowan"], "to be fed")
    bench.run("jot", "--book", "room.db", "--at", AT, "fed", "corn")
    bench.run("jot", "--book", "room.db", "--at", AT, "ill", "rowan")
    today = bench.json("today", "today", *day)
    expect_equal([t["animal"] for s in today["round"] for t in s["tasks"] if t["task"] == "feeding"],
                 ["rowan"], "to be fed")
    expect_equal(today["round"][-1]["class"], "sick", "class of the last stop")
    page = bench.json("animal", "animal", *day, "rowan")
    expect_equal(page["states"], ["ill since 2026-03-01"], "states")


def checks():
    for text, wanted in FORMS:
        yield f"jot: {text.replace('|', ' ')}", form_check(text, wanted)
    for check in (every_form_is_tried, the_future_is_refused, says_what_it_wrote,
                  says_how_long_to_keep_it_wet, strike, same_id_twice, bad_words_write_nothing,
                  times, times_of_today, us_units, room_that_reads_us_units, seen_in_the_round):
        yield f"jot: {check.__name__.replace('_', ' ')}", check
