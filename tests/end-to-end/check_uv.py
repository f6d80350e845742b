"""`warmside calc uv` and `warmside calc lamp` against closed forms, and the UV of an enclosure's page.

Sources: ISO/CIE 17166:2019 (a flat spectrum of 1 W/m2/nm over 298 to 400 nm weighs
(1 - 10^-2.82)/(0.094 ln 10) + (10^-2.82 - 10^-3.9)/(0.015 ln 10) = 4.6533383 W/m2); the diffuse line of
finite length and the point with an offset, as derived in docs/models/light.md; (1 - d/p)^2 for mesh.
"""

import math

from harness import DEMO_DATE, expect, expect_words

HEAD = "wavelength_nm,irradiance_w_per_m2_nm\n"


def near(found, wanted, within, what):
    expect(abs(found - wanted) <= within, f"{what}: {found}, not {wanted}")


def a_flat_spectrum(bench):
    bench.write("flat.csv", HEAD + "".join(f"{nm},1\n" for nm in range(298, 401)))
    made = bench.json("calc_uv", "calc", "uv", "--spectrum", "flat.csv")
    near(made["uvi"], 186.1335, 1e-4, "index")
    near(made["erythemal_w_per_m2"], 4.6533383, 1e-7, "weighted")
    near(made["uvb_w_per_m2"], 17, 1e-9, "UVB from 298 to 315")
    expect(made["lower_bound"], "nothing is said below 298 nm")
    page = bench.run("calc", "uv", "--spectrum", "flat.csv").out
    expect_words(page, ["at least 186", "covers only 298 to 400 nm", "never look into the lamp"], "page")


def bad_spectra(bench):
    for text, words in ((HEAD + "300,1\n300,1\n", ":3:"), (HEAD + "310,1\n300,1\n", ":3:"),
                        (HEAD + "300,-1\n310,1\n", ":2:"), (HEAD + "300,nan\n310,1\n", ":2:"),
                        (HEAD + "300,1\n", "too few rows"), ("nm,w\n300,1\n310,1\n", "wavelength_nm"),
                        (HEAD + "300,1e30\n310,1\n", ":2:"), (HEAD + "500,1\n600,1\n", "250 to 400 nm"),
                        ("", "wavelength_nm")):
        bench.write("bad.csv", text)
        answer = bench.run("calc", "uv", "--spectrum", "bad.csv", code=1)
        expect_words(answer.err, ["bad.csv", words, "expected"], text)
        expect(answer.out == "", "something was printed")
    bench.run("calc", "uv", "--spectrum", "none.csv", code=1)
    bench.run("calc", "uv", code=2)


def lamp(bench, *more):
    return bench.json("calc_lamp", "calc", "lamp", *more)


def a_compact_lamp(bench):
    # Offset 4 cm: 10 at 20 cm, 3.6 at 36 cm, and so 10 (0.24/0.60)^2 = 1.6 at 56 cm.
    table = ("--kind", "compact", "--table", "20cm 10UVI + 36cm 3.6UVI")
    far = lamp(bench, *table, "--distance", "56cm")
    near(far["uvi"], 1.6, 1e-4, "at 56 cm")
    expect(far["uvi_low"] < 1.6 < far["uvi_high"], far)
    near(lamp(bench, *table, "--distance", "20cm", "--tilt", "60")["uvi"], 5, 1e-3, "tilted")
    near(lamp(bench, *table, "--distance", "20cm", "--mesh-open", "64%")["uvi"], 6.4, 1e-3, "mesh")
    glass = lamp(bench, *table, "--distance", "20cm", "--glass")
    near(glass["uvi_high"], 0, 0, "behind glass")
    expect(any("glass" in note for note in glass["notes"]), glass)


def a_tube(bench):
    # One row: the ratio is that of a line whose axis lies 1 cm behind its face.
    def line(d):
        b = math.atan(0.275 / d)
        return (b + math.sin(b) * math.cos(b)) / d
    tube = ("--kind", "tube", "--length", "55cm", "--reflector", "no", "--table", "30cm 2.2UVI")
    near(lamp(bench, *tube, "--distance", "60cm")["uvi"], 2.2 * line(0.61) / line(0.31), 1e-6, "60 cm")
    # At its end, 27.5 cm along at a depth of 30 cm, a bare line gives 0.6 of its middle.
    along = lamp(bench, *tube, "--distance", "30cm", "--along", "27.5cm")["uvi"] / 2.2
    expect(0.58 < along < 0.62, along)


def refused(bench):
    good = ["--kind", "tube", "--length", "55cm", "--table", "30cm 2UVI", "--distance", "40cm"]
    for option, value in (("--distance", "0cm"), ("--distance", "40"), ("--distance", "11m"),
                          ("--table", "30cm"), ("--table", "30cm 0UVI"), ("--length", "0cm"),
                          ("--aside", "-5cm"), ("--tilt", "200"), ("--mesh-open", "0%"),
                          ("--mesh-open", "120%"), ("--beam", "40")):
        changed = list(good)
        if option in changed:
            changed[changed.index(option) + 1] = value
        else:
            changed += [option, value]
        expect_words(bench.run("calc", "lamp", *changed, code=1).err, ["expected"], f"{option} {value}")
    nothing = bench.run("calc", "lamp", "--kind", "spot", "--distance", "30cm", code=1)
    expect_words(nothing.err, ["nothing is known of its UV", "data sheet"], "no table")
    bench.run("calc", "lamp", "--kind", "flood", "--beam", "200", "--table", "30cm 2UVI", "--distance",
              "30cm", code=1)
    bench.run("calc", "lamp", "--kind", "candle", "--distance", "30cm", code=2)
    bench.run("calc", "lamp", *good, "--glass", "--mesh-open", "50%", code=2)


def page_of_a_lamp(bench):
    page = bench.run("calc", "lamp", "--kind", "tube", "--table", "30cm 2.2UVI", "--distance", "40cm").out
    expect_words(page, ["UV index", "very likely", "data sheet", "never look into the lamp"], "page")


def demo_enclosures(bench):
    bench.run("demo", "d")
    page = ("--book", "d/room.db", "--date", DEMO_DATE)
    skink = bench.json("enclosure", "enclosure", "skink-table", *page)["uv"]
    # docs/demo-room.md: readings fall from 4.4 to 2.8.
    expect(2.5 < skink["basking"]["uvi"] < 3.1 and skink["under"] == "lamp-uvb-skink", skink)
    lamp_now = skink["lamps"][0]
    expect(0.58 < lamp_now["share_of_first"]["share"] < 0.70, lamp_now)
    expect(lamp_now["replace"]["by_readings"] and lamp_now["replace"]["due"] < DEMO_DATE, lamp_now)
    expect([w["standing"] for w in skink["wanted"]] == ["inside"], skink)
    frogs = bench.json("enclosure", "enclosure", "rack-b-2", *page)["uv"]
    expect(frogs["lamps"][0]["between"] == "mesh" and frogs["lamps"][0]["replace"]["due"] > DEMO_DATE,
           frogs)
    snakes = bench.json("enclosure", "enclosure", "rack-a-1", *page)["uv"]
    expect(snakes["basking"] is None and not snakes["lamps"], snakes)
    expect_words(" ".join(bench.run("enclosure", "rack-b-3", *page).out.split()),
                 ["UV index at the basking place", "readings of your meter", "to be replaced",
                  "leave a way into full shade"], "page")


def checks():
    for check in (a_flat_spectrum, bad_spectra, a_compact_lamp, a_tube, refused, page_of_a_lamp,
                  demo_enclosures):
        yield f"uv: {check.__name__.replace('_', ' ')}", check
