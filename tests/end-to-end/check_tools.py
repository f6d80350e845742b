"""Whose tools are whose: the demo room, and a room whose tools are counted by hand."""

from harness import DEMO_DATE, expect, expect_equal, expect_words

ROOM = """
[room]
name = "Test room"
zone = "Europe/Oslo"
""" + "".join(f"""
[[enclosure]]
id = "{enclosure}"

[[animal]]
id = "in-{enclosure}"
species = "{species}"
enclosure = "{enclosure}"
{more}
""" for enclosure, species, more in (
    ("tub-1", "corn_snake", ""), ("tub-2", "corn_snake", ""), ("vivarium", "leopard_gecko", ""),
    ("pond", "axolotl", ""), ("new", "corn_snake", "arrived = 2026-11-20"))) + """
[[tool]]
id = "tongs-1"
kind = "tongs"
enclosure = "tub-1"
mark = "red tape"

[[tool]]
id = "tongs-2"
kind = "tongs"
"""


def demo_room(bench):
    bench.run("demo", "d")
    book = ("--book", "d/room.db", "--date", DEMO_DATE)
    answer = bench.json("tools", "tools", *book)
    seen = [enclosure for one in answer["sets"] for enclosure in one["enclosures"]]
    expect_equal(len(seen), len(set(seen)), "an enclosure stands in one set")
    for one in answer["sets"]:
        if one["class"] in ("sick", "under observation"):
            expect(len(one["enclosures"]) == 1 and not one["disinfect"], f"shares: {one}")
        expect_equal(bool(one["disinfect"]), len(one["enclosures"]) > 1, f"disinfection of {one}")
        for enclosure in one["enclosures"]:
            page = bench.json("enclosure", "enclosure", *book, enclosure)["tools"]
            expect_equal(sorted(page["shared_with"] + [enclosure]), one["enclosures"], "the page")
            expect_equal(page["mark"], one["mark"], "the mark on the page")
    alone = next(one for one in answer["sets"] if "quarantine-1" in one["enclosures"])
    expect_equal((alone["class"], alone["enclosures"]), ("quarantine", ["quarantine-1"]), "quarantine")
    expect_words(bench.run("tools", *book).out,
                 ["Kind by kind", "Clean first", "Cryptosporidium", "veterinarian"], "the page")


def counted_by_hand(bench):
    (bench.folder / "room.toml").write_text(ROOM, encoding="utf-8")
    bench.run("import", "room.toml")
    answer = bench.json("tools", "tools", "--date", "2026-11-25")
    expect_equal([(one["class"], one["enclosures"]) for one in answer["sets"]],
                 [("young and clean amphibians", ["pond"]), ("resident", ["vivarium"]),
                  ("resident", ["tub-1", "tub-2"]), ("quarantine", ["new"])], "sets")
    snakes = answer["sets"][2]
    expect_equal((snakes["mark"], snakes["marked"]), ("red tape", True), "the mark that is there")
    expect_equal(len({one["mark"] for one in answer["sets"]}), 4, "marks")
    tongs = next(kind for kind in answer["kinds"] if kind["kind"] == "tongs")
    # Four sets; one has its own; the shared one goes to another: two to get.
    expect_equal((len(tongs["there"]), tongs["needed"], tongs["missing"], tongs["sets_without"]),
                 (2, 4, 2, [0, 1, 3]), "tongs")
    expect(not any(one["ingredient"] == "sodium hypochlorite" for one in answer["oocysts"]),
           "bleach against oocysts")
    text = " ".join(bench.run("tools", "--date", "2026-11-25").out.split())
    expect_words(text, ["sets without: 1, 2, 4", "get 2", "May be shared after each: sodium hypochlorite"],
                 "the page")
    page = " ".join(bench.run("enclosure", "tub-2", "--date", "2026-11-25").out.split())
    expect_words(page, ["may share with tub-1", "none of its own tongs, tub, scoop, bin"], "tub-2")


def empty_room(bench):
    (bench.folder / "room.toml").write_text('[room]\nname = "Empty"\nzone = "UTC"\n', encoding="utf-8")
    bench.run("import", "room.toml")
    answer = bench.json("tools", "tools", "--date", "2026-11-25")
    expect_equal((answer["sets"], [kind["missing"] for kind in answer["kinds"]]), ([], [0] * 4), "tools")
    bench.run("tools", "--date", "2026-11-25")


def checks():
    yield "tools: the demo room", demo_room
    yield "tools: counted by hand", counted_by_hand
    yield "tools: an empty room", empty_room
