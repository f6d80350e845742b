#!/usr/bin/env python3
"""How long statsmodels takes to filter and smooth one weekly series of 200 weighings, in seconds: the
same model and matrices as tests/reference/statsmodels_check.py. Called by health_bench."""

import time

import numpy as np
from statsmodels.tsa.statespace.kalman_smoother import KalmanSmoother

TAU, RATE_SD, WANDER_SD, NOISE_SD, DAYS, COUNT = 120.0, 0.0008, 0.001, 0.03, 7.0, 200

kalman = KalmanSmoother(k_endog=1, k_states=2, k_posdef=2)
levels = 6 + np.cumsum(np.random.default_rng(2).normal(0, 0.01, COUNT))
kalman.bind(levels.reshape(-1, 1).copy())
f, v = np.exp(-DAYS / TAU), RATE_SD ** 2
kalman["design"] = np.array([[1.0, 0.0]])
kalman["obs_cov"] = np.array([[NOISE_SD ** 2]])
kalman["transition"] = np.array([[1, TAU * (1 - f)], [0, f]])
kalman["selection"] = np.eye(2)
kalman["state_cov"] = np.array([
    [WANDER_SD ** 2 * DAYS + v * TAU * (2 * DAYS - TAU * (3 - 4 * f + f * f)), v * TAU * (1 - f) ** 2],
    [v * TAU * (1 - f) ** 2, v * (1 - f * f)]])
kalman.initialize_known(np.array([6.0, 0.0]), np.array([[1.0, 0.0], [0.0, v]]))
took = []
for _ in range(30):
    start = time.perf_counter()
    kalman.smooth()
    took.append(time.perf_counter() - start)
print(sorted(took)[len(took) // 2])
