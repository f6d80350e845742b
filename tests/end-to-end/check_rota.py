"""`warmside diet rota`: the book's animals, the example of docs/rota-file.md, no rota at all, and files that are wrong."""

import re

from harness import DEMO_DATE, ROOT, expect, expect_words


def example():
    page = (ROOT / "docs" / "rota-file.md").read_text(encoding="utf-8")
    return re.search(r"<<'END'\n(.*?)\nEND", page, re.S).group(1) + "\n"


def write(bench, name, text):
    path = bench.folder / name
    path.write_text(text, encoding="utf-8")
    return str(path)


def plans(bench):
    answer = bench.json("diet_rota", "diet", "rota", write(bench, "rota.toml", example()))
    expect(answer["feasible"] is True, str(answer)[:200])
    expect(len(answer["days"]) == 14 + 12 + 28, f"{len(answer['days'])} meals")
    expect(answer["bound"] <= answer["cost"] <= 1.02 * answer["bound"], str(answer["cost"]))
    crickets = sum(m["count"] for m in answer["days"] if m["food"] == "crickets")
    expect(crickets <= 700, f"{crickets} crickets of 700")
    jars = {}
    for meal in answer["days"]:
        jars.setdefault((meal["animal"], meal["date"]), []).append(meal["jar"])
    expect(all(len(of_meal) == 1 for of_meal in jars.values()), "two meals on a day")
    expect({m["jar"] for m in answer["days"] if m["animal"] == "Pebble"} <= {None, "calcium"},
           "a jar that Pebble may not get")


def names_what_is_short(bench):
    text = example().replace('jars = "calcium"', 'jars = "none"')
    answer = bench.json("diet_rota", "diet", "rota", write(bench, "short.toml", text), code=1)
    short = answer["infeasible"]
    expect(short["animal"] == "Pebble" and short["need"] == "calcium", str(short))
    expect(short["shortfall"] > 0 and short["helps"], str(short))
    expect("calcium" in short["smallest_change"], str(short))


def refuses(bench):
    for name, old, new, words in (
            ("count.toml", "stock = 700", "stock = -7", ("food crickets", "0 to 1,000,000")),
            ("unit.toml", 'mass = "40g"', 'mass = "40"', (":66:", "animal Moss.mass")),
            ("field.toml", "stock = 700", "stok = 700", ("food crickets.stok", "no such field")),
    ):
        done = bench.run("diet", "rota", write(bench, name, example().replace(old, new)), code=1)
        expect_words(done.err, words, name)


def plans_the_book(bench):
    """Every animal of the demo room is on the rota or left out with a reason; jars are the room's."""
    bench.run("demo", "d")
    asked = ("diet_rota", "diet", "rota", "--book", "d/room.db", "--date", DEMO_DATE)
    answer = bench.json(*asked)
    expect(answer["feasible"] is True, str(answer)[:200])
    expect(answer["bound"] <= answer["cost"] <= 1.02 * answer["bound"], str(answer["cost"]))
    fed = {meal["animal"] for meal in answer["days"]}
    out = {one["animal"] for one in answer["left_out"]}
    expect(not fed & out and len(fed) >= 10, f"fed {fed}, left out {out}")
    jars = {meal["jar"] for meal in answer["days"]} - {None}
    expect(jars <= {"jar-calcium", "jar-calcium-d3", "jar-multivitamin", "jar-retinol"}, str(jars))


def checks():
    yield "a rota from a file", plans
    yield "a rota of the book", plans_the_book
    yield "what is short and what helps", names_what_is_short
    yield "rota files that are wrong", refuses
