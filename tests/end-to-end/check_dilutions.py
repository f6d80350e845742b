"""Worked dilutions from outside the program.

US measures: 1 gallon = 231 cubic inches of 2.54 cm (exact) = 3785.411784 mL; a cup is a 16th and a
tablespoon a 256th of it. The mixtures are those of public health and veterinary texts; the volumes
here follow from the recipes by proportion.
"""

import fractions
import re

from harness import expect, expect_words

GALLON_ML = 231 * 2.54**3
CUP_ML = GALLON_ML / 16
TABLESPOON_ML = GALLON_ML / 256


def close(found, wanted, what, relative=1e-9):
    expect(abs(found - wanted) <= relative * max(abs(wanted), 1e-12),
           f"{what}: expected {wanted}, found {found}")


def dilute(bench, stock, target, volume):
    answer = bench.json("calc_dilute", "calc", "dilute", "--stock", stock, "--target", target,
                        "--volume", volume)
    return answer["stock_ml"], answer["water_ml"]


def third_of_a_cup(bench):
    """CDC, as quoted on public pages: 5 tablespoons (1/3 cup) of household bleach to a US gallon of
    water, 1000 ppm or more. 5.25 % bleach: 5 tablespoons in a gallon and 5 tablespoons are 0.1006 %,
    so the program asked for that strength and volume must answer 5 tablespoons."""
    share = fractions.Fraction(5, 256 + 5)  # stock in the whole
    ppm = 5.25e4 * float(share)
    expect(ppm >= 1000, f"{ppm} ppm")
    volume_ml = GALLON_ML + 5 * TABLESPOON_ML
    stock, water = dilute(bench, "5.25%", f"{float(5.25 * share):.12g}%", f"{volume_ml:.12g}mL")
    close(stock, 5 * TABLESPOON_ML, "bleach", 1e-9)
    close(water, GALLON_ML, "water", 1e-9)
    # 1000 ppm itself, a gallon in all: a little less than 5 tablespoons, never more.
    stock, _ = dilute(bench, "5.25%", "0.1%", "1gal")
    close(stock, GALLON_ML * 0.1 / 5.25, "bleach for 1000 ppm")
    expect(4.8 * TABLESPOON_ML < stock < 5 * TABLESPOON_ML, f"{stock / TABLESPOON_ML} tablespoons")


def half_a_cup(bench):
    """Reptile veterinary literature, as quoted: 1/2 cup of bleach to a US gallon, called 1:32.
    Of 5.25 % bleach one part in 32 is 0.1640625 %, and of 1 gallon that is half a cup."""
    stock, water = dilute(bench, "5.25%", "0.1640625%", "1gal")
    close(stock, CUP_ML / 2, "bleach")
    close(water, GALLON_ML - CUP_ML / 2, "water")


def bleach_against_ranavirus(bench):
    """Bryan et al. 2009 and a NEPARC sheet: 3 % bleach, read as 3 parts household bleach in 100:
    30 mL in a litre."""
    stock, water = dilute(bench, "100%", "3%", "1L")
    close(stock, 30, "bleach")
    close(water, 970, "water")


def chlorhexidine(bench):
    """0.75 % against ranavirus (Bryan et al. 2009) from a 2 % stock: 3 parts in 8."""
    stock, water = dilute(bench, "2%", "0.75%", "800mL")
    close(stock, 300, "chlorhexidine")
    close(water, 500, "water")


def povidone_iodine(bench):
    """100 mL of a 10 % product to a litre in all is 1 %."""
    stock, water = dilute(bench, "10%", "1%", "1L")
    close(stock, 100, "product")
    close(water, 900, "water")


def ethanol(bench):
    """70 % from 96 %: 70/96 of the volume; the program takes volumes as adding up."""
    stock, water = dilute(bench, "96%", "70%", "500mL")
    close(stock, 500 * 70 / 96, "ethanol")
    close(stock + water, 500, "together")


def undiluted(bench):
    """The stock itself needs no water."""
    stock, water = dilute(bench, "5.25%", "5.25%", "2L")
    close(stock, 2000, "stock")
    expect(water == 0, f"water {water}")


def impossible(bench):
    """Water makes nothing stronger, and a strength or volume of nothing is none."""
    for stock, target, volume, field in (
            ("5%", "6%", "1L", "target"), ("5%", "0%", "1L", "target"), ("0%", "0%", "1L", "stock"),
            ("120%", "6%", "1L", "stock"), ("5%", "1%", "0L", "volume"),
            ("5", "1%", "1L", "--stock"), ("5%", "1%", "1", "--volume"), ("5%", "1%", "1kg", "--volume")):
        answer = bench.run("calc", "dilute", "--stock", stock, "--target", target, "--volume",
                           volume, "--json", code=1)
        expect_words(answer.err, [field, "expected"], f"{stock} {target} {volume}")
        expect(answer.out == "", "something was printed", answer)


def caution(bench):
    """The page for people says what hurts."""
    answer = bench.run("calc", "dilute", "--stock", "5.25%", "--target", "0.5%", "--volume", "2L")
    expect_words(" ".join(answer.out.split()),
                 ["190.5 mL of the stock and 1809.5 mL of water",
                  "Never mix bleach with ammonia or acid", "clean first", "gloves", "eye protection", "open air",
                  "The label goes first", "rinse"],
                 "the page")


def page(bench, *arguments):
    return " ".join(bench.run("calc", "dilute", *arguments).out.split())


def keepers_measures(bench):
    """CDC, as quoted: 5 tablespoons to a gallon for 1000 ppm. What 1000 ppm in a gallon take, 4.88
    tablespoons, is measured as 5, never as 4 1/2. Half a cup to a gallon is 1:32."""
    out = page(bench, "--stock", "5.25%", "--target", "0.1%", "--volume", "1gal", "--us")
    expect_words(out, ["To measure: 5 tablespoons (2.5 fl oz)", "to 1 gal", "To a US gallon in all: 5 tablespoons"],
                 "the page")
    out = page(bench, "--stock", "5.25%", "--target", "0.1640625%", "--volume", "2gal", "--us")
    expect_words(out, ["To measure: 1 cup (8 fl oz)", "To a US gallon in all: 1/2 cup (4 fl oz)"], "the page")
    out = page(bench, "--stock", "5.25%", "--target", "0.5%", "--volume", "2L")
    # 190.48 mL, upwards in steps of 5 mL; 195 / 2000 x 5.25 = 0.512; 13 spoons of 15 mL.
    expect_words(out, ["To measure: 195 mL (about 13 tablespoons)", "to 2 L", "0.512 %"], "the page")


def never_weaker(bench):
    """Whatever is measured makes at least the strength asked for."""
    for units in ((), ("--us",)):
        for target in (0.013, 0.05, 0.1, 0.164, 0.5, 1, 2.5, 5):
            for volume in ("250mL", "500mL", "1L", "1qt", "1gal", "7L", "5gal"):
                out = page(bench, "--stock", "5.25%", "--target", f"{target}%", "--volume", volume, *units)
                if "To measure" not in out:
                    continue  # less water than a step: the exact volumes alone
                made = float(re.search(r"that makes ([0-9.]+) %", out).group(1))
                # Three figures are printed: half of the last is 0.5 % at most.
                expect(made >= target * 0.995, f"{target} % in {volume} {units}: {made} %")


def checks():
    for check in (third_of_a_cup, half_a_cup, bleach_against_ranavirus, chlorhexidine,
                  povidone_iodine, ethanol, undiluted, impossible, caution, keepers_measures, never_weaker):
        yield f"dilution: {check.__name__.replace('_', ' ')}", check
