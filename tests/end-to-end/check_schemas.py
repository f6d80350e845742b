"""The JSON Schemas themselves: sound, strict, explained, and the same where they say the same."""

import json

from harness import SCHEMAS, expect, expect_equal, validator

NAMES = ("animal", "calc_air", "calc_dechlorinate", "calc_dilute", "calc_energy", "calc_lamp", "calc_sun",
         "calc_uv", "climate_room", "climate_run", "climate_solve", "diet_rota", "disinfectant", "disinfectants", "enclosure",
         "food", "foods", "health_weights", "import", "jot", "light_plan", "power", "species", "species_list", "today",
         "tools", "trace",
         "verify")


def objects_in(node):
    """Every schema of an object in a schema."""
    if isinstance(node, dict):
        if node.get("type") == "object":
            yield node
        for value in node.values():
            yield from objects_in(value)
    elif isinstance(node, list):
        for value in node:
            yield from objects_in(value)


def all_there(_bench):
    expect_equal(sorted(p.name for p in SCHEMAS.glob("*.schema.json")),
                 sorted(f"{name}.schema.json" for name in NAMES), "schemas")
    for name in NAMES:
        validator(name)  # refuses a schema that is none


def strict_and_explained(_bench):
    for name in NAMES:
        schema = json.loads((SCHEMAS / f"{name}.schema.json").read_text(encoding="utf-8"))
        for node in objects_in(schema):
            if "properties" not in node:  # a map of names to values of one kind
                expect(isinstance(node["additionalProperties"], dict), f"{name}: a map of anything: {node}")
                continue
            expect(node["additionalProperties"] is False, f"{name}: more fields are allowed: {node}")
            for field, rule in node["properties"].items():
                expect(rule.get("description"), f"{name}: {field} has no description")


def shared_parts_agree(_bench):
    seen = {}
    for name in NAMES:
        schema = json.loads((SCHEMAS / f"{name}.schema.json").read_text(encoding="utf-8"))
        for part, rule in schema.get("$defs", {}).items():
            first, same = seen.setdefault(part, (name, rule))
            expect(rule == same, f"$defs/{part} differs between {first} and {name}")


def refuses_what_is_wrong(_bench):
    """A schema that lets anything through would make every other check empty."""
    good = {"ids": ["01960000-0000-7000-8000-000000000001"]}
    expect(validator("jot").is_valid(good), "a good answer is refused")
    for bad in ({}, {"ids": []}, {"ids": ["1"]}, {**good, "more": 1}, {"ids": good["ids"] * 2}):
        expect(not validator("jot").is_valid(bad), f"let through: {bad}")
    dilution = {"stock_ml": 1.5, "water_ml": 0}
    expect(validator("calc_dilute").is_valid(dilution), "a good answer is refused")
    for bad in ({"stock_ml": 0, "water_ml": 1}, {"stock_ml": "1", "water_ml": 1}, {"stock_ml": 1}):
        expect(not validator("calc_dilute").is_valid(bad), f"let through: {bad}")


def checks():
    yield "schemas all there", all_there
    yield "schemas strict and explained", strict_and_explained
    yield "schemas agree in what they share", shared_parts_agree
    yield "schemas refuse what is wrong", refuses_what_is_wrong
