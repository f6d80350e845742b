"""`warmside calc air` against the handbook's own example and a table of standard states.

Source: ASHRAE Handbook - Fundamentals 2017, ch. 1, example 1 (40 C dry bulb, 20 C wet bulb at
101.325 kPa: dew point 7 C, relative humidity 14 %, enthalpy 56.7 kJ/kg; printed from a chart, so
rounded to a degree and a tenth) and table 3 (saturation pressure 3169.7 Pa at 25 C).
"""

from harness import expect, expect_words


def the_handbooks_example(bench):
    air = bench.json("calc_air", "calc", "air", "--temp", "40C", "--rh", "13.98%")
    expect(abs(air["wet_bulb_c"] - 20) < 0.05, air)
    expect(abs(air["dew_point_c"] - 7) < 0.6, air)
    expect(abs(air["enthalpy_j_per_kg"] - 56700) < 200, air)


def saturation(bench):
    air = bench.json("calc_air", "calc", "air", "--temp", "77F", "--rh", "100%")
    expect(abs(air["saturation_pressure_pa"] / 3169.7 - 1) < 3e-4, air)
    expect(abs(air["dew_point_c"] - 25) < 1e-6, air)


def impossible(bench):
    for text in (("28C", "0%"), ("28C", "101%"), ("28C", "50"), ("500C", "50%"), ("28K", "50%")):
        bench.run("calc", "air", "--temp", text[0], "--rh", text[1], code=1)


def page(bench):
    expect_words(bench.run("calc", "air", "--temp", "28C", "--rh", "70%").out, ["dew point", "22 °C"], "page")


def checks():
    for check in (the_handbooks_example, saturation, impossible, page):
        yield f"air: {check.__name__.replace('_', ' ')}", check
