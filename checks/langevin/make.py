"""Arbitrary-precision table of the Langevin function and its relatives.

Run:  python3 checks/langevin/make.py       (python 3 with mpmath; 60 working digits, exact doubles as arguments)
Writes truth.json beside itself. Every argument is an exact double (printed as its shortest round-trip decimal); every value has 25 digits.
With --sweep it prints 5000 arguments per range to standard output instead, for the meter (report.ts --sweep).
With --coefficients it prints the Taylor coefficients 4^k B_2k / (2k)! that src/physics/particle/langevin-series.ts holds.
"""
import json, math, pathlib, random, sys
import mpmath as mp

DIGITS = 60


def functions(x):
    """L, L', L'' and L/x from the definition. coth - 1/x cancels about 2 log10(1/x) digits, so the precision follows x."""
    lost = max(0, int(-4 * mp.log10(abs(x)))) if x != 0 else 0
    with mp.workdps(DIGITS + lost):
        x = mp.mpf(x)
        if abs(x) > 200:  # coth - 1 is below 1e-170: the exponential tail is exact zero at this precision
            tail = mp.exp(-2 * abs(x))
            sign = mp.sign(x)
            L = sign * (1 + 2 * tail) - 1 / x
            slope = 1 / x**2 - 4 * tail
            curvature = -2 / x**3 + sign * 8 * tail
        else:
            L = mp.coth(x) - 1 / x
            slope = 1 / x**2 - 1 / mp.sinh(x) ** 2
            curvature = -2 / x**3 + 2 * mp.cosh(x) / mp.sinh(x) ** 3
        return L, slope, curvature, L / x


def log_spread(low, high, count, seed):
    """`count` doubles spread evenly in the logarithm, jittered, both signs."""
    draw = random.Random(seed)
    a, b = math.log(low), math.log(high)
    points = []
    for i in range(count):
        x = math.exp(a + (b - a) * (i + draw.random()) / count)
        points.append(-x if i % 5 == 4 else x)
    return points


def tiny(x):
    """Below 1e-150 the terms after the first are beyond any precision we print: x/3, 1/3, -2x/15, 1/3."""
    with mp.workdps(DIGITS):
        x = mp.mpf(x)
        return x / 3, mp.mpf(1) / 3, -2 * x / 15, mp.mpf(1) / 3


def row(x):
    L, slope, curvature, ratio = tiny(x) if abs(x) < 1e-150 else functions(x)
    text = lambda v: mp.nstr(v, 25, min_fixed=1, max_fixed=0)
    return [repr(x), text(L), text(slope), text(curvature), text(ratio)]


def half_width(function, start):
    with mp.workdps(DIGITS):
        return mp.nstr(2 * mp.findroot(lambda x: function(x) - mp.mpf(1) / 6, start), 25)


def main():
    ranges = {
        "subnormal": [5e-324, 1e-323, -1.5e-323, 2e-323, 2.5e-323, 1e-320, 3.3e-318, -7e-315, 1e-310, 2.2e-308, 1e-305],
        "1e-300 to 1e-8": log_spread(1e-300, 1e-8, 60, 1),
        "1e-8 to 0.5": log_spread(1e-8, 0.5, 80, 2) + log_spread(0.01, 0.5, 60, 3),
        "0.5 to 1": log_spread(0.5, 1, 100, 4) + [0.5, math.nextafter(0.5, 0), math.nextafter(1, 0)],
        "1 to 20": log_spread(1, 20, 120, 5) + [1.0, 2.0, 5.0, 10.0] + log_spread(1, 1.7, 300, 8)
        + [1.5, math.nextafter(1.5, 0)],
        "20 to 700": log_spread(20, 700, 60, 6) + [355.0, 700.0],
        "beyond 700": log_spread(700, 1e100, 30, 7),
    }
    truth = {
        "columns": ["xi", "L", "slope", "curvature", "ratio"],
        "ranges": {name: [row(x) for x in points] for name, points in ranges.items()},
        "widths": {
            "slope": half_width(lambda x: 1 / x**2 - 1 / mp.sinh(x) ** 2, 2),
            "ratio": half_width(lambda x: (mp.coth(x) - 1 / x) / x, 4.7),
        },
    }
    path = pathlib.Path(__file__).with_name("truth.json")
    lines = ['{', f' "columns": {json.dumps(truth["columns"])},', f' "widths": {json.dumps(truth["widths"])},', ' "ranges": {']
    blocks = []
    for name, rows in truth["ranges"].items():
        blocks.append(f'  {json.dumps(name)}: [\n   ' + ",\n   ".join(json.dumps(r) for r in rows) + "\n  ]")
    path.write_text("\n".join(lines) + "\n" + ",\n".join(blocks) + "\n }\n}\n")
    print("mpmath", mp.__version__, "points", sum(map(len, ranges.values())))


def coefficients(count):
    with mp.workdps(DIGITS):
        for k in range(1, count + 1):
            print(repr(float(mp.mpf(4) ** k * mp.bernoulli(2 * k) / mp.factorial(2 * k))) + ",")


def sweep():
    spans = {"1e-300 to 1e-8": (1e-300, 1e-8), "1e-8 to 0.5": (1e-8, 0.5), "0.5 to 1": (0.5, 1), "1 to 20": (1, 20),
             "20 to 700": (20, 700), "beyond 700": (700, 1e100)}
    print(json.dumps({name: [row(x) for x in log_spread(low, high, 5000, 100 + i)]
                      for i, (name, (low, high)) in enumerate(spans.items())}))


if "--coefficients" in sys.argv:
    coefficients(34)
elif "--sweep" in sys.argv:
    sweep()
else:
    main()
