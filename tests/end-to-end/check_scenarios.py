"""Text scenarios: a room file, a notebook, and what the round of some days must and must not say.

scenarios/NAME/scenario.toml holds `why` (one sentence), `source`, and one [[day]] for each day
that is looked at, with its `date` and any of:

  order        the stops, enclosure by enclosure, without the preparation
  finding      {when, subject, module, headline, evidence, advice}: one that must be there
  no_finding   the same: none may be there
  finding_count  {..., count}: exactly so many
  task, no_task, task_count   {stop, task, animal, due, late_days, title, detail, reason, no_detail}
  ahead        a task of the coming days
  class        {stop, is}    before  {stop, has} or {stop, has_no}    animals  {stop, are}
  caution, no_caution
  quarantine   {animal, has}: what the animal's page says of its quarantine; {animal, none = true}
  sign, no_sign  {animal, response, says, evidence, advice}: what the models of health say on the
               animal's page

Texts of people (headline, says, evidence, advice, title, detail, reason, has, caution) are regular
expressions that must be found in them; the rest is compared. A key that is not given matches all.
`known_gap` says why the program does not do this yet; the scenario is then printed as skipped, and
fails once it holds.
"""

import re
import tomllib

from harness import HERE, Failure, KnownGap, expect, expect_equal

PATTERNS = {"headline", "says", "evidence", "advice", "title", "detail", "reason"}
DAY_KEYS = {"date", "order", "finding", "no_finding", "finding_count", "task", "no_task",
            "task_count", "ahead", "class", "before", "animals", "caution", "no_caution",
            "quarantine", "sign", "no_sign"}


def matches(wanted, thing):
    for key, value in wanted.items():
        if key == "count":
            continue
        if key == "no_detail":
            if re.search(value, thing["detail"]):
                return False
        elif key in PATTERNS:
            if not re.search(value, thing[key]):
                return False
        elif thing[key] != (value.isoformat() if key == "due" else value):
            return False
    return True


def check_day(day, today):
    expect(set(day) <= DAY_KEYS, f"unknown keys: {set(day) - DAY_KEYS}")
    at = f"{day['date']}"
    tasks = [{**task, "stop": stop["enclosure"] or "preparation"}
             for stop in today["round"] for task in stop["tasks"]]
    stops = {stop["enclosure"] or "preparation": stop for stop in today["round"]}
    places = {"finding": today["findings"], "task": tasks, "ahead": today["ahead"]}
    for name, things in places.items():
        shown = "\n".join(f"  {thing}" for thing in things)
        for wanted in day.get(name, []):
            expect(any(matches(wanted, t) for t in things), f"{at}: no {name} {wanted} in\n{shown}")
        for unwanted in day.get("no_" + name, []):
            there = [t for t in things if matches(unwanted, t)]
            expect(not there, f"{at}: unwanted {name} {unwanted}: {there}")
        for wanted in day.get(name + "_count", []):
            expect_equal(sum(matches(wanted, t) for t in things), wanted["count"],
                         f"{at}: number of {name} {wanted}")
    if "order" in day:
        expect_equal([s["enclosure"] for s in today["round"] if s["enclosure"]], day["order"],
                     f"{at}: the order of stops")
    for wanted in day.get("class", []):
        expect_equal(stops[wanted["stop"]]["class"], wanted["is"], f"{at}: class of {wanted}")
    for wanted in day.get("animals", []):
        expect_equal(stops[wanted["stop"]]["animals"], wanted["are"], f"{at}: animals at {wanted}")
    for wanted in day.get("before", []):
        steps = stops[wanted["stop"]]["before"]
        found = any(re.search(wanted.get("has") or wanted["has_no"], step) for step in steps)
        expect(found == ("has" in wanted), f"{at}: before {wanted}: {steps}")
    for pattern in day.get("caution", []):
        expect(any(re.search(pattern, c) for c in today["cautions"]), f"{at}: caution {pattern}")
    for pattern in day.get("no_caution", []):
        expect(not any(re.search(pattern, c) for c in today["cautions"]), f"{at}: {pattern}")


def check_pages(bench, day):
    """What the pages of animals say of their quarantine and their signs."""
    def page(animal):
        words = ("animal", "--book", "room.db", animal, "--date", day["date"])
        text = " ".join(bench.run(*words).out.split())
        return bench.json("animal", *words), text

    for wanted in day.get("quarantine", []):
        document, text = page(wanted["animal"])
        found = document["quarantine"]
        at = f"{day['date']}: quarantine of {wanted['animal']}: {found}"
        if wanted.get("none"):
            expect(found is None, at)
        else:
            expect(found is not None and re.search(wanted["has"], found["says"]), at)
            expect(text.find("Quarantine") >= 0, at)
    for name in ("sign", "no_sign"):
        for wanted in day.get(name, []):
            document, text = page(wanted["animal"])
            asked = {key: value for key, value in wanted.items() if key != "animal"}
            there = [sign for sign in document["signs"] if matches(asked, sign)]
            shown = "\n".join(f"  {sign}" for sign in document["signs"])
            at = f"{day['date']}: {name} {wanted} in\n{shown}"
            expect(bool(there) == (name == "sign"), at)
            expect(all(text.find(f"It {sign['says']}: {sign['response']}.") >= 0
                       for sign in there), f"{at}\nis not on the page for people:\n{text}")


def run_scenario(folder):
    def check(bench):
        scenario = tomllib.loads((folder / "scenario.toml").read_text(encoding="utf-8"))
        try:
            look(bench, scenario)
        except Failure:
            if "known_gap" not in scenario:
                raise
            raise KnownGap(scenario["known_gap"]) from None
        expect("known_gap" not in scenario, "it holds now: take known_gap out of its scenario.toml")

    def look(bench, scenario):
        expect(scenario["why"] and scenario["source"] and scenario["day"], "why, source and days")
        notebook = next(p for p in folder.iterdir() if p.name.startswith("notebook."))
        bench.run("import", "--book", "room.db", folder / "room.toml", notebook)
        for day in scenario["day"]:
            today = bench.json("today", "today", "--book", "room.db", "--date", day["date"])
            expect_equal(today["date"], day["date"].isoformat(), "date")
            check_day(day, today)
            bench.run("today", "--book", "room.db", "--date", day["date"])
            check_pages(bench, day)
        bench.run("verify", "--book", "room.db")
    return check


def checks():
    for folder in sorted((HERE / "scenarios").iterdir()):
        yield f"scenario {folder.name}", run_scenario(folder)
