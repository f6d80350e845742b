#!/usr/bin/env python3
"""Our climate solver against ngspice: spice_check.py PROGRAM [FOLDER]

PROGRAM is write_climate_cases; it writes for each case a deck, our temperatures and our sums. The
decks are run with ngspice, which shares nothing with the solver but the deck, and the results
compared. In FOLDER the files are kept; without it they go with the run.

Where no contact switches: every node and sensor at every record within 0.001 K, the vapour of every
air volume within 0.5 %. Where one does, the moments drift apart, and the day is compared: energy and
duty within 0.1 %, switchings within 0.2 % or 1, each mean and both ends of the range over the last
12 hours within 0.02 K, of vapour within 0.5 %. There ngspice is the less exact of the two: it moves
a switch on a predicted voltage, a little before the end of the band. Its count falls towards ours as
its step does: 994, 987, 982, 981 and 979 switchings with 2, 1, 0.5, 0.25 and 0.125 s (ngspice 39,
hysteresis), 979 of ours; CVODE, with root finding, agrees within 1 (cvode_test.cpp). In mat_tank its
energy comes towards ours in the same way: 0.048 and 0.028 % below with 1 and 0.5 s.
"""

import concurrent.futures
import math
import os
import subprocess
import sys
import tempfile
import time

MOST_POINT_K = 0.001
MOST_DAY_K = 0.02
MOST_VAPOUR = 0.005
MOST_SHARE = 0.001
SETTLED_S = 12 * 3600


def rows(path, separator=None, heading=0):
    with open(path, encoding="utf-8") as lines:
        return [[float(x) for x in line.split(separator)] for line in list(lines)[heading:]]


def sums(path):
    with open(path, encoding="utf-8") as lines:
        heading, *rest = [line.rstrip("\n").split(",") for line in lines]
    return [dict(zip(heading, line)) for line in rest]


def switchings(path):
    """How often each contact of a deck changed: the columns after the time, 0 or 1."""
    table = rows(path, heading=1)
    return [sum((a[i] > 0.5) != (b[i] > 0.5) for a, b in zip(table, table[1:]))
            for i in range(1, len(table[0]))]


def column(table, i):
    return [row[i] for row in table]


def differences_at_points(mine, other):
    """Of one column: absolute, and against the value."""
    apart = [abs(a - b) for a, b in zip(mine, other)]
    return max(apart), max(d / abs(b) if b else math.inf for d, b in zip(apart, other))


def differences_of_days(mine, other):
    """The same for the worst of mean, lowest and highest value."""
    ends = [(what(mine), what(other)) for what in (min, max, lambda x: math.fsum(x) / len(x))]
    return differences_at_points(*zip(*ends))


def check(name, folder):
    """Runs one deck; returns a line of the table and what is wrong."""
    started = time.monotonic()
    run = subprocess.run(["ngspice", "-b", name + ".cir"], cwd=folder, text=True,
                         capture_output=True, timeout=300)
    took = time.monotonic() - started
    out = os.path.join(folder, name + ".txt")
    if not os.path.exists(out):
        return f"{name:15} ngspice wrote nothing", [run.stdout[-2000:] + run.stderr[-2000:]]
    ours = rows(os.path.join(folder, name + ".csv"), ",")
    theirs = rows(out, heading=1)
    with open(out, encoding="utf-8") as lines:
        names = next(lines).split()
    if len(ours) != len(theirs) or any(abs(a[0] - b[0]) > 1e-3 for a, b in zip(ours, theirs)):
        return f"{name:15} not the same records", [f"{len(ours)} of ours, {len(theirs)} of theirs"]
    wrong = []
    heaters = sums(os.path.join(folder, name + ".sums"))
    switched = os.path.exists(out + ".contacts")
    columns = len(ours[0])  # energies follow the temperatures and vapours
    worst_k = worst_vapour = 0
    for i in range(1, columns):
        if switched:
            settled = [k for k, row in enumerate(ours) if row[0] >= SETTLED_S]
            apart, share = differences_of_days(column(ours[settled[0]:], i),
                                               column(theirs[settled[0]:], i))
        else:
            apart, share = differences_at_points(column(ours, i), column(theirs, i))
        if names[i].startswith("v(x"):
            worst_vapour = max(worst_vapour, share)
        else:
            worst_k = max(worst_k, apart)
    if not worst_k < (MOST_DAY_K if switched else MOST_POINT_K):
        wrong.append(f"{worst_k:.4f} K apart")
    if not worst_vapour < MOST_VAPOUR:
        wrong.append(f"vapour {100 * worst_vapour:.3f} % apart")
    worst_energy = 0
    for h, heater in enumerate(heaters):
        energy = theirs[-1][columns + h]
        duty = energy / (float(heater["power_w"]) * theirs[-1][0] / 3600)
        for what, mine, other in (("energy", float(heater["energy_wh"]), energy),
                                  ("duty", float(heater["duty"]), duty)):
            apart = abs(mine - other) / other
            worst_energy = max(worst_energy, apart)
            if not apart < MOST_SHARE:
                wrong.append(f"{heater['heater']}: {what} {mine:.6g} against {other:.6g}")
    shown = ""
    if switched:
        counts = iter(switchings(out + ".contacts"))
        for heater in heaters:
            if heater["contact"] == "0":
                continue
            mine, other = int(heater["switches"]), next(counts)
            shown = f"{mine} / {other}"
            if abs(mine - other) > max(1, 0.002 * other):
                wrong.append(f"{heater['heater']}: {mine} switchings against {other}")
    return (f"{name:15} {columns - 1:4} {worst_k:10.6f} {100 * worst_vapour:10.5f} "
            f"{100 * worst_energy:10.5f} {shown:>13} {took:7.2f}"), wrong


def main():
    if len(sys.argv) not in (2, 3):
        print(__doc__, file=sys.stderr)
        return 2
    with tempfile.TemporaryDirectory() as passing:
        folder = sys.argv[2] if len(sys.argv) == 3 else passing
        subprocess.run([sys.argv[1], folder], check=True, timeout=300)
        names = sorted(f[:-4] for f in os.listdir(folder) if f.endswith(".cir"))
        print(f"{'case':15} {'cols':>4} {'worst, K':>10} {'vapour, %':>10} {'energy, %':>10} "
              f"{'switchings':>13} {'ngspice, s':>10}")
        failed = 0
        # Two at a time; each is a process of its own.
        with concurrent.futures.ThreadPoolExecutor(2) as pool:
            for line, wrong in pool.map(lambda name: check(name, folder), names):
                print(line)
                for what in wrong:
                    print(f"  FAILED: {what}")
                failed += bool(wrong)
        print(f"{len(names) - failed} passed, {failed} failed")
        return 1 if failed or not names else 0


if __name__ == "__main__":
    sys.exit(main())
