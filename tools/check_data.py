#!/usr/bin/env python3
"""Checks the tables in data/ against docs/sources.bib.

Use it after every edit of data/species.csv, species_facts.csv, care_intervals.csv, care_rules.csv,
materials.csv, mains.csv, foods.csv, unsuitable_foods.csv or of docs/sources.bib. It refuses rows without provenance, words outside the vocabularies and values
that do not parse, lie outside physical limits or contradict each other. It cannot tell whether a
number is right. Other files in data/ are not read.

    tools/check_data.py                 check the tree this script stands in
    tools/check_data.py --root DIR      check another tree
    tools/check_data.py --self-test     plant one defect per rule in a copy; each must be found

Prints one line per defect, "file:line: text", then "data: N rows checked".
Exit 0: no defects. 1: defects, or a rule that did not fire in the self-test. 2: wrong usage.
Limits without a source here are plausibility bounds of our own: wide, meant to catch slips.
"""

import argparse
import csv
import pathlib
import re
import shutil
import sys
import tempfile

STATUSES = {"verified", "verified secondary", "derived", "proxy", "from memory", "common practice"}
NO_SOURCE = "common practice, no source"
GROUPS = {"snake", "lizard", "chelonian", "frog", "salamander"}
ACTIVITIES = {"diurnal", "nocturnal", "crepuscular", "cathemeral"}
DIET_CLASSES = {
    "whole_prey", "whole_prey_fish_worm", "insectivore", "insectivore_vertebrate", "insectivore_worm",
    "frugivore_insectivore", "omnivore", "omnivore_frugivore", "omnivore_aquatic", "herbivore",
    "carnivore_aquatic", "microfauna"}
TASKS = {
    "water", "spot_clean", "full_clean", "misting", "weighing", "shed_check", "uv_reading", "jar_age",
    "quarantine_mite_check", "quarantine_faecal_test", "thermostat_test", "smoke_alarm_test",
    "cord_check"}
SITUATIONS = {"any", "quarantine", "juvenile", "brumation", "observation", "humid", "in_shed"}

# Ferguson zone -> average and maximum UV index. Ferguson et al. 2010 as tabulated by Baines et al. 2016.
ZONES = {1: ((0, 0.7), (0.6, 1.4)), 2: ((0.7, 1.0), (1.1, 3.0)),
         3: ((1.0, 2.6), (2.9, 7.4)), 4: ((2.6, 3.5), (4.5, 9.5))}


def span(unit, low, high):
    """A range "a..b", low <= high, both ends inside low..high."""
    return ("span", unit, low, high)


def one(unit, low, high):
    """One quantity, inside low..high."""
    return ("one", unit, low, high)


def words(*allowed):
    return ("words", allowed)


TEXT = ("text",)
TEMPERATURE = ("C", -5, 70)
MASS = ("g", 0.1, 500_000)
SHARE = ("%", 0, 100)

# key: (kind, whether every species must have it)
FACT_KEYS = {
    "basking_surface": (span(*TEMPERATURE), False),
    "warm_side_air": (span(*TEMPERATURE), True),
    "cool_side": (span(*TEMPERATURE), True),
    "night": (span(*TEMPERATURE), True),
    "humidity": (span(*SHARE), True),
    "heat_alarm": (one(*TEMPERATURE), True),
    "cold_alarm": (one(*TEMPERATURE), True),
    "ferguson_zone": (words("1", "1-2", "2", "2-3", "3", "3-4", "4"), True),
    "uvi_gradient": (span("UVI", 0, 20), True),
    "uvi_max": (span("UVI", 0, 20), True),
    "photoperiod_summer": (one("h", 0, 24), True),
    "photoperiod_winter": (one("h", 0, 24), True),
    "native_latitude": (one("", -65, 65), True),
    "brumation": (words("none", "optional", "usual"), True),
    "brumation_temperature": (span(*TEMPERATURE), False),
    "brumation_length": (span("wk", 1, 52), False),
    "adult_mass": (span(*MASS), True),
    "open_data_max_mass": (one(*MASS), False),
    "feed_interval_adult": (one("d", 1, 60), True),
    "feed_interval_juvenile": (one("d", 1, 60), True),
    "feed_in_shed": (words("no", "yes"), True),
    "diet_class": (words(*sorted(DIET_CLASSES)), True),
    "meal_rule": (TEXT, True),
    "meal_share_adult": (span(*SHARE), True),
    "meal_share_juvenile": (span(*SHARE), True),
    "mass_loss_limit": (one("%", 1, 50), True),
    "weigh_interval": (one("d", 1, 365), True),
    "ct_min": (one(*TEMPERATURE), False),
    "ct_max": (one(*TEMPERATURE), False),
    "field_body_temperature": (one(*TEMPERATURE), False),
    "longevity_max_years": (one("", 0.5, 250), False),
    "min_enclosure": (TEXT, True),
    "quarantine_length": (one("d", 1, 365), True),
    "quarantine_tests": (TEXT, True),
    "notes": (TEXT, False),
}

DAYS = ("d", 0.1, 3650)
COUNT = one("", 1, 100)
RULES_OF_CARE = {
    "fast_loss_limit": one(*SHARE), "fast_loss_limit_small": one(*SHARE), "fast_loss_window": one(*DAYS),
    "slow_loss_limit": one(*SHARE), "mass_loss_window": one(*DAYS), "small_frog_mass": one(*MASS),
    "in_shed_believed": one(*DAYS), "grown_age": one(*DAYS), "reading_believed": one(*DAYS), "refusal_retry_share": one(*SHARE),
    "hatchling_age": one(*DAYS), "adult_share_of_mass": one(*SHARE), "early_notice_share": one(*SHARE),
    "intake_floor": one(*SHARE), "weighing_noise_lizard": span(*SHARE), "weighing_noise_snake": span(*SHARE),
    "weighing_noise_chelonian": span(*SHARE), "weighing_noise_frog": span(*SHARE),
    "regurgitation_pause": one(*DAYS), "regurgitation_prey_share": one(*SHARE),
    "regurgitation_referral_count": COUNT, "quarantine_zoo_minimum": one(*DAYS),
    "quarantine_boa_python": span(*DAYS), "quarantine_amphibian": span(*DAYS),
    "quarantine_amphibian_infection": span(*DAYS), "quarantine_restart": TEXT,
    "quarantine_reptile": span(*DAYS), "quarantine_faecal_spacing": span(*DAYS),
    "quarantine_mite_spacing": one(*DAYS), "quarantine_normal_meals": COUNT,
    "quarantine_steady_weighings": COUNT, "quarantine_result_shown": one(*DAYS),
    "quarantine_cryptosporidium_tests": COUNT, "quarantine_faecal_negatives": COUNT,
    "quarantine_mite_free_checks": COUNT, "quarantine_normal_sheds": COUNT, "uv_low_share": one(*SHARE),
    "lamp_life_t8": span(*DAYS), "lamp_life_t5": span(*DAYS), "lamp_life_compact": span(*DAYS),
    "lamp_life_mercury_vapour": span(*DAYS), "lamp_life_metal_halide": span(*DAYS),
    "lamp_burn_in": one("h", 1, 1000), "lamp_halving_time": one(*DAYS), "lamp_decay_time": one(*DAYS),
    "mesh_uv_loss": span(*SHARE), "brumation_loss_tortoise_month": one(*SHARE),
    "brumation_loss_tortoise_total": span(*SHARE), "brumation_loss_tortoise_young": one(*SHARE),
    "brumation_loss_snake": span(*SHARE), "brumation_loss_stop": one(*SHARE),
    "brumation_out_of_band": one("h", 1, 1000), "brumation_tortoise_best": span(*TEMPERATURE),
    "brumation_tortoise_accepted": span(*TEMPERATURE), "brumation_tortoise_ladder": TEXT,
    "brumation_ownership_wait": one(*DAYS), "brumation_fast_snake": span(*DAYS),
    "brumation_fast_tortoise_large": span(*DAYS), "brumation_fast_tortoise_small": span(*DAYS),
    "refrigerator_airing": one(*DAYS), "frozen_prey_temperature": one("C", -40, 0),
    "frozen_prey_best": one(*DAYS), "frozen_prey_limit": one(*DAYS), "thaw_temperature": one("C", 0, 10),
    "thawed_prey_use": one("h", 1, 240), "uneaten_prey_limit": span("h", 0.5, 48),
    "freezer_hold_full": one("h", 1, 240), "freezer_hold_half": one("h", 1, 240),
    "regurgitation_window": one(*DAYS), "regurgitation_kept_meals": COUNT, "settling_in": one(*DAYS),
    "meals_without_droppings_snake": COUNT, "meals_without_droppings": COUNT,
    "shed_interval_snake": one(*DAYS), "shed_interval_lizard": one(*DAYS),
    "in_shed_length_snake": one(*DAYS), "in_shed_length_lizard": one(*DAYS),
    "stuck_shed_referral": one(*DAYS), "light_tolerance": one("h", 0.1, 6),
    "light_step": one("min", 5, 120),
    "continuous_load_share": one(*SHARE), "continuous_load_time": one("h", 0.1, 24),
    "lamp_load_share": one(*SHARE), "hot_clearance": span("cm", 1, 300),
    "room_heater_clearance": one("m", 0.1, 5), "mat_substrate_depth": one("cm", 0.1, 100),
    "alarm_battery_life": one(*DAYS),
}
INTERVAL = one(*DAYS)

COLUMNS = {
    "species.csv": ["id", "common_name", "scientific_name", "group", "activity"],
    "species_facts.csv": ["species", "key", "value", "status", "source", "note"],
    "care_intervals.csv": ["task", "group", "situation", "interval", "status", "source", "note"],
    "care_rules.csv": ["rule", "value", "status", "source", "note"],
    "disinfectants.csv": ["ingredient", "names", "strength", "minutes", "works_on", "fails_on", "status",
                          "source", "note"],
    "disinfectant_care.csv": ["ingredient", "topic", "text", "hours", "status", "source", "note"],
    "mains.csv": ["country", "voltage_v", "voltage_high_pct", "continuous_share_pct", "continuous_h",
                  "residual_current_ma", "status", "source", "note"],
    "materials.csv": ["material", "density_kg_per_m3", "conductivity_w_per_m_k", "conductivity_low_w_per_m_k",
                      "conductivity_high_w_per_m_k", "heat_capacity_j_per_kg_k", "emissivity", "status", "source",
                      "note"],
    "unsuitable_foods.csv": ["words", "groups", "diet", "rule", "reason", "status", "source", "note"],
    "foods.csv": ["id", "name", "scientific_name", "kind", "stage", "water_pct", "energy_kcal_per_100g", "energy_basis",
                  "protein_pct", "fat_pct", "ash_pct", "composition_status", "composition_source",
                  "calcium_mg_per_kg", "phosphorus_mg_per_kg", "minerals_status", "minerals_source",
                  "retinol_iu_per_kg", "carotenoid_iu_per_kg", "vitamin_d3_iu_per_kg", "vitamins_status",
                  "vitamins_source", "oxalic_acid_g_per_100g", "oxalate_status", "oxalate_source", "goitrogenic",
                  "piece_mass_g", "piece_status", "piece_source", "note"],
}
# The groups of columns of foods.csv that share a status and a source, with wide bounds of our own.
FOOD_GROUPS = {
    "composition": {"water_pct": 100, "energy_kcal_per_100g": 900, "protein_pct": 100, "fat_pct": 100, "ash_pct": 100},
    "minerals": {"calcium_mg_per_kg": 400_000, "phosphorus_mg_per_kg": 100_000},
    "vitamins": {"retinol_iu_per_kg": 1e6, "carotenoid_iu_per_kg": 1e6, "vitamin_d3_iu_per_kg": 1e6},
    "oxalate": {"oxalic_acid_g_per_100g": 20},
    "piece": {"piece_mass_g": 100_000},
}
# Crude protein counts chitin too; the butterworm's printed parts make 105.9 %.
MOST_OF_ALL_PARTS = 107
# Wide bounds of our own for the columns of materials.csv.
MATERIAL_LIMITS = {
    "density_kg_per_m3": (1, 20000), "conductivity_w_per_m_k": (0.015, 60),
    "conductivity_low_w_per_m_k": (0.015, 60), "conductivity_high_w_per_m_k": (0.015, 60),
    "heat_capacity_j_per_kg_k": (300, 6000), "emissivity": (0.02, 1)}
# Columns of mains.csv: least, most, whether it may be empty. Wide bounds of our own.
MAINS_LIMITS = {
    "voltage_v": (90, 250, False), "voltage_high_pct": (1, 15, False), "continuous_share_pct": (50, 100, True),
    "continuous_h": (1, 24, True), "residual_current_ma": (4, 300, True)}
HEADER_FIELDS = ["origin: ", "licence: ", "date: ", "how made: "]

# Every rule this checker applies. The self-test fails when one of them has no planted defect.
RULES = {
    "file missing", "not plain text", "header block", "column line", "field count", "quoting", "stray blank",
    "bib entry", "provenance missing", "status unknown", "source key unknown", "source and status disagree",
    "proxy without relative", "species id", "species unknown", "group unknown", "activity unknown",
    "scientific name", "duplicate", "key unknown", "key missing", "rule missing", "task unknown",
    "situation unknown", "value unreadable", "word unknown", "text empty", "limits", "low over high",
    "night over basking", "cool over warm", "alarms crossed", "heat alarm inside range",
    "heat alarm over ct_max", "ct crossed", "photoperiod crossed", "brumation incomplete", "feeding crossed",
    "zone and index disagree", "snake fed in shed", "material name", "conductivity outside its spread", "food name", "values without provenance",
    "parts over the whole", "energy without basis", "disinfectant",
    "country", "continuous load incomplete"}


class Findings:
    def __init__(self):
        self.list = []  # (rule, file, line, text)
        self.rows = 0

    def add(self, rule, file, line, text):
        if rule not in RULES:
            raise AssertionError(f"rule not registered: {rule}")
        self.list.append((rule, file, line, text))


def numbers(kind, value):
    """The one or two numbers in a value of this kind, or None when it does not parse."""
    unit = re.escape(kind[1])
    quantity = rf"(-?[0-9]+(?:\.[0-9]+)?){unit}"
    pattern = quantity if kind[0] == "one" else rf"{quantity}\.\.{quantity}"
    match = re.fullmatch(pattern, value)
    return [float(x) for x in match.groups()] if match else None


def check_value(kind, value, where, findings, what):
    """Checks one value; returns its numbers, or None."""
    if kind[0] == "text":
        if not value:
            findings.add("text empty", *where, f"{what}: empty text")
        return None
    if kind[0] == "words":
        if value not in kind[1]:
            findings.add("word unknown", *where, f"{what}: \"{value}\" is not one of {', '.join(kind[1])}")
        return None
    found = numbers(kind, value)
    if found is None:
        unit = kind[1] or "a plain number"
        shape = "low..high with the unit on both ends" if kind[0] == "span" else "one quantity"
        findings.add("value unreadable", *where, f"{what}: \"{value}\" does not read as {shape}, unit {unit}")
        return None
    for number in found:
        if not kind[2] <= number <= kind[3]:
            findings.add("limits", *where, f"{what}: {value} is outside {kind[2]}..{kind[3]} {kind[1]}")
            break
    if found[0] > found[-1]:
        findings.add("low over high", *where, f"{what}: {value} runs from high to low")
    return found


def read_table(root, name, findings):
    """Rows of one file as (line, {column: text}). Header lines, shape and blanks are checked here."""
    path = root / "data" / name
    shown = f"data/{name}"
    if not path.is_file():
        findings.add("file missing", shown, 1, "no such file")
        return []
    raw = path.read_bytes()
    try:
        text = raw.decode("utf-8")
    except UnicodeDecodeError as error:
        findings.add("not plain text", shown, raw[:error.start].count(b"\n") + 1, "not UTF-8")
        return []
    if "\r" in text or not text.endswith("\n"):
        findings.add("not plain text", shown, 1, "lines must end with LF, the last one too")
        return []
    lines = text.split("\n")[:-1]
    start = 0
    while start < len(lines) and lines[start].startswith("# "):
        start += 1
    for field in HEADER_FIELDS:
        if not any(line.startswith("# " + field) and len(line) > len(field) + 2 for line in lines[:start]):
            findings.add("header block", shown, 1, f"no header line \"# {field}...\"")
    if start == len(lines) or lines[start] != ",".join(COLUMNS[name]):
        findings.add("column line", shown, start + 1, f"expected {','.join(COLUMNS[name])}")
        return []
    rows = []
    for at, line in enumerate(lines[start + 1:], start + 2):
        findings.rows += 1
        try:
            fields = next(csv.reader([line], strict=True), [])
        except csv.Error as error:
            findings.add("quoting", shown, at, f"quoting: {error}")
            continue
        if len(fields) != len(COLUMNS[name]):
            findings.add("field count", shown, at, f"{len(fields)} fields, expected {len(COLUMNS[name])}")
            continue
        if any(field != field.strip() for field in fields):
            findings.add("stray blank", shown, at, "a field begins or ends with a blank")
        rows.append((at, dict(zip(COLUMNS[name], fields))))
    return rows


def read_bib(root, findings):
    path = root / "docs" / "sources.bib"
    if not path.is_file():
        findings.add("file missing", "docs/sources.bib", 1, "no such file")
        return set()
    keys = set()
    for at, line in enumerate(path.read_text(encoding="utf-8").split("\n"), 1):
        if not line.startswith("@"):
            continue
        match = re.fullmatch(r"@[a-z]+\{([a-z0-9_]+),", line)
        if not match:
            findings.add("bib entry", "docs/sources.bib", at, f"does not begin an entry: {line}")
        elif match.group(1) in keys:
            findings.add("bib entry", "docs/sources.bib", at, f"second entry {match.group(1)}")
        else:
            keys.add(match.group(1))
    return keys


def check_provenance(row, where, bib, findings):
    status, source = row["status"], row["source"]
    if not status or not source:
        findings.add("provenance missing", *where, "status or source is empty")
        return
    if status not in STATUSES:
        findings.add("status unknown", *where, f"status \"{status}\" is not in the vocabulary")
    if (status == "common practice") != (source == NO_SOURCE):
        findings.add("source and status disagree", *where,
                     f"\"{NO_SOURCE}\" goes with common practice and with nothing else")
    if source != NO_SOURCE:
        for key in source.split("; "):
            if key not in bib:
                findings.add("source key unknown", *where, f"source \"{key}\" is not in docs/sources.bib")
    if status == "proxy" and "relative" not in row["note"]:
        findings.add("proxy without relative", *where, "a proxy must name the relative in its note")


def check_species(root, findings):
    """Species id -> (group, line)."""
    species = {}
    for line, row in read_table(root, "species.csv", findings):
        where = ("data/species.csv", line)
        if not re.fullmatch(r"[a-z][a-z0-9_]*", row["id"]) or not row["common_name"]:
            findings.add("species id", *where, f"id \"{row['id']}\" is not a snake_case word, or has no name")
        if row["id"] in species:
            findings.add("duplicate", *where, f"species {row['id']} a second time")
        if not re.match(r"[A-Z][a-z]+ [a-z]+", row["scientific_name"]):
            findings.add("scientific name", *where, f"\"{row['scientific_name']}\" is not genus and species")
        if row["group"] not in GROUPS:
            findings.add("group unknown", *where, f"group \"{row['group']}\"")
        if row["activity"] not in ACTIVITIES:
            findings.add("activity unknown", *where, f"activity \"{row['activity']}\"")
        species[row["id"]] = (row["group"], line)
    return species


def check_facts(root, species, bib, findings):
    file = "data/species_facts.csv"
    facts = {}  # species -> key -> (line, value text, numbers)
    for line, row in read_table(root, "species_facts.csv", findings):
        where = (file, line)
        name, key = row["species"], row["key"]
        check_provenance(row, where, bib, findings)
        if name not in species:
            findings.add("species unknown", *where, f"species \"{name}\" is not in data/species.csv")
        if key not in FACT_KEYS:
            findings.add("key unknown", *where, f"key \"{key}\"")
            continue
        if key in facts.get(name, {}):
            findings.add("duplicate", *where, f"{name} {key} a second time")
        found = check_value(FACT_KEYS[key][0], row["value"], where, findings, f"{name} {key}")
        facts.setdefault(name, {})[key] = (line, row["value"], found)
    for name, (group, line) in species.items():
        own = facts.get(name, {})
        for key, (_, needed) in FACT_KEYS.items():
            if needed and key not in own:
                findings.add("key missing", "data/species.csv", line, f"{name} has no {key} in species_facts.csv")
        check_one_species(name, group, own, file, findings)


def check_one_species(name, group, own, file, findings):
    """Rules between the facts of one species. Facts that are absent or unreadable are passed over."""

    def low(key):
        return own[key][2][0] if key in own and own[key][2] else None

    def high(key):
        return own[key][2][-1] if key in own and own[key][2] else None

    def text(key):
        return own[key][1] if key in own else None

    def at_most(rule, small, small_key, large, large_key, strictly=False):
        if small is None or large is None:
            return
        if small > large or (strictly and small == large):
            findings.add(rule, file, own[small_key][0],
                         f"{name}: {small_key} {text(small_key)} against {large_key} {text(large_key)}")

    at_most("night over basking", low("night"), "night", high("basking_surface"), "basking_surface")
    at_most("cool over warm", low("cool_side"), "cool_side", low("warm_side_air"), "warm_side_air")
    at_most("cool over warm", high("cool_side"), "cool_side", high("warm_side_air"), "warm_side_air")
    at_most("alarms crossed", low("cold_alarm"), "cold_alarm", low("heat_alarm"), "heat_alarm", strictly=True)
    at_most("heat alarm inside range", high("warm_side_air"), "warm_side_air", low("heat_alarm"), "heat_alarm")
    at_most("heat alarm over ct_max", low("heat_alarm"), "heat_alarm", low("ct_max"), "ct_max", strictly=True)
    at_most("ct crossed", low("ct_min"), "ct_min", low("ct_max"), "ct_max", strictly=True)
    at_most("photoperiod crossed", low("photoperiod_winter"), "photoperiod_winter",
            low("photoperiod_summer"), "photoperiod_summer")
    at_most("feeding crossed", low("feed_interval_juvenile"), "feed_interval_juvenile",
            low("feed_interval_adult"), "feed_interval_adult")

    if "brumation" in own:
        expected = text("brumation") != "none"
        for key in ("brumation_temperature", "brumation_length"):
            if (key in own) != expected:
                findings.add("brumation incomplete", file, own["brumation"][0],
                             f"{name}: brumation {text('brumation')}, but {key} is "
                             f"{'given' if key in own else 'absent'}")

    zone = text("ferguson_zone")
    if zone and re.fullmatch(r"[1-4](-[1-4])?", zone):
        first, last = ZONES[int(zone[0])], ZONES[int(zone[-1])]
        for index, key in enumerate(("uvi_gradient", "uvi_max")):
            if key in own and own[key][2] and own[key][2] != [first[index][0], last[index][1]]:
                findings.add("zone and index disagree", file, own[key][0],
                             f"{name}: {key} {text(key)} is not the band of zone {zone}")

    if group == "snake" and text("feed_in_shed") == "yes":
        findings.add("snake fed in shed", file, own["feed_in_shed"][0], f"{name}: a snake in shed is offered no food")


def check_intervals(root, bib, findings):
    seen = set()
    for line, row in read_table(root, "care_intervals.csv", findings):
        where = ("data/care_intervals.csv", line)
        check_provenance(row, where, bib, findings)
        if row["task"] not in TASKS:
            findings.add("task unknown", *where, f"task \"{row['task']}\"")
        if row["group"] not in GROUPS | {"any"}:
            findings.add("group unknown", *where, f"group \"{row['group']}\"")
        if row["situation"] not in SITUATIONS:
            findings.add("situation unknown", *where, f"situation \"{row['situation']}\"")
        name = (row["task"], row["group"], row["situation"])
        if name in seen:
            findings.add("duplicate", *where, f"{' '.join(name)} a second time")
        seen.add(name)
        check_value(INTERVAL, row["interval"], where, findings, " ".join(name))


def check_care_rules(root, bib, findings):
    seen = set()
    for line, row in read_table(root, "care_rules.csv", findings):
        where = ("data/care_rules.csv", line)
        check_provenance(row, where, bib, findings)
        rule = row["rule"]
        if rule not in RULES_OF_CARE:
            findings.add("key unknown", *where, f"rule \"{rule}\"")
            continue
        if rule in seen:
            findings.add("duplicate", *where, f"{rule} a second time")
        seen.add(rule)
        check_value(RULES_OF_CARE[rule], row["value"], where, findings, rule)
    for rule in sorted(set(RULES_OF_CARE) - seen):
        findings.add("rule missing", "data/care_rules.csv", 1, f"no row for {rule}")


def check_materials(root, bib, findings):
    file = "data/materials.csv"
    seen = set()
    for line, row in read_table(root, "materials.csv", findings):
        where = (file, line)
        name = row["material"]
        check_provenance(row, where, bib, findings)
        if not re.fullmatch(r"[a-z][a-z ]*", name):
            findings.add("material name", *where, f"\"{name}\" is not in small letters")
        if name in seen:
            findings.add("duplicate", *where, f"material {name} a second time")
        seen.add(name)
        found = {column: check_value(one("", *limits), row[column], where, findings, f"{name} {column}")
                 for column, limits in MATERIAL_LIMITS.items()}
        low, k, high = (found[f"conductivity_{part}w_per_m_k"] for part in ("low_", "", "high_"))
        if low and k and high and not low[0] <= k[0] <= high[0]:
            findings.add("conductivity outside its spread", *where, f"{name}: {low[0]}, {k[0]}, {high[0]}")


def check_mains(root, bib, findings):
    seen = set()
    for line, row in read_table(root, "mains.csv", findings):
        where = ("data/mains.csv", line)
        check_provenance(row, where, bib, findings)
        country = row["country"]
        if not re.fullmatch(r"[A-Z]{2}", country):
            findings.add("country", *where, f"\"{country}\" is not two capital letters of ISO 3166")
        if country in seen:
            findings.add("duplicate", *where, f"country {country} a second time")
        seen.add(country)
        for column, (low, high, empty) in MAINS_LIMITS.items():
            if row[column] or not empty:
                check_value(one("", low, high), row[column], where, findings, f"{country} {column}")
        if bool(row["continuous_share_pct"]) != bool(row["continuous_h"]):
            findings.add("continuous load incomplete", *where, "a share and the hours go together")


def check_disinfectants(root, bib, findings):
    file = "data/disinfectants.csv"
    organisms = {"bacteria", "enveloped viruses", "other viruses", "ranavirus", "Bd", "Bsal", "oocysts"}
    for line, row in read_table(root, "disinfectants.csv", findings):
        where = (file, line)
        check_provenance(row, where, bib, findings)
        if not re.fullmatch(r"[0-9]+(\.[0-9]+)?[%C]", row["strength"]):
            findings.add("disinfectant", *where, f"strength \"{row['strength']}\"")
        if not re.fullmatch(r"[1-9][0-9]*", row["minutes"]):
            findings.add("disinfectant", *where, f"minutes \"{row['minutes']}\"")
        works, fails = (set(filter(None, row[column].split("; "))) for column in ("works_on", "fails_on"))
        if not works | fails or (works | fails) - organisms or works & fails:
            findings.add("disinfectant", *where, f"works on {works}, fails on {fails}")


def check_disinfectant_care(root, bib, findings):
    file = "data/disinfectant_care.csv"
    known = {row["ingredient"] for _, row in read_table(root, "disinfectants.csv", Findings())} | {"any"}
    topics = {"first", "mix", "keeps", "after", "never with", "people", "amphibians"}
    for line, row in read_table(root, "disinfectant_care.csv", findings):
        where = (file, line)
        check_provenance(row, where, bib, findings)
        if row["ingredient"] not in known:
            findings.add("disinfectant", *where, f"ingredient \"{row['ingredient']}\"")
        if row["topic"] not in topics:
            findings.add("word unknown", *where, f"topic \"{row['topic']}\"")
        if not row["text"]:
            findings.add("text empty", *where, "no text")
        if row["hours"] and (row["topic"] != "keeps" or not re.fullmatch(r"[1-9][0-9]*", row["hours"])):
            findings.add("disinfectant", *where, f"hours \"{row['hours']}\"")


def food_amount(value):
    """Low and high of "407", "407..434" or "<256"; None when it does not read."""
    match = re.fullmatch(r"(?:(<)?([0-9]+(?:\.[0-9]+)?)|([0-9]+(?:\.[0-9]+)?)\.\.([0-9]+(?:\.[0-9]+)?))", value)
    if not match:
        return None
    below, single, low, high = match.groups()
    return (0.0 if below else float(single), float(single)) if single else (float(low), float(high))


def check_food(row, where, bib, findings):
    low = {}
    for group, limits in FOOD_GROUPS.items():
        given = [column for column in limits if row[column]]
        status, source = row[f"{group}_status"], row[f"{group}_source"]
        if given:
            check_provenance({"status": status, "source": source, "note": row["note"]}, where, bib, findings)
        elif status or source:
            findings.add("values without provenance", *where, f"{group} has a status or source but no value")
        for column in given:
            amount = food_amount(row[column])
            if amount is None:
                findings.add("value unreadable", *where, f"{column}: \"{row[column]}\" is no amount")
                continue
            low[column] = amount[0]
            if amount[0] > amount[1]:
                findings.add("low over high", *where, f"{column}: {row[column]}")
            if amount[1] > limits[column]:
                findings.add("limits", *where, f"{column}: {row[column]} is over {limits[column]}")
    parts = sum(low.get(column, 0) for column in ("water_pct", "protein_pct", "fat_pct", "ash_pct"))
    if parts > MOST_OF_ALL_PARTS:
        findings.add("parts over the whole", *where, f"water, protein, fat and ash make {parts:.1f} %")
    if bool(row["energy_kcal_per_100g"]) != bool(row["energy_basis"]):
        findings.add("energy without basis", *where, "an energy and its basis go together")


def check_foods(root, bib, findings):
    seen = set()
    for line, row in read_table(root, "foods.csv", findings):
        where = ("data/foods.csv", line)
        if not re.fullmatch(r"[a-z][a-z0-9_]*", row["id"]) or not row["name"]:
            findings.add("food name", *where, f"id \"{row['id']}\" is not a snake_case word, or has no name")
        if row["id"] in seen:
            findings.add("duplicate", *where, f"food {row['id']} a second time")
        seen.add(row["id"])
        for column, allowed in (("kind", ("invertebrate", "vertebrate", "plant")), ("goitrogenic", ("yes", "no")),
                                ("energy_basis", ("", "published", "factors", "human"))):
            if row[column] not in allowed:
                findings.add("word unknown", *where, f"{column}: \"{row[column]}\"")
        check_food(row, where, bib, findings)


def check_unsuitable_foods(root, bib, findings):
    seen = set()
    for line, row in read_table(root, "unsuitable_foods.csv", findings):
        where = ("data/unsuitable_foods.csv", line)
        if not re.fullmatch(r"[a-z]+( [a-z]+)*", row["words"]):
            findings.add("food name", *where, f"\"{row['words']}\" is not small words")
        if row["words"] in seen:
            findings.add("duplicate", *where, f"{row['words']} a second time")
        seen.add(row["words"])
        for group in row["groups"].split("; "):
            if group not in GROUPS | {"any"}:
                findings.add("group unknown", *where, f"\"{group}\"")
        for column, allowed in (("diet", ("any", "carnivore", "omnivore", "herbivore")),
                                ("rule", ("never", "not_staple"))):
            if row[column] not in allowed:
                findings.add("word unknown", *where, f"{column}: \"{row[column]}\"")
        if not row["reason"]:
            findings.add("text empty", *where, "no reason")
        check_provenance(row, where, bib, findings)


def check(root):
    findings = Findings()
    bib = read_bib(root, findings)
    species = check_species(root, findings)
    check_facts(root, species, bib, findings)
    check_materials(root, bib, findings)
    check_foods(root, bib, findings)
    check_mains(root, bib, findings)
    check_disinfectants(root, bib, findings)
    check_disinfectant_care(root, bib, findings)
    check_unsuitable_foods(root, bib, findings)
    check_intervals(root, bib, findings)
    check_care_rules(root, bib, findings)
    return findings


# ---- self-test ------------------------------------------------------------------------------------

def plants():
    """(rule, file, function on its text). Each function plants one defect and nothing else."""
    facts, kinds, intervals, rules = "species_facts.csv", "species.csv", "care_intervals.csv", "care_rules.csv"

    def fact(key, value, species="garter_snake", column=2):
        return row(facts, (species, key), column, value)

    def row(name, start, column, value):
        """Sets one column of the first row whose first fields are start."""
        def edit(text):
            lines = text.split("\n")
            for at, line in enumerate(lines):
                if line.startswith("#") or not line:
                    continue
                fields = next(csv.reader([line]))
                if tuple(fields[:len(start)]) == tuple(start):
                    fields[column] = value
                    lines[at] = ",".join(f'"{x}"' if "," in x else x for x in fields)
                    return "\n".join(lines)
            raise AssertionError(f"no row {start} in {name}")
        return name, edit

    def drop(name, start):
        def edit(text):
            kept = [line for line in text.split("\n") if not line.startswith(start)]
            return "\n".join(kept)
        return name, edit

    def twice(name, start):
        def edit(text):
            line = next(x for x in text.split("\n") if x.startswith(start))
            return text + line + "\n"
        return name, edit

    def swap(name, old, new):
        def edit(text):
            assert old in text, f"{old} is not in {name}"
            return text.replace(old, new, 1)
        return name, edit

    def end(name, line):
        return name, lambda text: text + line + "\n"

    yield "file missing", rules, None
    yield "file missing", "sources.bib", None
    yield "not plain text", *swap(kinds, "\n", "\r\n")
    yield "not plain text", kinds, lambda text: text.rstrip("\n")
    yield "not plain text", kinds, lambda text: text.encode("utf-8") + b"\xff\n"
    for field in HEADER_FIELDS:
        yield "header block", *drop(facts, "# " + field)
    yield "column line", *swap(facts, "species,key,value", "species,value,key")
    yield "field count", *end(facts, "garter_snake,notes,too short")
    yield "quoting", *end(rules, 'hatchling_age,"90d"x,common practice,,')
    yield "stray blank", *fact("meal_rule", " prey")
    yield "bib entry", "sources.bib", lambda text: text + "@misc{Two Words,\n}\n"
    yield "bib entry", "sources.bib", lambda text: text + "@misc{anage,\n}\n"
    for name, start in ((facts, ("garter_snake", "night")), (intervals, ("water",)), (rules, ("hatchling_age",))):
        width = len(COLUMNS[name])
        yield "provenance missing", *row(name, start, width - 3, "")
        yield "provenance missing", *row(name, start, width - 2, "")
        yield "status unknown", *row(name, start, width - 3, "certain")
    yield "source key unknown", *fact("uvi_max", "nobody1999", column=4)
    yield "source key unknown", *fact("uvi_max", "ferguson2010; nobody1999", column=4)
    yield "source and status disagree", *fact("night", "verified", column=3)
    yield "source and status disagree", *fact("night", "baines2016", column=4)
    yield "proxy without relative", *fact("ct_max", "unsaid", species="corn_snake", column=5)
    yield "species id", *row(kinds, ("garter_snake",), 1, "")
    yield "species id", *end(kinds, "Bad Id,Name,Genus species,frog,diurnal")
    yield "species unknown", *fact("night", "dragon", column=0)
    yield "group unknown", *row(kinds, ("garter_snake",), 3, "bird")
    yield "group unknown", *row(intervals, ("water",), 1, "bird")
    yield "activity unknown", *row(kinds, ("garter_snake",), 4, "sleepy")
    yield "scientific name", *row(kinds, ("garter_snake",), 2, "thamnophis")
    yield "duplicate", *twice(kinds, "garter_snake,")
    yield "duplicate", *twice(facts, "garter_snake,night,")
    yield "duplicate", *twice(intervals, "water,any,any,")
    yield "duplicate", *twice(rules, "hatchling_age,")
    yield "key unknown", *fact("notes", "colour", column=1)
    yield "key unknown", *row(rules, ("hatchling_age",), 0, "colour")
    yield "key missing", *drop(facts, "garter_snake,night,")
    yield "rule missing", *drop(rules, "hatchling_age,")
    yield "task unknown", *row(intervals, ("water",), 0, "dance")
    yield "situation unknown", *row(intervals, ("water",), 2, "sunday")
    for value in ("", "15..20", "15C", "15F..20F", "15C..", "15C...20C", "1e1C..20C", "nanC..20C", "15 C..20 C"):
        yield "value unreadable", *fact("night", value)
    yield "value unreadable", *fact("heat_alarm", "34C..36C")
    yield "value unreadable", *fact("longevity_max_years", "20y")
    yield "value unreadable", *row(intervals, ("water",), 3, "1")
    yield "value unreadable", *row(rules, ("hatchling_age",), 1, "90")
    yield "word unknown", *fact("feed_in_shed", "maybe")
    yield "word unknown", *fact("ferguson_zone", "5")
    yield "word unknown", *fact("diet_class", "cake")
    yield "text empty", *fact("quarantine_tests", "")
    yield "limits", *fact("basking_surface", "30C..71C")
    yield "limits", *fact("night", "-6C..20C")
    yield "limits", *fact("humidity", "40%..101%")
    yield "limits", *fact("adult_mass", "0g..250g")
    yield "limits", *fact("photoperiod_summer", "25h")
    yield "limits", *fact("native_latitude", "66")
    yield "limits", *row(intervals, ("water",), 3, "0d")
    yield "limits", *row(rules, ("uv_low_share",), 1, "170%")
    yield "low over high", *fact("humidity", "70%..40%")
    yield "night over basking", *fact("night", "35C..36C")
    yield "cool over warm", *fact("cool_side", "18C..30C")
    yield "cool over warm", *fact("cool_side", "26C..28C")
    yield "alarms crossed", *fact("cold_alarm", "35C")
    yield "heat alarm inside range", *fact("heat_alarm", "28C")
    yield "heat alarm over ct_max", *fact("heat_alarm", "39C")
    yield "ct crossed", *fact("ct_min", "38.9C")
    yield "photoperiod crossed", *fact("photoperiod_winter", "15h")
    yield "brumation incomplete", *fact("brumation", "none")
    yield "brumation incomplete", *drop(facts, "garter_snake,brumation_length,")
    yield "feeding crossed", *fact("feed_interval_juvenile", "7d")
    yield "zone and index disagree", *fact("uvi_max", "1.1UVI..3.1UVI")
    yield "zone and index disagree", *fact("ferguson_zone", "3")
    yield "snake fed in shed", *fact("feed_in_shed", "yes")
    poisons = "disinfectants.csv"
    yield "disinfectant", *row(poisons, ("sodium hypochlorite",), 2, "0.1")
    yield "disinfectant", *row(poisons, ("sodium hypochlorite",), 3, "0")
    yield "disinfectant", *row(poisons, ("sodium hypochlorite",), 4, "gremlins")
    handling = "disinfectant_care.csv"
    yield "disinfectant", *row(handling, ("sodium hypochlorite", "keeps"), 0, "gremlin oil")
    yield "disinfectant", *row(handling, ("sodium hypochlorite", "keeps"), 3, "a day")
    yield "disinfectant", *row(handling, ("sodium hypochlorite", "mix"), 3, "24")
    yield "word unknown", *row(handling, ("ammonia", "people"), 1, "pets")
    yield "text empty", *row(handling, ("ammonia", "people"), 2, "")
    yield "source and status disagree", *row(handling, ("ammonia", "people"), 4, "verified")
    materials = "materials.csv"
    yield "material name", *row(materials, ("cork",), 0, "Cork")
    yield "conductivity outside its spread", *row(materials, ("cork",), 2, "0.09")
    yield "limits", *row(materials, ("cork",), 2, "65")
    yield "value unreadable", *row(materials, ("cork",), 1, "light")
    yield "duplicate", *twice(materials, "cork,")
    yield "source key unknown", *row(materials, ("cork",), 8, "nobody1999")

    mains = "mains.csv"
    yield "country", *row(mains, ("NO",), 0, "Norway")
    yield "duplicate", *twice(mains, "NO,")
    yield "value unreadable", *row(mains, ("NO",), 1, "")
    yield "limits", *row(mains, ("US",), 1, "12")
    yield "limits", *row(mains, ("US",), 3, "125")
    yield "continuous load incomplete", *row(mains, ("US",), 4, "")
    yield "provenance missing", *row(mains, ("US",), 6, "")
    yield "source key unknown", *row(mains, ("US",), 7, "nobody1999")

    bad = "unsuitable_foods.csv"
    yield "food name", *row(bad, ("avocado",), 0, "Avocado")
    yield "duplicate", *twice(bad, "avocado,")
    yield "group unknown", *row(bad, ("avocado",), 1, "snake; fish")
    yield "word unknown", *row(bad, ("avocado",), 2, "vegan")
    yield "word unknown", *row(bad, ("avocado",), 3, "seldom")
    yield "text empty", *row(bad, ("avocado",), 4, "")
    yield "provenance missing", *row(bad, ("avocado",), 5, "")
    yield "source key unknown", *row(bad, ("firefly",), 6, "nobody1999")

    def cricket(column, value):
        return row("foods.csv", ("cricket_house_adult",), COLUMNS["foods.csv"].index(column), value)

    yield "food name", *cricket("id", "House cricket")
    yield "food name", *cricket("name", "")
    yield "duplicate", *twice("foods.csv", "mealworm,")
    yield "word unknown", *cricket("kind", "insect")
    yield "word unknown", *cricket("goitrogenic", "")
    yield "word unknown", *cricket("energy_basis", "guess")
    yield "energy without basis", *cricket("energy_basis", "")
    for value in ("-1", "1e3", "407..", "< 5", "nan", "5..<6"):
        yield "value unreadable", *cricket("calcium_mg_per_kg", value)
    yield "low over high", *cricket("calcium_mg_per_kg", "434..407")
    yield "limits", *cricket("water_pct", "101")
    yield "parts over the whole", *cricket("water_pct", "90")
    yield "values without provenance", *cricket("piece_mass_g", "")
    yield "provenance missing", *cricket("minerals_status", "")
    yield "source key unknown", *cricket("minerals_source", "nobody1999")
    yield "source and status disagree", *cricket("minerals_status", "common practice")
    yield "proxy without relative", *row("foods.csv", ("fruitfly_hydei",), len(COLUMNS["foods.csv"]) - 1, "")


def self_test(root):
    failures = []
    clean = check(root)
    if clean.list:
        failures.append("the tree has defects of its own: run without --self-test first")
    fired, count = set(), 0
    for rule, name, edit in plants():
        count += 1
        with tempfile.TemporaryDirectory() as place:
            copy = pathlib.Path(place)
            for part in ("data", "docs"):
                (copy / part).mkdir()
            for table in COLUMNS:
                shutil.copy(root / "data" / table, copy / "data")
            shutil.copy(root / "docs" / "sources.bib", copy / "docs")
            path = copy / ("docs" if name.endswith(".bib") else "data") / name
            if edit is None:
                path.unlink()
            else:
                changed = edit(path.read_text(encoding="utf-8"))
                path.write_bytes(changed if isinstance(changed, bytes) else changed.encode("utf-8"))
            found = {item[0] for item in check(copy).list}
        if rule in found:
            fired.add(rule)
        else:
            failures.append(f"planted \"{rule}\" in {name} (plant {count}) and it was not found")
    for rule in sorted(RULES - fired):
        failures.append(f"rule \"{rule}\" has not been shown to fire")
    for failure in failures:
        print(f"self-test: {failure}")
    print(f"self-test: {count} defects planted, {len(fired)} of {len(RULES)} rules fired")
    return 1 if failures else 0


def main():
    parser = argparse.ArgumentParser(description="Checks the care tables in data/.")
    parser.add_argument("--root", type=pathlib.Path, default=pathlib.Path(__file__).resolve().parent.parent)
    parser.add_argument("--self-test", action="store_true", help="plant one defect per rule in a copy")
    options = parser.parse_args()
    if options.self_test:
        return self_test(options.root)
    findings = check(options.root)
    for _, file, line, text in findings.list:
        print(f"{file}:{line}: {text}")
    print(f"data: {findings.rows} rows checked")
    return 1 if findings.list else 0


if __name__ == "__main__":
    sys.exit(main())
