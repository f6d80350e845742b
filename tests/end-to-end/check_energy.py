"""`warmside calc energy` against values computed outside the program.

Standard rates: 0.013 M^0.80 10^(0.038 T) mL O2/h (Andrews & Pough 1985, eq. 2, as quoted in
published code) at 20.1 J/mL; the amphibian form of Gillooly et al. 2001; 0.7 of the first for
chelonians. Field: 0.196 M^0.889 kJ/day (Nagy, Girard & Brown 1999; the factor from memory).
"""

import math

from harness import expect, expect_words


def energy(bench, group, mass, temperature):
    return bench.json("calc_energy", "calc", "energy", "--group", group, "--mass", mass, "--temp", temperature)


def standard_rates(bench):
    for group, mass, temperature, kj in (
            ("snake", "500g", "30C", 12.489), ("lizard", "50g", "25C", 1.278), ("lizard", "1kg", "86F", 21.745),
            ("chelonian", "1500g", "30C", 0.7 * 30.076), ("frog", "20g", "25C", 0.973),
            ("salamander", "20g", "15C", 0.498)):
        answer = energy(bench, group, mass, temperature)
        expect(abs(answer["standard_kj_per_day"] - kj) < 0.0006, f"{group}: {answer}, wanted {kj}")
        expect(answer["standard_low_kj_per_day"] < kj < answer["standard_high_kj_per_day"], answer)


def field_rates(bench):
    for mass_g, kj in ((5, 0.820), (50, 6.348), (500, 49.16)):
        answer = energy(bench, "lizard", f"{mass_g}g", "30C")
        expect(abs(answer["field_kj_per_day"] / kj - 1) < 5e-4, answer)
    for group in ("frog", "salamander"):
        answer = energy(bench, group, "20g", "20C")
        expect(answer["field_kj_per_day"] is None and answer["field_source"] is None, answer)


def a_kilogram_by_the_rule_of_thumb_is_10_kcal(bench):
    """Grams put into the rule would give 1778."""
    for mass in ("1kg", "1000g"):
        expect(math.isclose(energy(bench, "snake", mass, "30C")["veterinary_kj_per_day"], 41.84), mass)


def impossible(bench):
    for mass, temperature, word in (("0g", "30C", "mass"), ("501kg", "30C", "mass"), ("500", "30C", "--mass"),
                                    ("500g", "46C", "temperature"), ("500g", "-1C", "temperature"),
                                    ("500g", "30", "--temp"), ("500g", "5K", "temperature")):
        answer = bench.run("calc", "energy", "--group", "snake", "--mass", mass, "--temp", temperature, "--json", code=1)
        expect_words(answer.err, [word, "expected"], f"{mass} {temperature}")
        expect(answer.out == "", "something was printed", answer)
    bench.run("calc", "energy", "--group", "bird", "--mass", "50g", "--temp", "30C", code=2)


def page(bench):
    out = " ".join(bench.run("calc", "energy", "--group", "snake", "--mass", "500g", "--temp", "30C").out.split())
    expect_words(out, ["12.5 kJ a day", "49.2 kJ", "Andrews & Pough 1985", "own weight goes before"], "page")


def checks():
    for check in (standard_rates, field_rates, a_kilogram_by_the_rule_of_thumb_is_10_kcal, impossible, page):
        yield f"energy: {check.__name__.replace('_', ' ')}", check
