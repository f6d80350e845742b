#!/usr/bin/env python3
"""Our weight model against statsmodels: statsmodels_check.py PROGRAM

PROGRAM is print_weight_course. statsmodels (0.13, Debian's python3-statsmodels) is a general library
whose Kalman filter and smoother are told the same matrices. Weekly, monthly and irregular series,
with contents, growth and a known step: log-likelihood, smoothed states, their variances and the 90 %
intervals of the mass must agree within 1e-6 of themselves.
"""

import math
import subprocess
import sys

import numpy as np
from statsmodels.tsa.statespace.kalman_smoother import KalmanSmoother

MOST = 1e-6
Z90 = 1.6448536269514722


def series(seed, gaps, motion, start):
    random = np.random.default_rng(seed)
    rows, day, level = [], 0.0, start[0]
    for i, gap in enumerate(gaps):
        day += gap if i else 0.0
        level += random.normal(0, 0.02)
        contents, growth = random.uniform(0, 0.03), random.uniform(0, 0.001)
        step, spread = (-0.2, 0.01) if i == 5 else (0.0, 0.0)
        rows.append([day, level + contents + random.normal(0, 0.03), contents,
                     random.choice([0.0, 0.02 ** 2]), growth,
                     step, spread])
    return rows


def ours(program, motion, start, rows):
    text = "\n".join(" ".join(repr(float(x)) for x in line) for line in [motion, start, *rows])
    lines = subprocess.run([program], input=text, capture_output=True, text=True,
                           check=True).stdout.split("\n")
    return float(lines[0]), np.array([[float(x) for x in line.split()] for line in lines[1:] if line])


def theirs(motion, start, rows):
    rate_sd, tau, wander_sd = motion[:3]
    n = len(rows)
    kalman = KalmanSmoother(k_endog=1, k_states=2, k_posdef=2)
    kalman.bind(np.array([[row[1] for row in rows]]).T.copy())
    kalman["design"] = np.array([[1.0, 0.0]])
    kalman["obs_intercept"] = np.array([[row[2] for row in rows]])
    kalman["obs_cov"] = np.array([[[motion[3] ** 2 + row[3] for row in rows]]])
    transition, intercept = np.zeros((2, 2, n)), np.zeros((2, n))
    noise = np.zeros((2, 2, n))
    for i in range(n):
        # From weighing i to the next; the last leads nowhere.
        t = rows[i + 1][0] - rows[i][0] if i + 1 < n else 1.0
        f = math.exp(-t / tau)
        transition[:, :, i] = [[1, tau * (1 - f)], [0, f]]
        v = rate_sd ** 2
        noise[:, :, i] = [
            [wander_sd ** 2 * t + v * tau * (2 * t - tau * (3 - 4 * f + f * f)),
             v * tau * (1 - f) ** 2],
            [v * tau * (1 - f) ** 2, v * (1 - f * f)]]
        if i + 1 < n:
            intercept[0, i] = rows[i + 1][4] * t + rows[i + 1][5]
            noise[0, 0, i] += rows[i + 1][6]
    kalman["transition"], kalman["state_intercept"] = transition, intercept
    kalman["selection"], kalman["state_cov"] = np.eye(2), noise
    kalman.initialize_known(np.array(start[:2]),
                            np.array([[start[2], start[3]], [start[3], start[4]]]))
    result = kalman.smooth()
    v = result.smoothed_state_cov
    return result.llf, np.array([[result.smoothed_state[0, i], result.smoothed_state[1, i],
                                  v[0, 0, i], v[0, 1, i], v[1, 1, i]] for i in range(n)])


def apart(a, b):
    return float(np.max(np.abs(a - b) / (1e-12 + np.abs(b))))


def main():
    program = sys.argv[1]
    failed = 0
    random = np.random.default_rng(7)
    gaps = {"weekly": [7.0] * 60, "monthly": [30.0] * 24, "daily": [1.0] * 200,
            "irregular": list(random.uniform(0.5, 60, 40))}
    for name, days in gaps.items():
        for motion in ([0.0005, 120, 0.002, 0.03, 0, 4], [0.003, 40, 0.0005, 0.01, 0, 4]):
            start = [6.2, 0.0001, 0.04, 0.0, motion[0] ** 2]
            rows = series(len(days), days, motion, start)
            like, states = ours(program, motion, start, rows)
            want_like, want = theirs(motion, start, rows)
            half, want_half = Z90 * np.sqrt(states[:, 2]), Z90 * np.sqrt(want[:, 2])
            found = {
                "likelihood": apart(np.array([like]), np.array([want_like])),
                "levels": apart(states[:, 0], want[:, 0]),
                "rates": float(np.max(np.abs(states[:, 1] - want[:, 1]))) / motion[0],
                "variances": apart(states[:, [2, 4]], want[:, [2, 4]]),
                "intervals": apart(np.exp(states[:, 0] + half), np.exp(want[:, 0] + want_half)),
            }
            print(f"{name}, rate_sd {motion[0]}: " +
                  ", ".join(f"{key} {value:.1e}" for key, value in found.items()))
            failed += any(not value < MOST for value in found.values())
    sys.exit(1 if failed else 0)


main()
