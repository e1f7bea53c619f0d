"""The rival of bench/field-sources.ts: the same 200 loops on the same 128 x 128 points with numpy and scipy.

  python3 compare-field-sources.py REPEATS     sum of B^2 (T^2) and the shortest time in s, as JSON

Textbook K, E form, one loop at a time over all points at once (a table of all loops and points at once is no faster: it
leaves the cache). One thread: no BLAS call is made.
"""
import json
import sys
import time

import numpy as np
from scipy.special import ellipe, ellipkm1

MU0 = 1.25663706127e-6
SIDE, EXTENT_M = 128, 0.08

column, row = np.meshgrid(np.arange(SIDE), np.arange(SIDE))
POINTS = np.stack(
    [
        EXTENT_M * (column.ravel() / (SIDE - 1) - 0.5),
        np.full(SIDE * SIDE, 0.003),
        EXTENT_M * (row.ravel() / (SIDE - 1) - 0.5),
    ]
)
LOOPS = []
for i in range(200):
    winding, turn = divmod(i, 20)
    sign = 1 if winding % 2 == 0 else -1
    LOOPS.append((winding % 3, sign * (0.06 + 0.002 * winding + 0.004 * turn), 0.09 + 0.003 * winding, sign * 100.0))


def field():
    total = np.zeros_like(POINTS)
    for axis, along, a, current in LOOPS:
        p, q = (axis + 1) % 3, (axis + 2) % 3
        z = POINTS[axis] - along
        rho2 = POINTS[p] ** 2 + POINTS[q] ** 2
        rho = np.sqrt(rho2)
        z2 = z * z
        al2 = (a - rho) ** 2 + z2
        be2 = (a + rho) ** 2 + z2
        ratio = al2 / be2
        k, e = ellipkm1(ratio), ellipe(1 - ratio)
        scale = MU0 * current / (2 * np.pi) / (al2 * np.sqrt(be2))
        radial = scale * z / rho2 * ((a * a + rho2 + z2) * e - al2 * k)
        total[axis] += scale * ((a * a - rho2 - z2) * e + al2 * k)
        total[p] += radial * POINTS[p]
        total[q] += radial * POINTS[q]
    return total


best = float("inf")
for _ in range(int(sys.argv[1])):
    began = time.perf_counter()
    result = field()
    best = min(best, time.perf_counter() - began)
print(json.dumps({"sum": float((result**2).sum()), "time_s": best}))
