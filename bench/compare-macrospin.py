"""The rival of bench/macrospin.ts: the same stochastic Heun steps with numpy, all chains at once.

  python3 compare-macrospin.py CHAINS SPINS STEPS    time in s, random numbers included, as JSON
"""
import json
import sys
import time

import numpy as np

chains, spins, steps = (int(word) for word in sys.argv[1:4])
rng = np.random.Generator(np.random.SFC64(1))
precession, damping, thermal, anisotropy = 0.05, 0.1, 0.03, 0.04
place = np.arange(spins)
apart = np.abs(place[:, None] - place[None, :])
coupling = np.where(apart > 0, 0.05 / np.maximum(apart, 1) ** 3, 0.0)

# [3, spins, chains]
s = rng.standard_normal((3, spins, chains))
s /= np.sqrt((s * s).sum(axis=0))
easy = rng.standard_normal((3, spins, chains))
easy /= np.sqrt((easy * easy).sum(axis=0))
along = np.array([-1.0, -1.0, 2.0])[:, None, None]
direction = np.array([0.0, 0.0, 1.0])[:, None, None]
noise = np.empty_like(s)


def slope(s, field_T):
    b = along * (coupling @ s)
    b += anisotropy * (s[0] * easy[0] + s[1] * easy[1] + s[2] * easy[2]) * easy
    b += field_T * direction
    b += thermal * noise
    c = cross(s, b)
    c += damping * cross(s, c)
    return c


def cross(a, b):
    out = np.empty_like(a)
    np.subtract(a[1] * b[2], a[2] * b[1], out=out[0])
    np.subtract(a[2] * b[0], a[0] * b[2], out=out[1])
    np.subtract(a[0] * b[1], a[1] * b[0], out=out[2])
    return out


began = time.perf_counter()
for step in range(steps):
    rng.standard_normal(out=noise)
    first = slope(s, 0.02 * np.cos(0.01 * step))
    second = slope(s - precession * first, 0.02 * np.cos(0.01 * (step + 1)))
    s -= 0.5 * precession * (first + second)
    s /= np.sqrt(s[0] * s[0] + s[1] * s[1] + s[2] * s[2])
took = time.perf_counter() - began
print(json.dumps({"time_s": took, "moment": float(s[2].mean()), "numpy": np.__version__}))
