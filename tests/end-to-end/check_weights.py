"""`warmside health weights`: series made up for the check, bad files and weighings that cannot be."""

import random

from harness import expect, expect_words


def series(bench, name, rows):
    path = bench.folder / name
    path.write_text("animal,time,mass_g\n" + "".join(f"{a},{t},{m}\n" for a, t, m in rows))
    return str(path)


def month(i):
    return f"{2025 + (i // 12)}-{i % 12 + 1:02}-05"


def judged(bench, rows):
    answer = bench.json("health_weights", "health", "weights", series(bench, "w.csv", rows))
    return {animal["animal"]: animal for animal in answer["animals"]}


def verdicts(bench):
    chance = random.Random(3)
    rows = []
    for i in range(18):
        noise = lambda: 1 + chance.gauss(0, 0.01)
        rows.append(("steady", month(i), round(812 * noise(), 1)))
        rows.append(("slipping", month(i), round(640 * noise() * (1 if i < 13 else 0.975 ** (i - 12)), 1)))
        rows.append(("lost", month(i), round(500 * noise() * (1 if i < 12 else 0.94 ** (i - 11)), 1)))
        rows.append(("growing", month(i), round(100 * 1.06 ** i * noise(), 1)))
    rows += [("new", month(0), 50), ("new", month(1), 51)]
    found = judged(bench, rows)
    for name, verdict in (("steady", "steady"), ("slipping", "slipping"), ("lost", "much lost"),
                          ("growing", "gaining"), ("new", "too few weighings")):
        expect(found[name]["verdict"] == verdict, f"{name}: {found[name]}")
    expect("2025-09" < found["lost"]["since"] < "2026-02", str(found["lost"]))
    expect(found["lost"]["p_loss_over_10pct"] > 0.95, str(found["lost"]))
    steady = found["steady"]
    expect(steady["mass_lo_g"] < 812 < steady["mass_hi_g"], str(steady))
    expect(steady["not_believed"] == [], str(steady))


def slips(bench):
    rows = [("moss", month(i), 350) for i in range(8)]
    rows[4] = ("moss", month(4), 35.0)
    rows += [("fern", month(i), 40) for i in range(5)] + [("fern", month(5), 0), ("fern", month(6), -3)]
    rows += [("reed", "2025-01-05T08:00:00Z", 100), ("reed", "2025-01-05T08:00:20Z", 120),
             ("reed", "2025-02-05T08:00:00Z", 101)]
    # Two that agree believe each other: it really is a tenth now.
    rows += [("stem", month(i), 400 if i < 6 else 40) for i in range(8)]
    found = judged(bench, rows)
    (moss,) = found["moss"]["not_believed"]
    expect(moss["line"] == 6 and "a tenth" in moss["why"], str(moss))
    expect(abs(found["moss"]["mass_g"] - 350) < 5, str(found["moss"]))
    expect([one["why"] for one in found["fern"]["not_believed"]] == ["not a mass"] * 2, str(found["fern"]))
    expect(len(found["reed"]["not_believed"]) == 2, str(found["reed"]))
    expect(found["stem"]["not_believed"] == [] and found["stem"]["verdict"] == "much lost", str(found["stem"]))


def bad_files(bench):
    for text, words in (("", "column"), ("animal,time\n", "mass_g"), ("animal,time,mass_g\n", "no weighing"),
                        ("animal,time,mass_g\na,2025-13-01,5\n", "time"),
                        ("animal,time,mass_g\na,2025-01-01,heavy\n", "number"),
                        ("animal,time,mass_g\na,2025-01-01\n", "too short"),
                        ("animal,time,mass_g\n,2025-01-01,5\n", "name")):
        path = bench.folder / "bad.csv"
        path.write_text(text)
        expect_words(bench.run("health", "weights", str(path), code=1).err, [words], text)
    bench.run("health", "weights", str(bench.folder / "none.csv"), code=1)


def page(bench):
    rows = [("lost", month(i), 500 if i < 8 else 400) for i in range(12)]
    rows += [("steady", month(i), 800 + i % 3) for i in range(12)]
    out = bench.run("health", "weights", series(bench, "w.csv", rows)).out
    expect_words(out, ["lost: much lost", "steady: steady", "not a diagnosis", "veterinarian"], out)
    expect(out.index("lost:") < out.index("steady:"), out)


def checks():
    for check in (verdicts, slips, bad_files, page):
        yield f"weights: {check.__name__.replace('_', ' ')}", check
