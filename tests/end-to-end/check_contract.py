"""The command line's contract: exit codes, JSON, messages, nothing half-written (docs/commands.md)."""

import csv
import io
import json
import os
import pty
import re
import sqlite3
import subprocess

from harness import DEMO_DATE, expect, expect_equal, expect_words

ROOM = """[room]
name = "Test room"
zone = "Europe/Oslo"

[[enclosure]]
id = "tub"

[[animal]]
id = "corn"
species = "corn_snake"
enclosure = "tub"
"""


# --- demo, JSON ---

def demo_writes_three_files(bench):
    bench.run("demo", "d")
    expect_equal(sorted(p.name for p in (bench.folder / "d").iterdir()),
                 ["notebook.jsonl", "room.db", "room.toml"], "files of the demo")


def demo_keeps_what_is_there(bench):
    """A keeper who tries the demo in the folder of his own room file must not lose it."""
    for name in ("room.toml", "notebook.jsonl", "room.db"):
        folder = bench.folder / name.replace(".", "-")
        folder.mkdir()
        (folder / name).write_text("mine", encoding="utf-8")
        before = bench.files()
        answer = bench.run("demo", folder, code=1)
        expect_words(answer.err, [name, "expected a new or empty folder"], "message")
        expect_equal(bench.files(), before, "files")


def demo_on_another_day(bench):
    bench.run("demo", "d", "--date", "2027-02-28")
    last = [json.loads(line)["at"] for line in
            (bench.folder / "d" / "notebook.jsonl").read_text(encoding="utf-8").splitlines()]
    expect(max(last) < "2027-02-28", f"the last entry is of {max(last)}")
    bench.json("today", "today", "--book", "d/room.db", "--date", "2027-02-28")
    bench.run("demo", "e", "--date", "2027-02-30", code=1)


def every_json(bench):
    """Every answer in JSON validates, for every animal, enclosure and species there is."""
    bench.run("demo", "d")
    book = ("--book", "d/room.db")
    for date in (DEMO_DATE, "2026-11-26", "2026-07-15", "2026-02-01", "2025-06-01"):
        bench.json("today", "today", *book, "--date", date)
    room = (bench.folder / "d" / "room.toml").read_text(encoding="utf-8")
    for kind in ("animal", "enclosure"):
        ids = re.findall(rf"^\[\[{kind}\]\]\nid = \"(.*)\"", room, re.MULTILINE)
        expect(len(ids) > 9, f"{kind}: {ids}")
        for name in ids:
            page = bench.json(kind, kind, *book, name, "--date", DEMO_DATE)
            expect_equal(page[kind], name, "whose page it is")
    for entry in bench.json("species_list", "species")["species"]:
        profile = bench.json("species", "species", entry["species"])
        expect_equal(profile["scientific_name"], entry["scientific_name"], "name")
    expect_equal([s["species"] for s in bench.json("species_list", "species", "hermann")["species"]],
                 ["hermanns_tortoise"], "part of a name")
    bench.run("species", "no such animal", "--json", code=1)
    for entry in bench.json("foods", "foods")["foods"]:
        food = bench.json("food", "foods", entry["food"])
        expect_equal(food["name"], entry["name"], entry["food"])
    expect_equal([f["food"] for f in bench.json("foods", "foods", "hydei")["foods"]],
                 ["fruitfly_hydei"], "the foods called hydei")
    expect_words(bench.run("foods", "spinach").out, ["0.97 g/100 g", "usda_sr28"], "spinach")
    bench.run("foods", "ambrosia", "--json", code=1)
    expect(bench.json("verify", "verify", *book)["sound"], "the demo is not sound")


def records_in_metric_whatever_people_read(bench):
    """JSON does not change its units with the people of the room."""
    for units in ("metric", "us"):
        bench.write(f"{units}.toml", ROOM.replace('zone =', f'units = "{units}"\nzone =').replace(
            'id = "tub"', 'id = "tub"\nlength = "48in"\nlid_covered = "90%"\nshelf = 2\n'
            'front = "glass 0.25in"\nwater_dish = false'))
        bench.run("import", "--book", f"{units}.db", f"{units}.toml")
    pages = [bench.json("enclosure", "enclosure", "--book", f"{units}.db", "tub", "--date", DEMO_DATE)
             ["record"] for units in ("metric", "us")]
    expect_equal(pages[0], pages[1], "records")
    expect_equal(pages[0], {"id": "tub", "shelf": 2, "length": "121.92cm", "lid_covered": "90%",
                            "front": "glass 0.635cm", "water_dish": False}, "record")
    for units, shown in (("metric", "122 cm"), ("us", "48 in")):
        page = bench.run("enclosure", "--book", f"{units}.db", "tub")
        expect_words(page.out, [shown], "the page for people")


def numbers_for_people_are_rounded(bench):
    """A wall of 18 mm is no wall of 1.7999999999999998 cm."""
    bench.run("demo", "d")
    for name in ("tortoise-table", "skink-table", "rack-b-3", "rack-a-1", "cold-box"):
        page = bench.run("enclosure", "--book", "d/room.db", name, "--date", DEMO_DATE).out
        expect(not re.search(r"[0-9]\.[0-9]{4}", page), f"too many digits:\n{page}")


# --- exit codes ---

def unknown_usage_is_2(bench):
    for arguments in ((), ("feed",), ("today", "--colour"), ("jot",), ("jot", "eaten"), ("calc",),
                      ("jot", "weigh"), ("demo",), ("import",), ("calc", "dilute", "--stock", "5%"),
                      ("jot", "fed", "corn", "--count", "-1"), ("jot", "moved", "corn")):
        answer = bench.run(*arguments, code=2)
        expect_words(answer.err, ["Try: warmside"], f"{arguments}")
        expect_equal(answer.out, "", f"{arguments}: standard output")
    expect_words(bench.run("feed", code=2).err, ['"warmside feed"'], "unknown command")
    expect_words(bench.run("jot", "eaten", code=2).err, ['"warmside jot eaten"'], "unknown form")


def bad_data_is_1(bench):
    bench.write("room.toml", ROOM)
    bench.run("import", "--book", "room.db", "room.toml")
    bench.write("picture.db", "not a book" * 1000)
    bench.write("empty.db", "")
    before = bench.files()
    for arguments in (("today", "--book", "none.db"), ("today", "--book", "picture.db"),
                      ("today", "--book", "empty.db"), ("verify", "--book", "picture.db"),
                      ("today", "--book", "room.db", "--date", "2026-02-30"),
                      ("today", "--book", "room.db", "--date", "yesterday"),
                      ("animal", "--book", "room.db", "nobody"),
                      ("enclosure", "--book", "room.db", "corn"), ("species", "dragon fly"),
                      ("export", "--book", "none.db", "out"), ("backup", "--book", "none.db", "b.db"),
                      ("backup", "--book", "room.db", "room.db"),
                      ("import", "--book", "room.db", "none.toml"),
                      ("import", "--book", "new.db", "none.jsonl")):
        answer = bench.run(*arguments, code=1)
        expect(answer.err.strip() and not answer.out, f"{arguments}", answer)
    expect_equal(bench.files(), before, "files")


def failing_machine_is_3(bench):
    """A path below a file cannot be made by anybody, root or not; nor can a file in /proc."""
    bench.run("demo", "d")
    bench.write("file", "mine")
    before = bench.files()
    for arguments in (("export", "--book", "d/room.db", "file/out"), ("demo", "file/demo"),
                      ("import", "--book", "file/room.db", "d/room.toml"),
                      ("import", "--book", "/proc/room.db", "d/room.toml"),
                      ("import", "--book", "no/such/folder/room.db", "d/room.toml"),
                      ("backup", "--book", "d/room.db", "file/copy.db"),
                      ("backup", "--book", "d/room.db", "/proc/copy.db")):
        answer = bench.run(*arguments, code=3)
        expect(arguments[-1] in answer.err or arguments[2] in answer.err, "no path is named", answer)
    if os.geteuid() != 0:
        (bench.folder / "locked").mkdir()
        (bench.folder / "locked").chmod(0o500)
        bench.run("import", "--book", "locked/room.db", "d/room.toml", code=3)
        bench.run("export", "--book", "d/room.db", "locked", code=3)
    expect_equal(bench.files(), before, "files")


def full_disk_under_the_answer_is_3(bench):
    bench.run("demo", "d")
    with open("/dev/full", "w", encoding="utf-8") as full:
        bench.run("today", "--book", "d/room.db", "--date", DEMO_DATE, code=3, stdout=full)


# --- import and export ---

def refused_import_leaves_nothing(bench):
    """Every bad line of a notebook is listed with file, line, field and what was expected."""
    bench.write("room.toml", ROOM)
    bench.write("bad.csv", "date,kind,animal,mass_g,count\n"
                           "2026-03-01,weighed,corn,500,\n"
                           "2026-03-02,weighed,corn,5 oz,\n"
                           "2026-13-02,weighed,corn,500,\n"
                           "2026-03-02,eaten,corn,,\n"
                           "2026-03-02,fed,corn,,two\n"
                           "2026-03-02,weighed,corn,,\n"
                           "2026-03-02,weighed,nobody,500,\n"
                           "2026-03-02,weighed,corn\n")
    before = bench.files()
    answer = bench.run("import", "--book", "room.db", "room.toml", "bad.csv", code=1)
    for start, words in (("bad.csv:3: mass_g: ", ["bare number", 'found "5 oz"']),
                         ("bad.csv:4: date: ", ["such as 2026-11-25", "2026-13-02"]),
                         ("bad.csv:5: kind: ", ["unknown kind", "weighed", "eaten"]),
                         ("bad.csv:6: count: ", ["whole number", "two"]),
                         ("bad.csv:7: mass: ", ["needs it"]),
                         ("bad.csv:8: animal: ", ["no animal of this id", "nobody"]),
                         ("bad.csv:9: ", ["number of cells", "expected 5", "3"])):
        lines = [line for line in answer.err.splitlines() if line.startswith(start)]
        expect_equal(len(lines), 1, f"lines that start with {start}, of:\n{answer.err}")
        expect_words(lines[0], words, start)
    expect_words(answer.err, ["7 problem(s)", "unchanged"], "the last line")
    expect_equal(answer.out, "", "standard output")
    expect_equal(bench.files(), before, "files: no book, no half of one")


def refused_lines_of_json(bench):
    bench.write("room.toml", ROOM)
    uuid = "01960000-0000-7000-8000-00000000000"
    bench.write("bad.jsonl", "\n".join((
        f'{{"id":"{uuid}1","at":"2026-03-01T12:00:00","kind":"fed","animal":"corn"}}',
        f'{{"id":"{uuid}2","at":"2026-03-01T12:00:00Z","kind":"weighed","animal":"corn","mass":500}}',
        f'{{"id":"{uuid}3","at":"2026-03-01T12:00:00Z","kind":"fed","animal":"corn","colour":"x"}}',
        f'{{"id":"{uuid}4","at":"2026-03-01T12:00:00Z","kind":"fed"}}',
        '["not", "an", "object"]',
        '{"id":"1","at":"2026-03-01T12:00:00Z","kind":"fed","animal":"corn"}',
        f'{{"id":"{uuid}7","at":"2026-03-01T12:00:00Z","kind":"fed","animal":"corn","mass":"-1g"}}')))
    answer = bench.run("import", "--book", "room.db", "room.toml", "bad.jsonl", code=1)
    for start, words in (("bad.jsonl:1: at: ", ["RFC 3339"]), ("bad.jsonl:2: mass: ", ["350g"]),
                         ("bad.jsonl:3: colour: ", ["no such field"]),
                         ("bad.jsonl:4: animal: ", ["what it is about"]), ("bad.jsonl:5: ", ["JSON"]),
                         ("bad.jsonl:6: id: ", ["expected"]), ("bad.jsonl:7: mass: ", ["negative"])):
        lines = [line for line in answer.err.splitlines() if line.startswith(start)]
        expect(lines, f"no line starts with {start}:\n{answer.err}")
        expect_words(lines[0], words, start)
    expect(not (bench.folder / "room.db").exists(), "a book was left behind")


def refused_room_file(bench):
    bench.write("room.toml", ROOM + """sex = "f"
colour = "red"

[[animal]]
id = "Corn 2"
species = "corn_snake"

[[heater]]
id = "mat"
kind = "mat"
power = "20"
""")
    answer = bench.run("import", "--book", "room.db", "room.toml", code=1)
    for start, words in (("room.toml:12: animal corn.sex: ", ["expected unknown, female or male", '"f"']),
                         ("room.toml:13: animal corn.colour: ", ["no such field", "marks"]),
                         ("room.toml:16: animal.id: ", ["small letters", "Corn 2"]),
                         ("room.toml:22: heater mat.power: ", ["without a unit", "25W", '"20"'])):
        lines = [line for line in answer.err.splitlines() if line.startswith(start)]
        expect(lines, f"no line starts with {start}:\n{answer.err}")
        expect_words(lines[0], words, start)
    expect(not (bench.folder / "room.db").exists(), "a book was left behind")


def names_that_lead_nowhere(bench):
    bench.write("room.toml", ROOM.replace("corn_snake", "cornsnake").replace(
        'enclosure = "tub"', 'enclosure = "tube"').replace("Oslo", "Olso"))
    answer = bench.run("import", "--book", "room.db", "room.toml", code=1)
    expect_words(answer.err, ["room.toml:3: room.zone: ", "Europe/Olso", "room.toml:10: animal corn.species",
                              "room.toml:11: animal corn.enclosure", '"tube"'], "messages")


def refused_import_keeps_the_old_book(bench):
    bench.write("room.toml", ROOM)
    bench.write("good.csv", "date,kind,animal,mass_g\n2026-03-01,weighed,corn,500\n")
    bench.write("bad.csv", "date,kind,animal,mass_g\n2026-03-02,weighed,corn,510\n2026-03-03,weighed,corn,x\n")
    bench.run("import", "--book", "room.db", "room.toml", "good.csv")
    before = bench.exported()
    bench.run("import", "--book", "room.db", "bad.csv", code=1)
    expect_equal(bench.exported(), before, "entries")
    bench.run("verify", "--book", "room.db")


def import_twice_adds_nothing(bench):
    bench.run("demo", "d")
    before = bench.exported("d/room.db")
    again = bench.json("import", "import", "--book", "d/room.db", "d/room.toml", "d/notebook.jsonl")
    expect_equal((again["entries_added"], again["entries_before"]), (0, len(before)), "entries")
    expect_equal(bench.exported("d/room.db"), before, "entries")
    rows = "date,kind,animal,mass_g,item\n2026-03-01,weighed,juniper,530,\n" + \
        "2026-03-01,fed,juniper,,mouse\n" * 2  # two mice on one day are two entries
    bench.write("more.csv", rows)
    expect_equal(bench.json("import", "import", "--book", "d/room.db", "more.csv"),
                 {"records": 0, "entries_added": 3, "entries_before": 0}, "first time")
    expect_equal(bench.json("import", "import", "--book", "d/room.db", "more.csv"),
                 {"records": 0, "entries_added": 0, "entries_before": 3}, "second time")


def round_trip(bench):
    """export, import, export: the same bytes, and the same as what was imported first."""
    bench.run("demo", "d")
    for number, book in enumerate(("d/room.db", "second.db")):
        bench.run("export", "--book", book, f"out{number}")
        bench.run("import", "--book", "second.db", f"out{number}/room.toml", f"out{number}/notebook.jsonl")
    files = bench.files()
    for name in ("room.toml", "notebook.jsonl"):
        expect(files[f"out0/{name}"] == files[f"out1/{name}"], f"{name} changed on the way")
        expect(files[f"out0/{name}"] == files[f"d/{name}"], f"{name} differs from the demo's own")
    expect_equal(sorted(f for f in files if f.startswith("out0")),
                 ["out0/notebook.jsonl", "out0/room.toml"], "files of an export")


def round_trip_of_odd_texts(bench):
    """Quotes, line breaks, letters of other scripts and a comma survive CSV, book and JSON."""
    odd = 'say "no", then\nÅse\tof Bergen \\ 守宮 \U0001f98e'
    bench.write("room.toml", ROOM.replace('id = "corn"', 'id = "corn"\nname = "Åse \\"the\\" snake"'))
    rows = io.StringIO()
    csv.writer(rows).writerows([["date", "kind", "animal", "note"], ["2026-03-01", "note", "corn", odd]])
    bench.write("odd.csv", rows.getvalue())
    bench.run("import", "--book", "room.db", "room.toml", "odd.csv")
    expect_equal(bench.exported()[0]["note"], odd, "note")
    bench.run("import", "--book", "second.db", "exported/room.toml", "exported/notebook.jsonl")
    bench.run("export", "--book", "second.db", "again")
    files = bench.files()
    for name in ("room.toml", "notebook.jsonl"):
        expect(files[f"exported/{name}"] == files[f"again/{name}"], f"{name} changed on the way")
    page = bench.run("animal", "--book", "room.db", 'Åse "the" snake')
    expect_words(page.out, ['Åse "the" snake (corn)', "守宮"], "page")


def remove_others(bench):
    """Without --remove-others an import only adds and changes records."""
    bench.write("room.toml", ROOM + '\n[[tool]]\nid = "hook"\nkind = "hook"\n')
    bench.write("less.toml", ROOM)
    bench.run("import", "--book", "room.db", "room.toml")
    for extra, kept in (((), True), (("--remove-others",), False)):
        bench.run("import", "--book", "room.db", "less.toml", *extra)
        bench.run("export", "--book", "room.db", "out")
        text = (bench.folder / "out" / "room.toml").read_text(encoding="utf-8")
        expect_equal('"hook"' in text, kept, f"the tool after import {extra}")


def backup_is_a_book(bench):
    bench.run("demo", "d")
    bench.run("backup", "--book", "d/room.db", "copy.db")
    expect_equal(bench.exported("copy.db", "b"), bench.exported("d/room.db", "a"), "entries")
    expect(bench.json("verify", "verify", "--book", "copy.db")["sound"], "the copy is not sound")


def tampering_is_found(bench):
    """Someone who changes a weighing behind the program's back is found out: exit 1 and a list."""
    bench.run("demo", "d")
    for number, change in enumerate(("UPDATE entry SET mass_kg = mass_kg * 1.1 WHERE seq = "
                                     "(SELECT min(seq) FROM entry WHERE mass_kg IS NOT NULL)",
                                     "DELETE FROM entry WHERE seq = 5000",
                                     "DELETE FROM entry WHERE seq = (SELECT max(seq) FROM entry)")):
        copy = f"copy{number}.db"
        bench.run("backup", "--book", "d/room.db", copy)
        with sqlite3.connect(bench.folder / copy) as db:
            for (name,) in db.execute("SELECT name FROM sqlite_master WHERE type = 'trigger'").fetchall():
                db.execute(f"DROP TRIGGER {name}")
            db.execute(change)
        db.close()
        verdict = bench.json("verify", "verify", "--book", copy, code=1)
        expect(not verdict["sound"] and verdict["wrong"], f"{change}: {verdict}")
        expect(bench.run("verify", "--book", copy, code=1).err.strip(), f"{change}: no list")


# --- help, completion, colour ---

def commands_below(bench, chain):
    """The names that the help of a command lists."""
    text = bench.run(*chain, "--help").out
    if "Subcommands:" not in text:
        return []
    part = text.split("Subcommands:\n")[1].split("\n\n")[0]
    return re.findall(r"^  ([a-z-]+)", part, re.MULTILINE)


def help_of_every_command(bench):
    seen = []
    waiting = [()]
    while waiting:
        chain = waiting.pop()
        answer = bench.run(*chain, "--help")
        expect(len(answer.out) > 80 and "Usage: warmside" in answer.out and not answer.err, "no help", answer)
        seen.append(chain)
        waiting += [chain + (name,) for name in commands_below(bench, chain)]
    for chain in (("today",), ("jot", "weigh"), ("jot", "strike"), ("calc", "dilute"), ("import",)):
        expect(chain in seen, f"{chain} is not listed by the help")
    expect(len(seen) > 38, f"only {len(seen)} commands")
    for chain in seen:
        if chain[:1] == ("jot",) and len(chain) == 2:
            expect_words(bench.run(*chain, "--help").out, ["--at", "--note"], "help of a short form")


def version(bench):
    expect(re.fullmatch(r"[0-9]+\.[0-9]+\.[0-9]+\n", bench.run("--version").out), "version")


def completion(bench):
    bench.write("completion.bash", bench.run("completion").out)
    for words, wanted, unwanted in (
            (["warmside", "to"], {"today"}, {"jot"}),
            (["warmside", ""], {"today", "jot", "calc", "species", "completion"}, {"weigh"}),
            (["warmside", "jot", "we"], {"weigh"}, {"today"}),
            (["warmside", "jot", "in"], {"in-shed"}, set()),
            (["warmside", "jot", "--book", "room.db", "fe"], {"fed"}, set()),
            (["warmside", "jot", "fed", "corn", "--"], {"--food", "--count", "--at", "--note"}, {"--to"}),
            (["warmside", "calc", "dilute", "--s"], {"--stock"}, {"--target"}),
            (["warmside", "today", "--"], {"--book", "--date", "--json"}, {"--stock"}),
            (["warmside", "import", "comple"], {"completion.bash"}, set())):
        listed = " ".join(f"'{word}'" for word in words)
        script = (f"source completion.bash; COMP_WORDS=({listed}); COMP_CWORD={len(words) - 1}; "
                  "_warmside; printf '%s\\n' \"${COMPREPLY[@]}\"")
        done = subprocess.run(["bash", "-c", script], cwd=bench.folder, capture_output=True, text=True,
                              check=True, timeout=30)
        found = set(done.stdout.split())
        expect(wanted <= found and not unwanted & found and not done.stderr,
               f"{words}: expected {wanted}, not {unwanted}; found {found} {done.stderr}")


def on_a_terminal(bench, *arguments, **more):
    """What the program prints when its output is a terminal of 80 columns."""
    leader, follower = pty.openpty()
    done = subprocess.Popen([bench.program, *arguments], cwd=bench.folder, stdout=follower,
                            env={"PATH": "/usr/bin:/bin", **more})
    os.close(follower)
    out = b""
    while True:
        try:
            part = os.read(leader, 65536)
        except OSError:  # the program closed the terminal
            break
        if not part:
            break
        out += part
    os.close(leader)
    expect_equal(done.wait(timeout=60), 0, "exit code")
    return out.decode("utf-8").replace("\r\n", "\n")


def colour_only_on_a_terminal(bench):
    """The words are the same with and without colour; only a terminal gets colour."""
    bench.run("demo", "d")
    for arguments in (("today", "--book", "d/room.db", "--date", DEMO_DATE),
                      ("animal", "--book", "d/room.db", "moss", "--date", DEMO_DATE),
                      ("enclosure", "--book", "d/room.db", "rack-a-3", "--date", DEMO_DATE),
                      ("species", "corn_snake"), ("calc", "dilute", "--stock", "5%", "--target", "1%",
                                                  "--volume", "1L")):
        plain = bench.run(*arguments).out
        expect("\x1b" not in plain, f"{arguments}: colour without a terminal")
        shown = on_a_terminal(bench, *arguments)
        expect("\x1b[" in shown, f"{arguments}: no colour on a terminal")
        expect_equal(re.sub(r"\x1b\[[0-9;]*m", "", shown), plain, f"{arguments}: words")
        expect_equal(on_a_terminal(bench, *arguments, NO_COLOR="1"), plain, f"{arguments}: NO_COLOR")


def lines_fit(bench):
    """Pages are at most 80 columns wide, and no line ends in a space."""
    bench.run("demo", "d")
    for arguments in (("today", "--book", "d/room.db", "--date", DEMO_DATE),
                      ("animal", "--book", "d/room.db", "moss", "--date", DEMO_DATE),
                      ("enclosure", "--book", "d/room.db", "tortoise-table", "--date", DEMO_DATE),
                      ("species",), ("species", "corn_snake", "--us")):
        for line in bench.run(*arguments).out.splitlines():
            expect(len(line) <= 80, f"{arguments}: {len(line)} columns: {line}")
            expect(line == line.rstrip(), f"{arguments}: a space at the end: {line!r}")


def book_from_the_environment(bench):
    """--book goes before WARMSIDE_BOOK, and that before room.db here."""
    bench.write("room.toml", ROOM)
    bench.run("import", "--book", "other.db", "room.toml")
    done = subprocess.run([bench.program, "verify"], cwd=bench.folder, capture_output=True, text=True,
                          env={"WARMSIDE_BOOK": "other.db"}, check=False, timeout=30)
    expect_equal(done.returncode, 0, f"exit code with WARMSIDE_BOOK: {done.stderr}")
    bench.run("verify", code=1)
    bench.run("import", "room.toml")
    bench.run("verify")


def checks():
    for check in (demo_writes_three_files, demo_keeps_what_is_there, demo_on_another_day, every_json,
                  records_in_metric_whatever_people_read, numbers_for_people_are_rounded,
                  unknown_usage_is_2, bad_data_is_1, failing_machine_is_3,
                  full_disk_under_the_answer_is_3, refused_import_leaves_nothing,
                  refused_lines_of_json, refused_room_file, names_that_lead_nowhere,
                  refused_import_keeps_the_old_book, import_twice_adds_nothing, round_trip,
                  round_trip_of_odd_texts, remove_others, backup_is_a_book, tampering_is_found,
                  help_of_every_command, version, completion, colour_only_on_a_terminal, lines_fit,
                  book_from_the_environment):
        yield f"contract: {check.__name__.replace('_', ' ')}", check
