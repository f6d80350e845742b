#!/usr/bin/env python3
"""End-to-end checks of the program: run.py PROGRAM [PART OF A CHECK'S NAME]

Runs the text scenarios (scenarios/NAME/), the command line's contract, real growth data, the demo
room and worked dilutions. Known gaps are printed as skipped. The last lines say which checks took
longest and how many passed; exit code 1 when one failed.
"""

import subprocess
import sys
import time

sys.dont_write_bytecode = True  # leaves nothing in the source folder

import check_chicks
import check_contract
import check_demo
import check_air
import check_climate
import check_dilutions
import check_energy
import check_jot
import check_light
import check_power
import check_rota
import check_scenarios
import check_schemas
import check_serve
import check_sun
import check_tools
import check_traces
import check_uv
import check_water
import check_weights
from harness import Bench, Failure, KnownGap

MODULES = (check_schemas, check_scenarios, check_contract, check_jot, check_demo, check_chicks,
           check_dilutions, check_air, check_energy, check_climate, check_weights, check_rota,
           check_traces, check_power, check_tools, check_water, check_sun,
           check_light, check_uv, check_serve)


def main():
    if len(sys.argv) not in (2, 3):
        print(__doc__, file=sys.stderr)
        return 2
    program, part = sys.argv[1], sys.argv[2] if len(sys.argv) == 3 else ""
    passed = failed = 0
    took = []
    for module in MODULES:
        for name, check in module.checks():
            if part not in name:
                continue
            begun = time.monotonic()
            try:
                with Bench(program) as bench:
                    check(bench)
                passed += 1
            except KnownGap as gap:
                print(f"skipped {name}: {gap}")
            except (Failure, AssertionError, OSError, ValueError, LookupError,
                    subprocess.SubprocessError) as problem:
                failed += 1
                print(f"FAILED {name}: {type(problem).__name__}: {problem}\n")
            took.append((time.monotonic() - begun, name))
    took.sort(reverse=True)
    print("longest:", ", ".join(f"{name} {seconds:.0f} s" for seconds, name in took[:12]))
    print(f"{passed} passed, {failed} failed")
    return 1 if failed or not passed else 0


if __name__ == "__main__":
    sys.exit(main())
