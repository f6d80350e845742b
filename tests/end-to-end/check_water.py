"""`warmside calc dechlorinate` against sums made outside the program.

2 S2O3(2-) + Cl2 -> S4O6(2-) + 2 Cl(-), seen on a public page: two moles of thiosulfate to one of
chlorine. 17/51.5 mg NH3 to a mg of NH2Cl, seen. Emerson et al. 1975: from memory.
"""

from harness import expect, expect_equal, expect_words

PENTAHYDRATE, ANHYDROUS, CHLORINE, AMMONIA, NITROGEN = 248.18, 158.11, 70.91, 17.031, 14.007


def water(bench, *arguments):
    return bench.json("calc_dechlorinate", "calc", "dechlorinate", *arguments)


def near(found, wanted, what, relative=2e-4):  # CHLORINE has four figures
    expect(abs(found - wanted) <= relative * wanted, f"{what}: expected {wanted}, found {found}")


def forty_litres(bench):
    """40 L at 1 mg/L need 280 mg, and 1 US gallon 3.785 times 7 mg."""
    near(water(bench, "--volume", "40L", "--chlorine", "1")["thiosulfate_pentahydrate_mg"], 280, "40 L")
    answer = water(bench, "--volume", "1gal", "--chlorine", "1")
    near(answer["thiosulfate_pentahydrate_mg"], 3.785411784 * 2 * PENTAHYDRATE / CHLORINE, "1 gal")
    near(answer["thiosulfate_anhydrous_mg"], 3.785411784 * 2 * ANHYDROUS / CHLORINE, "anhydrous")
    near(answer["pentahydrate_to_sulfur_mg"], 3.785411784 * PENTAHYDRATE / CHLORINE, "to sulfur")
    near(answer["pentahydrate_to_sulfate_mg"], 3.785411784 * PENTAHYDRATE / CHLORINE / 4, "to sulfate")
    expect_equal(answer["ammonia_mg_per_l"], 0, "ammonia from chlorine")
    expect_equal(answer["unionised"], None, "without pH")


def chloramine(bench):
    answer = water(bench, "--volume", "100L", "--chlorine", "0.2", "--chloramine", "2", "--ph", "7.5", "--temp", "18C")
    near(answer["chlorine_mg"], 220, "chlorine")
    near(answer["ammonia_mg_per_l"], 2 * AMMONIA / CHLORINE, "ammonia")
    near(answer["ammonia_nitrogen_mg_per_l"], 2 * NITROGEN / CHLORINE, "as N")
    free = answer["unionised"]
    # Derived: pKa 9.47, 1.07 %; printed to these figures.
    expect(abs(free["pka"] - 9.47) < 0.005 and abs(free["share_pct"] - 1.07) < 0.005, f"{free}")
    near(free["mg_per_l"], free["share_pct"] / 100 * answer["ammonia_mg_per_l"], "un-ionised", 1e-9)
    expect_equal(free["above_limit"], False, "0.005 mg/L")
    warm = water(bench, "--volume", "100L", "--chlorine", "0", "--chloramine", "2", "--ph", "8.5", "--temp", "77F")
    expect_equal(warm["unionised"]["above_limit"], True, f"{warm}")


def page(bench):
    out = " ".join(bench.run("calc", "dechlorinate", "--volume", "40L", "--chlorine", "0", "--chloramine", "3",
                             "--ph", "8.5", "--temp", "25C").out.split())
    expect_words(out, ["840 mg of sodium thiosulfate pentahydrate", "535 mg of the anhydrous", "0.72 mg/L",
                       "12 mL of it", "above 0.02 mg/L", "label goes first", "strips", "aerate", "veterinarian",
                       "from memory"], "page")


def impossible(bench):
    for arguments, field in (
            (("--volume", "0L", "--chlorine", "1"), "volume"), (("--volume", "40", "--chlorine", "1"), "--volume"),
            (("--volume", "40kg", "--chlorine", "1"), "--volume"), (("--volume", "40L", "--chlorine", "-1"), "chlorine"),
            (("--volume", "40L", "--chlorine", "21"), "chlorine"), (("--volume", "40L", "--chlorine", "nan"), "chlorine"),
            (("--volume", "40L", "--chlorine", "1", "--chloramine", "21"), "chloramine"),
            (("--volume", "40L", "--chlorine", "1", "--ph", "7"), "temp"),
            (("--volume", "40L", "--chlorine", "1", "--temp", "20C"), "ph"),
            (("--volume", "40L", "--chlorine", "1", "--ph", "12", "--temp", "20C"), "ph"),
            (("--volume", "40L", "--chlorine", "1", "--ph", "7", "--temp", "60C"), "temp"),
            (("--volume", "40L", "--chlorine", "1", "--ph", "7", "--temp", "20"), "--temp")):
        answer = bench.run("calc", "dechlorinate", *arguments, "--json", code=1)
        expect_words(answer.err, [field, "expected"], f"{arguments}")
        expect_equal(answer.out, "", f"{arguments}: standard output")
    for arguments in (("--volume", "40L"), ("--volume", "40L", "--chlorine", "much"),
                      ("--volume", "40L", "--chlorine", "1mg/L")):
        bench.run("calc", "dechlorinate", *arguments, code=2)


def disinfectants(bench):
    """The list, and each page of it in both forms; a page says what hurts."""
    for entry in bench.json("disinfectants", "disinfectants")["disinfectants"]:
        for name in (entry["disinfectant"], *entry["names"]):
            found = bench.json("disinfectant", "disinfectants", name)
            expect_equal(found["disinfectant"], entry["disinfectant"], name)
            reached = {o for fact in found["facts"] for o in fact["works_on"]}
            expect_equal(sorted(reached), sorted(entry["works_on"]), name)
            expect(not reached & set(found["not_shown_for"]), name)
    expect_equal(bench.json("disinfectant", "disinfectants", "bleach")["keeps_h"], 24, "bleach keeps a day")
    expect_equal(bench.json("disinfectant", "disinfectants", "ethanol")["keeps_h"], None, "ethanol")
    out = " ".join(bench.run("disinfectants", "bleach").out.split())
    expect_words(out, ["not shown for oocysts", "Cryptosporidium", "24 h", "the gas can kill", "amphibians",
                       "cdc_bleach", "rinse", "label goes first"], "bleach")
    expect_words(bench.run("disinfectants", "hot water", "--us").out, ["140 °F, 9 min"], "heat")
    expect_equal([d["disinfectant"] for d in bench.json("disinfectants", "disinfectants", "peroxide")["disinfectants"]],
                 ["accelerated hydrogen peroxide", "hydrogen peroxide"], "part of a name")
    answer = bench.run("disinfectants", "lemon juice", "--json", code=1)
    expect_words(answer.err, ["warmside disinfectants"], "unknown")


def checks():
    for check in (forty_litres, chloramine, page, impossible):
        yield f"water: {check.__name__.replace('_', ' ')}", check
    yield "disinfectants", disinfectants
