"""The rival of bench/relaxation.ts: LSODA of scipy on the Brownian Fokker-Planck equation, as moments.

  python3 compare-relaxation.py truth           M/Ms at every sample time, from a run that is far tighter, as JSON
  python3 compare-relaxation.py time REPEATS    shortest time in s of a run as loose as an error of 1e-6 allows, as JSON

The equation is  2 tau d<P_n>/dt = n(n+1) { -<P_n> + xi(t) [<P_n-1> - <P_n+1>] / (2n+1) }, 40 moments, xi = 20 cos wt,
w tau = 1, five periods from random orientation, read 200 times a period. LSODA knows that the Jacobian is tridiagonal;
it gets it in closed form or by differences, whichever is quicker here.
"""
import json
import sys
import time

import numpy as np
import scipy
from scipy.integrate import odeint

MOMENTS, PERIODS, SAMPLES, XI = 40, 5, 200, 20.0
FREQUENCY_HZ = 25e3
OMEGA = 2 * np.pi * FREQUENCY_HZ
TAU_S = 1 / OMEGA
TIMES_S = np.arange(PERIODS * SAMPLES + 1) / (SAMPLES * FREQUENCY_HZ)


def equation(moments):
    n = np.arange(1, moments + 1)
    rate = n * (n + 1) / (2 * TAU_S)
    coupling = rate / (2 * n + 1)
    padded = np.zeros(moments + 2)
    padded[0] = 1
    out = np.empty(moments)
    band = np.zeros((3, moments))
    band[1] = -rate

    def slope(a, t):
        xi = XI * np.cos(OMEGA * t)
        padded[1:-1] = a
        np.subtract(padded[:-2], padded[2:], out=out)
        return coupling * (xi * out) - rate * a

    def jacobian(a, t):
        xi = XI * np.cos(OMEGA * t)
        band[0, 1:] = -xi * coupling[:-1]
        band[2, :-1] = xi * coupling[1:]
        return band

    return slope, jacobian


def run(moments, rtol, closed):
    slope, jacobian = equation(moments)
    options = dict(ml=1, mu=1, rtol=rtol, atol=rtol, mxstep=100000)
    if closed:
        options["Dfun"] = jacobian
    return odeint(slope, np.zeros(moments), TIMES_S, **options)[1:, 0]


def shortest(repeats, rtol, closed):
    best = np.inf
    for _ in range(repeats):
        began = time.perf_counter()
        run(MOMENTS, rtol, closed)
        best = min(best, time.perf_counter() - began)
    return best


def main():
    if sys.argv[1] == "truth":
        print(json.dumps(run(60, 1e-13, True).tolist()))
        return
    repeats = int(sys.argv[2])
    truth = run(60, 1e-13, True)
    # The loosest tolerance of five a decade that keeps the error.
    for step in range(20, 70):
        rtol = 10 ** (-step / 5)
        error = max(np.abs(run(MOMENTS, rtol, closed) - truth).max() for closed in (False, True))
        if error <= 1e-6:
            break
    best = min(shortest(repeats, rtol, closed) for closed in (False, True))
    print(json.dumps({"rtol": rtol, "error": error, "time_s": best, "scipy": scipy.__version__}))


main()
