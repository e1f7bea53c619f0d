"""What a notch at the drive frequency takes from the velocity-normalised image of one patch.

Run:  python3 checks/lost-fundamental/make.py      (python 3 with mpmath; 30 working digits)
Writes truth.json beside itself. b = (2/pi) integral over -1..1 of rho(y) sqrt(1 - y^2), by adaptive quadrature in the
angle; the closed forms of facts D5 are kept beside it.
"""
import json, pathlib
import mpmath as mp

mp.mp.dps = 30


def baseline(rho, breaks=()):
    f = lambda t: rho(mp.cos(t)) * mp.sin(t) ** 2
    points = sorted({mp.mpf(0), mp.pi, *(mp.acos(b) for b in breaks)})
    return 2 / mp.pi * mp.quad(f, points)


def slope(x):
    return mp.mpf(1) / 3 - x**2 / 15 + 2 * x**4 / 189 if abs(x) < mp.mpf("1e-4") else 1 / x**2 - 1 / mp.sinh(x) ** 2


rows = [
    ("y2", "W21", baseline(lambda y: y * y), "1/4"),
    ("abs", "W21", baseline(abs, (0,)), "4/(3 pi)"),
    ("exp", "W21", baseline(mp.exp), "2 I_1(1)"),
    ("odd", "D5", mp.mpf(0), "0"),
    ("response", "a Langevin response at y = 0.3, xi = 12 y", baseline(lambda y: slope(12 * (y - mp.mpf("0.3"))), (0.3,)), ""),
]
closed = {"1/4": mp.mpf(1) / 4, "4/(3 pi)": 4 / (3 * mp.pi), "2 I_1(1)": 2 * mp.besseli(1, 1), "0": mp.mpf(0)}
for name, _, value, form in rows:
    assert form == "" or abs(value - closed[form]) < mp.mpf("1e-25"), name
truth = {name: {"row": row, "value": mp.nstr(value, 20), "closedForm": form} for name, row, value, form in rows}
pathlib.Path(__file__).with_name("truth.json").write_text(json.dumps(truth, indent=1) + "\n")
print(json.dumps(truth, indent=1))
