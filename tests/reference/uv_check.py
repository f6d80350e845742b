#!/usr/bin/env python3
"""The UV index under lamps against quadrature over the source: uv_check.py WARMSIDE

Shares nothing with the program: each lamp is cut into elements, what each sends to a small plane is added
up by adaptive Simpson (Lyness 1969), and the sum is scaled to the row of the data sheet. A tube is a
line of Lambertian elements 1 cm behind its face, in a reflector a flat strip (one more cosine across
it); a flood is a point 5 cm behind its face with a lobe cos^m that is at half strength at half the full
angle; wires of square mesh shade each way on their own. 240 random lamps and points, tubes without mesh
within 1e-6, through mesh (where the program takes 24 pieces) within 0.5 %.
"""

import json
import math
import random
import subprocess
import sys

MOST_CLEAR, MOST_MESH = 1e-6, 5e-3


def simpson(f, a, b):
    """Adaptive, from 64 pieces."""
    def piece(a, fa, m, fm, b, fb, whole, left):
        l, r = (a + m) / 2, (m + b) / 2
        fl, fr = f(l), f(r)
        one, two = (m - a) / 6 * (fa + 4 * fl + fm), (b - m) / 6 * (fm + 4 * fr + fb)
        if left == 0 or abs(one + two - whole) < 1e-13:
            return one + two + (one + two - whole) / 15
        return piece(a, fa, l, fl, m, fm, one, left - 1) + piece(m, fm, r, fr, b, fb, two, left - 1)
    total, n = 0.0, 64
    for i in range(n):
        low, high = a + (b - a) * i / n, a + (b - a) * (i + 1) / n
        m = (low + high) / 2
        fa, fm, fb = f(low), f(m), f(high)
        total += piece(low, fa, m, fm, high, fb, (high - low) / 6 * (fa + 4 * fm + fb), 30)
    return total


def mesh_share(opened, u, v, w):
    if opened is None:
        return 1.0
    wire = 1 - math.sqrt(opened)
    share = 1.0
    for across in (u, v):
        share *= max(1 - wire / math.cos(math.atan2(abs(across), w)), 0.0)
    return share


def tube(length, reflector, along, aside, below, tilt, opened):
    w, v = below + 0.01, -aside

    def element(x):
        u = x - along
        r = math.sqrt(u * u + v * v + w * w)
        leaves = math.hypot(v, w) / r * ((w / math.hypot(v, w)) if reflector else 1.0)
        arrives = max((math.sin(tilt) * v + math.cos(tilt) * w) / r, 0.0)
        return leaves * arrives / r ** 2 * mesh_share(opened, u, v, w)
    return simpson(element, -length / 2, length / 2)


def flood(beam_deg, along, aside, below, tilt, opened):
    u, v, w = -along, -aside, below + 0.05
    r = math.sqrt(u * u + v * v + w * w)
    m = math.log(0.5) / math.log(math.cos(math.radians(beam_deg / 2)))
    return (w / r) ** m * max((math.sin(tilt) * v + math.cos(tilt) * w) / r, 0.0) / r ** 2 \
        * mesh_share(opened, u, v, w)


def main():
    program, worst = sys.argv[1], {}
    chance = random.Random(20261125)
    for case in range(240):
        is_tube, meshed = case % 3 != 0, case % 2 == 1
        length, beam = chance.uniform(0.3, 1.15), chance.uniform(20, 150)
        reflector = chance.random() < 0.5
        row = chance.uniform(0.15, 0.5)
        along, aside = chance.uniform(0, 0.5), chance.uniform(0, 0.4)
        below, tilt = chance.uniform(0.08, 0.8), chance.choice((0, 0, 25, 60))
        opened = chance.uniform(0.4, 0.95) if meshed else None
        command = ["calc", "lamp", "--json", "--table", f"{row}m 2UVI", "--distance", f"{below}m",
                   "--along", f"{along}m", "--aside", f"{aside}m", "--tilt", str(tilt)]
        command += ["--kind", "tube", "--length", f"{length}m", "--reflector",
                    "yes" if reflector else "no"] if is_tube else ["--kind", "flood", "--beam", str(beam)]
        command += ["--mesh-open", f"{opened * 100}%"] if meshed else []
        ours = json.loads(subprocess.run([program, *command], capture_output=True, text=True,
                                         check=True).stdout)
        point = (along, aside, below, math.radians(tilt), opened)
        under = (0, 0, row, 0, None)
        if is_tube:
            theirs = 2 * tube(length, reflector, *point) / tube(length, reflector, *under)
        else:
            theirs = 2 * flood(beam, *point) / flood(beam, *under)
        off = abs(ours["uvi"] - theirs) / max(theirs, 1e-4)
        kind = ("tube" if is_tube else "flood") + (" through mesh" if meshed else "")
        worst[kind] = max(worst.get(kind, 0), off)
        most = MOST_MESH if is_tube and meshed else MOST_CLEAR
        if off > most or not ours["uvi_low"] <= ours["uvi"] <= ours["uvi_high"]:
            print(f"FAILED {command}: ours {ours}, quadrature {theirs}")
            return 1
    for kind, off in sorted(worst.items()):
        print(f"{kind}: within {off:.1e}")
    return 0


if __name__ == "__main__":
    sys.exit(main())
