"""climate: cases solved, run, drawn and handed to other programs; bad cases refused with their line."""

import re

from harness import ROOT, expect, expect_equal, expect_words


def documented_case():
    """The example of docs/case-file.md, so that the page cannot go stale."""
    page = (ROOT / "docs" / "case-file.md").read_text(encoding="utf-8")
    return re.search(r"```toml\n(.*?)```", page, re.DOTALL).group(1)


ROOM = """
[room]
temperature = "5C"
walls_w_per_k = 60
volume = "40000L"
heater = "2000W"
heater_day = "22C"
heater_night = "18C"
"""


def in_a_room(case):
    return re.sub(r"\[room\]\n.*?\n\n", ROOM + "\n", case, count=1, flags=re.DOTALL)


def solved(bench):
    path = bench.write("corn.toml", documented_case())
    answer = bench.json("climate_solve", "climate", "solve", path)
    expect_equal(answer["name"], "Corn snake", "name")
    # A thermostat by its mean duty holds its probe within half its band of 1 K.
    expect(abs(answer["probes"]["warm floor"] - 28) <= 0.5, f"warm floor {answer['probes']}")
    expect(22 < answer["probes"]["cool side"] < 28, f"cool side {answer['probes']}")
    expect(0 < answer["power_w"] <= 40, f"power {answer['power_w']}")
    expect(answer["surfaces"]["floor"]["highest_c"] >= answer["probes"]["warm floor"] - 0.1,
           "the floor is nowhere as warm as its probe")
    coarse = bench.json("climate_solve", "climate", "solve", path, "--coarse")
    for probe in answer["probes"]:
        expect(abs(coarse["probes"][probe] - answer["probes"][probe]) < 1.5, f"coarse {probe}")
    expect(coarse["unknowns"] < 60 < 2000 < answer["unknowns"], "unknowns")
    stuck = bench.json("climate_solve", "climate", "solve", path, "--stuck-on")
    expect(stuck["probes"]["warm floor"] > answer["probes"]["warm floor"] + 1, "a stuck contact is hotter")
    page = bench.run("climate", "solve", path, "--units", "us")
    expect_words(page.out, ["°F", "warm floor", "Computed, not measured", "licensed electrician"], "page")
    cold_room = bench.write("cold.toml", documented_case().replace("22C", "18C"))
    cooler = bench.json("climate_solve", "climate", "solve", cold_room)
    # Common practice, no source: an unheated end follows the room nearly degree for degree.
    drop = answer["probes"]["cool side"] - cooler["probes"]["cool side"]
    expect(2 < drop <= 4.1, f"4 K less in the room lower the cool side by {drop}")


def ran(bench):
    path = bench.write("corn.toml", documented_case())
    answer = bench.json("climate_run", "climate", "run", path, "--hours", "24")
    expect_equal(len(answer["time_s"]), 1441, "records")
    expect_equal(len(answer["probes"]["warm floor"]), 1441, "readings")
    settled = answer["probes"]["warm floor"][720:1200]  # by day; at night the room is cooler
    # It turns at both ends of its band, 27.5 and 28.5, goes on a little under bedding, and keeps 28.
    expect(26.5 < min(settled) < 27.5 and 28.5 < max(settled) < 29,
           f"{min(settled)} to {max(settled)}")
    mean = sum(settled) / len(settled)
    expect(abs(mean - 28) < 0.5, f"mean {mean}")
    expect(answer["switches"]["mat"] > 4, f"switches {answer['switches']}")
    expect(abs(answer["energy_kwh"] - 0.024 * 40 * answer["duty"]["mat"]) < 1e-6, "energy and duty")
    long = bench.json("climate_run", "climate", "run", path, "--hours", "240", "--every", "1h")
    expect_equal(len(long["time_s"]), 241, "hourly records")
    expect_equal(long["switches"]["mat"], 0, "mean duty does not switch")
    for hours in ("0", "-3", "nan", "1e9"):
        answer = bench.run("climate", "run", path, "--hours", hours, code=1)
        expect_words(answer.err, ["--hours", "expected"], hours)
    again = bench.run("climate", "run", path, "--hours", "24", "--json")
    expect_equal(again.out, bench.run("climate", "run", path, "--hours", "24", "--json").out,
                 "the same case gives the same bytes")


def drawn(bench):
    path = bench.write("corn.toml", documented_case())
    bench.run("climate", "map", path, "--out", "a.png", "--prefer", "26C..30C")
    bench.run("climate", "map", path, "--out", "a.svg", "--mass", "800g", "--slender", "--units", "us")
    expect((bench.folder / "a.png").read_bytes().startswith(b"\x89PNG\r\n"), "not a PNG")
    svg = (bench.folder / "a.svg").read_text(encoding="utf-8")
    expect_words(svg, ["<svg", "Corn snake"], "SVG")
    for bad in (("--out", "a.jpg"), ("--out", "b.png", "--prefer", "30C"),
                ("--out", "b.png", "--mass", "0.1"), ("--out", "b.png", "--mass", "900kg")):
        answer = bench.run("climate", "map", path, *bad, code=1)
        expect_words(answer.err, ["expected"], str(bad))
    expect(not (bench.folder / "b.png").exists(), "something was written")


def shared(bench):
    case = in_a_room(documented_case())
    one = bench.write("one.toml", case)
    answer = bench.json("climate_room", "climate", "room", one, "--copies", "3", "--hours", "96")
    expect_equal([e["name"] for e in answer["enclosures"]],
                 ["Corn snake 1", "Corn snake 2", "Corn snake 3"], "names")
    mats = [e["heaters"][0]["energy_kwh"] for e in answer["enclosures"]]
    expect(max(mats) - min(mats) < 1e-9, f"alike, but {mats}")
    expect(17 < answer["room_air"]["lowest_c"] < 19 and 21 < answer["room_air"]["highest_c"] < 23,
           f"room {answer['room_air']}")
    alone = bench.json("climate_solve", "climate", "solve", one)
    expect(abs(alone["room_c"] - 22) < 0.6, f"the room alone {alone['room_c']}")
    bench.run("climate", "room", bench.write("none.toml", documented_case()), code=1)
    rows = ["utc_time,temp_c,relative_humidity_pct"]
    rows += [f"2026-01-{1 + h // 24:02}T{h % 24:02}:00:00Z,{-5 + h % 24 / 4},80" for h in range(96)]
    bench.write("winter.csv", "\n".join(rows) + "\n")
    with_weather = bench.write("two.toml", case.replace("[room]\n", '[room]\nweather = "winter.csv"\n'))
    colder = bench.json("climate_room", "climate", "room", with_weather, "--hours", "96")
    heater = {h["name"]: h["energy_kwh"] for h in colder["room_heaters"]}["room heater"]
    expect(heater > 1, f"the room's heater gave {heater} kWh in the frost")
    for wrong, field in (("2026-01-01T03:00:00Z,x,80", "temp_c"), ("2026-01-01T03:00:00Z,5,300", "humidity"),
                         ("2025-01-01T03:00:00Z,5,80", "utc_time"), ("later,5,80", "utc_time"),
                         ("2026-03-01T00:00:00Z,5,80", "utc_time")):
        bench.write("winter.csv", "\n".join(rows + [wrong]) + "\n")
        answer = bench.run("climate", "room", with_weather, "--hours", "24", code=1)
        expect_words(answer.err, ["winter.csv", "98", field], wrong)


def a_winter_month(bench):
    """Real weather (data/weather, January at New York): the room's heater works, and by its own heat."""
    csv = (ROOT / "data" / "weather" / "kjfk_2013_hourly.csv").read_text(encoding="utf-8")
    bench.write("kjfk.csv", csv)
    case = in_a_room(documented_case()).replace("[room]\n", '[room]\nweather = "kjfk.csv"\n')
    answer = bench.json("climate_room", "climate", "room", bench.write("corn.toml", case), "--hours", "744")
    rows = [line.split(",") for line in csv.splitlines() if line[:8] == "2013-01-"]
    outdoors = sum(float(row[1]) for row in rows) / len(rows)
    # Walls 60 W/K and half an air change of 40 m3 an hour, 6.7 W/K, from outdoors to the room's mean.
    lost_kwh = (60 + 40 * 1200 * 0.5 / 3600) * (answer["room_air"]["mean_c"] - outdoors) * 0.744
    heaters = sum(h["energy_kwh"] for h in answer["room_heaters"])
    mat = sum(h["energy_kwh"] for e in answer["enclosures"] for h in e["heaters"])
    expect(abs(heaters + mat - lost_kwh) < 0.03 * lost_kwh, f"{heaters} + {mat} kWh against {lost_kwh}")


def exported(bench):
    path = bench.write("corn.toml", documented_case())
    deck = bench.run("climate", "network", path, "--format", "spice").out
    expect_words(deck, [".tran", "warm floor", ".end"], "deck")
    bench.run("climate", "network", path, "--format", "modelica", code=2)


def from_the_book(bench):
    bench.run("demo", "demo")
    text = bench.run("climate", "case", "--book", "demo/room.db", "skink-table").out
    path = bench.write("skink.toml", text)
    answer = bench.json("climate_solve", "climate", "solve", path)
    page = bench.json("enclosure", "enclosure", "--book", "demo/room.db", "--date", "2026-11-25",
                      "skink-table")
    expect(page["climate"]["computed"], "not computed")
    expect(any("probe" in a for a in page["climate"]["assumed"]), "assumptions are not said")
    names = [h["name"] for h in page["climate"]["heaters"]]
    expect_equal(names, [h["name"] for h in answer["heaters"]], "heaters")
    for place in page["climate"]["places"]:
        expect(place["standing"] in ("inside", "edging", "outside"), place)
    cold_box = bench.json("enclosure", "enclosure", "--book", "demo/room.db", "--date", "2026-11-25",
                          "cold-box")
    expect(not cold_box["climate"]["computed"], "a box that nothing heats")
    answer = bench.run("climate", "case", "--book", "demo/room.db", "nowhere", code=1)
    expect_words(answer.err, ["nowhere"], "unknown enclosure")


BAD = (  # what is replaced, by what, words of the refusal, the line it names
    ('x = "75cm"', 'x = "95cm"', ["probe cool side", "outside the enclosure", "90cm"], 'x = "95cm"'),
    ('x = "2cm..42cm"', 'x = "2cm..95cm"', ["heater mat", "larger than its face"], 'x = "2cm..95cm"'),
    ("aspen shavings", "moon dust", ["substrate.kind", "not listed", "aspen shavings"], "moon dust"),
    ('thermostat = "t1"', "", ["thermostat t1", "without a heater"], "thermostat"),
    ('depth = "3cm"', 'depth = "0cm"', ["substrate.depth"], 'depth = "0cm"'),
    ('depth = "3cm"', 'depth = "3"', ["substrate.depth", "without a unit"], 'depth = "3"'),
    ('power = "40W"', 'power = "0W"', ["heater mat.power"], '"0W"'),
    ('probe = "warm floor"', 'probe = "wram floor"', ["thermostat t1.probe", "no probe of this name"], "wram"),
    ('front = "glass 4mm"', 'front = "mesh 1mm"', ["faces.front", "mesh"], "mesh"),
    ('lag = "1min"', 'lag = "1min"\ncolour = "red"', ["colour", "no such field"], "colour"),
    ("[room]", "[rooom]", ["rooom", "no such part"], "rooom"),
    ('length = "90cm"', "", ["length", "must be given"], "[enclosure]"),
    ('name = "cool side"', 'name = "warm floor"', ["used twice"], None),
)


def refused(bench):
    for old, new, words, line_of in BAD:
        text = documented_case()
        expect(old in text, f"the page's example has no {old!r}")
        text = text.replace(old, new, 1)
        path = bench.write("bad.toml", text)
        answer = bench.run("climate", "solve", path, "--json", code=1)
        expect_words(answer.err, ["bad.toml", *words], f"{old} -> {new}")
        expect(answer.out == "", "something was printed", answer)
        if line_of in (None, "thermostat"):
            continue
        number = next(n for n, line in enumerate(text.splitlines(), 1) if line_of in line)
        expect(f"bad.toml:{number}" in answer.err, f"{old} -> {new}: line {number} is not named", answer)
    answer = bench.run("climate", "solve", "nowhere.toml", code=1)
    expect_words(answer.err, ["nowhere.toml"], "no file")
    bench.run("climate", "solve", ".", code=1)
    bench.run("climate", "solve", code=2)
    bench.run("climate", code=2)


def checks():
    for check in (solved, ran, drawn, shared, a_winter_month, exported, from_the_book, refused):
        yield f"climate: {check.__name__.replace('_', ' ')}", check
