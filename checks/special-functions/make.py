"""Truth for checks/special-functions: mpmath at 80 to 400 digits; numpy for Gauss rules. Run: python3 make.py

Arguments are doubles; each is handed to mpmath exactly, so the table is the function of that very double.
Values are written with 20 digits.
"""
import json
import pathlib

import mpmath as mp
import numpy

mp.mp.dps = 80
rng = numpy.random.default_rng(20240503)


def text(v):
    return mp.nstr(v, 20, min_fixed=0, max_fixed=0)


def spread(low, high, n):
    return [float(v) for v in numpy.exp(rng.uniform(numpy.log(low), numpy.log(high), n))]


def table(f, points):
    return [[*(p if isinstance(p, tuple) else (p,)), text(f(*map(mp.mpf, p if isinstance(p, tuple) else (p,))))] for p in points]


def phi(x):
    return mp.erfc(-x / mp.sqrt(2)) / 2


def quantile(f, ends):
    """Root of a monotone f: bisection to a width of 1e-10, then the secant to full precision."""
    low, high = map(mp.mpf, ends)
    rising = f(high) > 0
    assert rising != (f(low) > 0)
    while high - low > mp.mpf(10) ** -10 * max(1, abs(low)):
        middle = (low + high) / 2
        if (f(middle) > 0) == rising:
            high = middle
        else:
            low = middle
    for _ in range(40):
        f0, f1 = f(low), f(high)
        if f0 == f1 or abs(high - low) < mp.mpf(10) ** -40 * max(1, abs(low)):
            break
        low, high = high, high - f1 * (high - low) / (f1 - f0)
    return high


def ibeta(a, b, x, y=None):
    """Series of positive terms, I_x = x^a y^b/(a B) sum (a+b)_n/(a+1)_n x^n, on the side of the smaller argument."""
    y = 1 - x if y is None else y
    if x > y:
        return 1 - ibeta(b, a, y, x)
    term = total = mp.mpf(1)
    n = 0
    while term > total * mp.mpf(10) ** (-mp.mp.dps):
        term *= (a + b + n) * x / (a + 1 + n)
        total += term
        n += 1
    front = a * mp.log(x) + b * mp.log(y) - mp.log(a) - mp.loggamma(a) - mp.loggamma(b) + mp.loggamma(a + b)
    return mp.exp(front) * total


def igamma(a, x):
    """Series of positive terms, P = x^a e^-x/Gamma(a+1) sum x^n/(a+1)_n."""
    term = total = mp.mpf(1)
    n = 1
    while term > total * mp.mpf(10) ** (-mp.mp.dps):
        term *= x / (a + n)
        total += term
        n += 1
    return mp.exp(a * mp.log(x) - x - mp.loggamma(a + 1)) * total


def t_tail(t, nu):
    """P(T > t), t > 0"""
    return ibeta(nu / 2, mp.mpf(1) / 2, nu / (nu + t * t), t * t / (nu + t * t)) / 2


def far_tail(t, nu):
    with mp.workdps(300):
        return text(t_tail(mp.mpf(t), mp.mpf(nu)))


def beta_pair(points):
    rows = []
    for a, b, x in points:
        with mp.workdps(400):  # 1 - lower may be as small as 1e-300
            lower = ibeta(mp.mpf(a), mp.mpf(b), mp.mpf(x))
            rows.append([a, b, x, text(lower), text(1 - lower)])
    return rows


def gamma_pair(points):
    rows = []
    for a, x in points:
        lower = igamma(mp.mpf(a), mp.mpf(x))
        rows.append([a, x, text(lower), text(1 - lower)])
    return rows


def near_peak_beta(low, high, n):
    points = []
    for a, b in zip(spread(low, high, n), spread(low, high, n)):
        sd = (a * b / ((a + b) ** 2 * (a + b + 1))) ** 0.5
        points.append((a, b, float(min(max(a / (a + b) + rng.uniform(-4, 4) * sd, 1e-12), 1 - 1e-12))))
    return points


normal_q = [1e-300, 1e-100, 1e-20, 1e-10, 1e-6, 1e-3, 0.01, 0.025, 0.05, 0.1, 0.25, 0.4, 0.5 - 1e-9, 0.6, 0.9, 0.95, 0.975, 0.99, 0.999]
small = [-v for v in spread(1e-300, 1e-3, 10)] + spread(1e-300, 1e-3, 10)
nus = [0.5, 1.0, 2.0, 3.0, 4.7, 9.0, 30.0, 200.0, 1e4, 1e6]

truth = dict(
    versions=dict(mpmath=mp.__version__, numpy=numpy.__version__),
    erf=dict(tiny=table(mp.erf, small), normal=table(mp.erf, [float(v) for v in rng.uniform(-6, 6, 200)]),
             seams=table(mp.erf, [0.84374, 0.84375, 0.84376, 1.24999, 1.25, 1.25001, 2.857142, 2.857143, -0.84375, -1.25])),
    erfc=dict(negative=table(mp.erfc, [float(v) for v in rng.uniform(-6, 0, 50)]),
              normal=table(mp.erfc, [float(v) for v in rng.uniform(0, 6, 200)]),
              far=table(mp.erfc, [float(v) for v in rng.uniform(6, 26, 100)])),
    normalCdf=dict(centre=table(phi, [float(v) for v in rng.uniform(-1, 8, 100)]),
                   tail=table(phi, [float(v) for v in rng.uniform(-8, -1, 60)]),
                   far=table(phi, [float(v) for v in rng.uniform(-37, -8, 60)])),
    normalQuantile=[[p, text(quantile(lambda x: mp.log(phi(x)) - mp.log(mp.mpf(p)),
                                      (-mp.sqrt(-2 * mp.log(mp.mpf(p))) - 1, 4)))] for p in normal_q],
    logGamma=dict(tiny=table(mp.loggamma, spread(1e-300, 0.1, 40)),
                  zeros=table(mp.loggamma, [1 + v for v in (1e-12, -1e-12, 1e-5, -1e-5, 0.01, -0.01)] + [2 + v for v in (1e-12, -1e-12, 1e-5, -1e-5, 0.01, -0.01)]),
                  normal=table(mp.loggamma, [float(v) for v in rng.uniform(0.1, 20, 200)]),
                  large=table(mp.loggamma, spread(20, 1e12, 60))),
    incompleteBeta=dict(small=beta_pair(near_peak_beta(0.05, 5, 60)), middle=beta_pair(near_peak_beta(5, 1e3, 60)),
                        large=beta_pair(near_peak_beta(1e3, 1e5, 20)),
                        tails=beta_pair([(2.0, 3.0, 1e-8), (0.5, 0.5, 1e-20), (10.0, 20.0, 0.01), (300.0, 700.0, 0.2), (1.0, 1.0, 0.3)])),
    incompleteGamma=dict(small=gamma_pair([(a, a * r) for a, r in zip(spread(0.01, 5, 60), spread(0.01, 10, 60))]),
                         middle=gamma_pair([(a, a + float(rng.uniform(-4, 4)) * a**0.5) for a in spread(20, 1e3, 60)]),
                         large=gamma_pair([(a, a + float(rng.uniform(-4, 4)) * a**0.5) for a in spread(1e3, 1e5, 20)])),
    studentTTail=[[t, nu, far_tail(t, nu)] for nu in nus for t in (1e-6, 0.3, 1.0, 2.5, 7.0, 30.0)],
    studentTQuantile=[[p, nu, text(mp.exp(quantile(lambda s: t_tail(mp.exp(s), mp.mpf(nu)) - (1 - mp.mpf(p)), (-10, 20))))]
                      for nu in nus for p in (0.5001, 0.6, 0.75, 0.9, 0.95, 0.975, 0.995, 0.9995)],
    chiSquareQuantile=[[p, nu, text(mp.exp(quantile(lambda s: igamma(mp.mpf(nu) / 2, mp.exp(s) / 2) - mp.mpf(p), (-60, mp.log(mp.mpf(nu)) + 5))))]
                       for nu in (0.5, 1.0, 2.0, 5.0, 20.0, 199.0, 1e3) for p in (1e-6, 0.025, 0.05, 0.5, 0.95, 0.975, 0.999)],
    betaQuantile=[[p, a, b, text(quantile(lambda x: ibeta(mp.mpf(a), mp.mpf(b), x) - mp.mpf(p), (mp.mpf(10) ** -12, 1 - mp.mpf(10) ** -12)))]
                  for a, b in ((0.5, 0.5), (1.0, 40.0), (3.0, 38.0), (39.0, 2.0), (190.0, 11.0), (1903.0, 98.0)) for p in (0.025, 0.5, 0.975)],
)
for name in ("legendre", "hermite"):
    rows = {}
    for n in (1, 2, 5, 16, 31, 64):
        x, w = numpy.polynomial.legendre.leggauss(n) if name == "legendre" else numpy.polynomial.hermite_e.hermegauss(n)
        rows[str(n)] = dict(nodes=x.tolist(), weights=(w / (w.sum() if name == "hermite" else 1)).tolist())
    truth[name] = rows
pathlib.Path(__file__).with_name("truth.json").write_text(json.dumps(truth) + "\n")
