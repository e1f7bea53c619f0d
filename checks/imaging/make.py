"""Voltages, harmonics, widths and integrals of an ideal tracer in an ideal gradient, from their definitions.

Run:  python3 checks/imaging/make.py      (python 3 with mpmath, numpy and scipy)
Writes truth.json beside itself. Tracer of the fact sheet: 25 nm, 446 kA/m, 300 K, 5180 kg/m3, iron fraction 0.7236.
"""
import json, pathlib
import mpmath as mp
import numpy as np
from scipy import integrate

mp.mp.dps = 30
KB = mp.mpf("1.380649e-23")
VOLUME = mp.pi * mp.mpf("25e-9") ** 3 / 6
XI_PER_T = mp.mpf("446e3") * VOLUME / (KB * 300)
MOMENT_PER_IRON = mp.mpf("446e3") / (5180 * mp.mpf("0.7236"))


def langevin(x):
    x = mp.mpf(x)
    return x / 3 - x**3 / 45 + 2 * x**5 / 945 if abs(x) < mp.mpf("1e-6") else mp.coth(x) - 1 / x


def slope(x):
    x = mp.mpf(x)
    return mp.mpf(1) / 3 - x**2 / 15 + 2 * x**4 / 189 if abs(x) < mp.mpf("1e-5") else 1 / x**2 - 1 / mp.sinh(x) ** 2


def cosine_harmonic(xi0, n):
    """Coefficient of cos(n theta) in L(xi0 cos theta)."""
    f = lambda t: langevin(xi0 * mp.cos(t)) * mp.cos(n * t)
    return 2 / mp.pi * mp.quad(f, mp.linspace(0, mp.pi, 9))


def collinear(along_T, across_T):
    """Collinear response over its peak at field (along, across), numpy arrays; L' along, L/xi across."""
    b = np.hypot(along_T, across_T)
    xi = float(XI_PER_T) * b
    small = xi < 1e-2
    safe = np.where(small, 1, xi)
    tangential = np.where(small, 1 / 3 - xi**2 / 15, 1 / safe**2 - 1 / np.sinh(np.minimum(safe, 300)) ** 2)
    normal = np.where(small, 1 / 3 - xi**2 / 45, (1 / np.tanh(safe) - 1 / safe) / safe)
    cos2 = np.where(b == 0, 1, along_T**2 / np.where(b == 0, 1, b) ** 2)
    return 3 * (tangential * cos2 + normal * (1 - cos2))


def integral_mm3(half_m):
    """Response over its peak, integrated over a cube of this half width; drive z, gradients -3.5, -3.5, 7 T/m."""
    # Graded Gauss panels: the response is 1 mm wide and its tails fall as 1/r.
    edges = np.concatenate([[0], np.geomspace(0.25e-3, half_m, 14)])
    x, w = np.polynomial.legendre.leggauss(12)
    nodes = np.concatenate([(a + b) / 2 + (b - a) / 2 * x for a, b in zip(edges, edges[1:])])
    weights = np.concatenate([(b - a) / 2 * w for a, b in zip(edges, edges[1:])])
    rho = np.hypot(nodes[:, None], nodes[None, :])
    total = 0.0
    for z, wz in zip(nodes, weights):
        total += wz * np.sum(weights[:, None] * weights[None, :] * collinear(7 * z, 3.5 * rho))
    return 8 * total * 1e9


width_along = 2 * mp.findroot(lambda x: slope(x) - mp.mpf(1) / 6, 2)
width_across = 2 * mp.findroot(lambda x: langevin(x) / x - mp.mpf(1) / 6, 4.7)
mm = lambda width, gradient: mp.nstr(width / XI_PER_T / gradient * 1000, 12)

# Peak of dm/dt at the field-free point: the slope is largest where the drive is fastest.
peak_rate = mp.mpf("1e-12") * MOMENT_PER_IRON * XI_PER_T / 3 * 2 * mp.pi * 25000 * mp.mpf("0.02")
loop = 4 * mp.pi * mp.mpf("1e-7") / (2 * mp.mpf("0.02"))

truth = {
    "N14": {"momentRate_A_m2_per_s": mp.nstr(peak_rate, 12), "loop_T_per_A": mp.nstr(loop, 12),
            "voltage_V": mp.nstr(loop * peak_rate, 12)},
    "harmonics": [{"row": row, "xi0": xi0, "n": [1, 3, 5, 7], "value": [mp.nstr(cosine_harmonic(xi0, n), 18) for n in (1, 3, 5, 7)]}
                  for row, xi0 in (("W9", 5), ("W10", 10))],
    "step": [{"n": n, "y": y, "value": mp.nstr(mp.sin(n * mp.acos(mp.mpf(str(y)))), 18)}
             for n, y in ((2, 0.5), (3, 0.5), (5, 0.3), (7, -0.6))],
    "widths_mm": {"z": {"x": mm(width_across, 3.5), "y": mm(width_across, 3.5), "z": mm(width_along, 7)},
                  "x": {"x": mm(width_along, 3.5), "y": mm(width_across, 3.5), "z": mm(width_across, 7)}},
    "integrals": [{"half_mm": half, "value_mm3": float("%.8g" % integral_mm3(half * 1e-3))} for half in (3, 10, 20)],
}
pathlib.Path(__file__).with_name("truth.json").write_text(json.dumps(truth, indent=1) + "\n")
print(json.dumps(truth, indent=1))
