"""What hangs on which circuit and what it costs: the demo room, and rooms added up by hand."""

from harness import DEMO_DATE, expect, expect_equal, expect_words

HEAD = """
[room]
name = "Test room"
zone = "Europe/Oslo"
"""
ROOM = HEAD + """
country = "US"
electricity_price = 0.5

[[circuit]]
id = "ring"
capacity = "1800W"

[[socket]]
id = "wall"
circuit = "ring"

[[socket]]
id = "strip"
plugged_into = "wall"
capacity = "1500W"

[[timer]]
id = "clock"
on = "08:00"
off = "10:00"
socket = "strip"
capacity = "150W"

[[lamp]]
id = "tube"
kind = "T5 tube"
power = "100W"
timer = "clock"

[[lamp]]
id = "dark"
kind = "LED"
socket = "strip"

[[appliance]]
id = "refrigerator"
kind = "refrigerator"
power = "1400W"
running = "25%"
socket = "wall"

[[appliance]]
id = "fan"
kind = "fan"
power = "10W"
"""


def added_by_hand(bench):
    bench.write("room.toml", ROOM)
    bench.run("import", "room.toml")
    answer = bench.json("power", "power", "--date", "2026-11-25")
    expect_equal(answer["mains"]["voltage_v"], 120, "volts")
    expect_equal(answer["continuous"], {"share_pct": 80, "hours": 3, "rule": True,
                                        "source": "nec2023, from memory"}, "the rule")
    ring = answer["circuits"][0]["load"]
    # 100 + 1400 W; the tube is on for two hours, less than three; dark's power is not known.
    expect_equal((ring["everything_w"], ring["continuous_w"], ring["lamps_w"], ring["at_least"]),
                 (1500, 1400, 100, True), "the circuit")
    loads = {s["id"]: s["load"]["everything_w"] for s in answer["sockets"]}
    expect_equal(loads, {"strip": 100, "wall": 1500}, "sockets")
    devices = {d["id"]: d for d in answer["devices"]}
    expect_equal((devices["tube"]["path"], devices["fan"]["path"]), (["strip", "wall"], []), "ways")
    # kWh = W x hours a day x 30.4 / 1000: 100 x 2, 1400 x 6, 10 x 24; half the price of each.
    for name, basis, kwh in (("tube", "timer", 6.08), ("refrigerator", "running share", 255.36),
                             ("fan", "always on", 7.296)):
        device = devices[name]
        expect_equal(device["basis"], basis, f"basis of {name}")
        for key, wanted in (("kwh_per_month_low", kwh), ("kwh_per_month_high", kwh),
                            ("cost_per_month_low", kwh / 2)):
            expect(abs(device[key] - wanted) < 1e-9, f"{name} {key}: {device[key]}, wanted {wanted}")
    expect_equal((devices["dark"]["basis"], devices["dark"]["kwh_per_month_low"]), ("unknown", None),
                 "a lamp without a power")
    expect_equal(answer["together"]["without_power"], 1, "devices without a power")
    found = [(f["when"], f["subject"]) for f in answer["findings"]]
    # 1400 W of 1800 W are less than 80 %; 100 W of lamps are more than half of 150 W.
    expect_equal(found, [("this week", "clock")], "findings")
    expect_words(answer["not_known"], ["the power of dark", "plugged in: fan"], "not known")
    text = " ".join(bench.run("power", "--date", "2026-11-25").out.split())
    expect_words(text, ["at least 1500 W of 1800 W (83 %)", "at least 100 W of 1500 W (7 %)",
                        "dark power not known", "They are in no sum above", "licensed electrician",
                        "together: at least 268.7 kWh, cost 134.37; 1 without a known power"], "the page")


def demo_room(bench):
    bench.run("demo", "d")
    book = ("--book", "d/room.db", "--date", DEMO_DATE)
    answer = bench.json("power", "power", *book)
    # docs/demo-room.md
    expect_equal({c["id"]: c["load"]["everything_w"] for c in answer["circuits"]},
                 {"circuit-1": 612, "circuit-2": 2138}, "circuits")
    expect(not answer["findings"], f"findings: {answer['findings']}")
    # One number for one thing: the enclosure's own page has the same.
    months = {d["id"]: d["kwh_per_month_low"] for d in answer["devices"]}
    pages = 0
    for name in sorted({d["enclosure"] for d in answer["devices"]} - {None}):
        climate = bench.json("enclosure", "enclosure", *book, name)["climate"]
        for heater in climate.get("heaters", []):
            pages += 1
            expect_equal(months[heater["name"]], heater["kwh_per_month"], heater["name"])
    expect(pages > 10, f"only {pages} devices on the pages")
    whole = sum(d["kwh_per_month_high"] for d in answer["devices"])
    expect(abs(whole - answer["together"]["kwh_per_month_high"]) < 1e-6, "the sum")


def empty_room(bench):
    bench.write("room.toml", HEAD)
    bench.run("import", "room.toml")
    answer = bench.json("power", "power", "--date", "2026-11-25")
    expect_equal((answer["mains"], answer["devices"], answer["not_known"], answer["findings"]),
                 (None, [], "", []), "power")
    expect_words(bench.run("power", "--date", "2026-11-25").out, ["names no country"], "the page")
    bench.run("power", "--book", "none.db", code=1)
    bench.run("power", "--date", "2026-02-30", code=1)


def looked_over(bench):
    """Cords are the room's, all other checks an animal's."""
    bench.write("room.toml", ROOM)
    bench.run("import", "room.toml")
    due = [t["task"] for s in bench.json("today", "today")["round"] for t in s["tasks"]]
    expect("cord_check" in due, f"due: {due}")
    bench.run("jot", "checked", "room", "--what", "cords")
    due = [t["task"] for s in bench.json("today", "today")["round"] for t in s["tasks"]]
    expect("cord_check" not in due, f"due: {due}")
    bench.run("jot", "checked", "nobody", "--what", "cords", code=1)


def checks():
    yield "power: added by hand", added_by_hand
    yield "power: the demo room", demo_room
    yield "power: an empty room", empty_room
    yield "power: cords looked over", looked_over
