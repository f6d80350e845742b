"""Real weights of 30 chicks (tests/data/README.md) against the rule of lost mass.

What must be found is computed here from the raw file with exact fractions: the latest weighing of
an animal more than the limit below the highest of the 90 days before it.
"""

import csv
import datetime
import fractions

from harness import TEST_DATA, expect, expect_equal

FILE = TEST_DATA / "chick_weights_diet12.csv"
DAY_ZERO = datetime.date(2026, 3, 1)
LAST_DAY = datetime.date(2026, 3, 22)

SPECIES = """[room]
name = "Chicks of a feeding trial"
zone = "Europe/Oslo"

[[species]]
id = "domestic_chick"
common_name = "Domestic chick"
group = "other"

[[enclosure]]
id = "pen"
"""


def weighings():
    """{animal: [(day, mass in g)]}, in the file's order."""
    found = {}
    with open(FILE, encoding="utf-8", newline="") as file:
        for row in csv.DictReader(file):
            found.setdefault(row["animal"], []).append((int(row["day"]), int(row["weight_g"])))
    return found


def losers(limit):
    """The animals that must be found, with their loss in percent."""
    found = {}
    for animal, series in weighings().items():
        day, latest = max(series)
        before = [mass for d, mass in series if day - 90 <= d < day]
        if before and latest < max(before) * (1 - limit):
            found[animal] = 100 * (1 - fractions.Fraction(latest, max(before)))
    return found


def check_limit(bench, limit, override=""):
    room = SPECIES + override + "".join(
        f'\n[[animal]]\nid = "{animal}"\nspecies = "domestic_chick"\nenclosure = "pen"\n'
        for animal in weighings())
    bench.write("room.toml", room)
    report = bench.json("import", "import", "--book", "room.db", "room.toml", FILE, "--kind",
                        "weighed", "--rename", "weight_g=mass_g", "--ignore", "diet", "--day-zero",
                        DAY_ZERO)
    expect_equal(report["entries_added"], sum(map(len, weighings().values())), "entries")
    today = bench.json("today", "today", "--book", "room.db", "--date", LAST_DAY)
    found = {f["subject"]: f["headline"] for f in today["findings"] if f["module"] == "health"}
    wanted = losers(limit)
    expect_equal(sorted(found), sorted(wanted), f"animals that lost more than {limit}")
    for animal, percent in wanted.items():
        expect(f"lost {float(percent):.1f} %" in found[animal], f"{percent}: {found[animal]}")
    return wanted


def default_limit(bench):
    check_limit(bench, fractions.Fraction(10, 100))


def keepers_limit(bench):
    longer = check_limit(bench, fractions.Fraction(5, 100), """
[[override]]
id = "sooner"
species = "domestic_chick"
key = "mass_loss_limit"
value = "5%"
reason = "growing animals should not lose anything"
""")
    expect(set(longer) > set(losers(fractions.Fraction(10, 100))), "the list is not longer")


def file_as_published(_bench):
    """30 chicks, 340 weighings: ChickWeight, diets 1 and 2."""
    expect_equal(len(weighings()), 30, "chicks")
    expect_equal(sum(map(len, weighings().values())), 340, "weighings")


def checks():
    yield "chicks: the file is as published", file_as_published
    yield "chicks: 10 % lost, the default", default_limit
    yield "chicks: 5 % lost, an override", keepers_limit
