"""Langevin curves averaged over log-normal core sizes, by adaptive high-precision quadrature.

Run:  python3 checks/size-distribution/make.py      (python 3 with mpmath; 30 working digits)
Writes truth.json beside itself. Diameters in units of the number-weighted median d0, so xi = xi0 (d/d0)^3 with xi0 the
argument of the median core. The integrals are taken over the *number* density with the weight d^3 written out, which is
not how the program does it (it moves the median instead).
"""
import json, pathlib
import mpmath as mp

mp.mp.dps = 30
SDS = ["0.02", "0.1", "0.25", "0.4", "0.6", "0.8"]
ARGUMENTS = ["1e-3", "0.3", "3", "30", "1e3"]


def langevin(x):
    if x < mp.mpf("1e-3"):
        return x / 3 - x**3 / 45 + 2 * x**5 / 945 - x**7 / 4725 + 2 * x**9 / 93555
    return mp.coth(x) - 1 / x if x < 100 else 1 - 1 / x + 2 * mp.exp(-2 * x)


def slope(x):
    if x < mp.mpf("1e-3"):
        return mp.mpf(1) / 3 - x**2 / 15 + 2 * x**4 / 189 - x**6 / 675 + 2 * x**8 / 10395
    return 1 / x**2 - 1 / mp.sinh(x) ** 2 if x < 100 else 1 / x**2 - 4 * mp.exp(-2 * x)


def mean(f, s):
    """<f(d/d0)> over the number of particles; split where the d^6 weight peaks so that no piece hides its mass."""
    density = lambda z: mp.exp(-z * z / 2) / mp.sqrt(2 * mp.pi)
    ends = [-16, -12, -8, -6, -4, -2, 0, 2, 4, 6, 8, 10, 13, 16, 20]
    return mp.quad(lambda z: density(z) * f(mp.exp(s * z)), ends)


def magnetisation(xi0, s):
    return mean(lambda q: q**3 * langevin(xi0 * q**3), s) / mean(lambda q: q**3, s)


def slope_in_xi0(xi0, s):
    return mean(lambda q: q**6 * slope(xi0 * q**3), s) / mean(lambda q: q**3, s)


def full_width(profile, s):
    """2 x of profile(x) = profile(0)/2, bracketed in ln x, in xi0. At zero both profiles are <d^6> / (3 <d^3>)."""
    peak = mp.exp(mp.mpf(27) / 2 * s * s) / 3
    root = mp.findroot(lambda t: 2 * profile(mp.exp(t)) / peak - 1, (-14, 3), solver="anderson", tol=1e-40)
    return 2 * mp.exp(root)


def text(v):
    return mp.nstr(v, 20, min_fixed=1, max_fixed=0)


def main():
    curves, moments, widths = [], [], []
    for sd in SDS:
        s = mp.mpf(float(sd))
        for argument in ARGUMENTS:
            xi0 = mp.mpf(float(argument))
            curves.append([sd, argument, text(magnetisation(xi0, s)), text(slope_in_xi0(xi0, s))])
        for order in (1, 3, 6):
            moments.append([sd, order, text(mean(lambda q: q**order, s))])
    for sd in ["0.1", "0.25", "0.4", "0.8"]:
        s = mp.mpf(float(sd))
        along = full_width(lambda x: slope_in_xi0(x, s), s)
        across = full_width(lambda x: magnetisation(x, s) / x, s)
        widths.append([sd, text(along), text(across)])
    block = lambda rows: "[\n  " + ",\n  ".join(json.dumps(r) for r in rows) + "\n ]"
    pathlib.Path(__file__).with_name("truth.json").write_text(
        '{\n "curves: logSd, xi0, M/Ms, d(M/Ms)/dxi0": ' + block(curves)
        + ',\n "moments: logSd, order, <(d/d0)^order>": ' + block(moments)
        + ',\n "widths in xi0: logSd, along, across": ' + block(widths) + "\n}\n")


main()
