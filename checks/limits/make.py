"""Limits around people and animals: printed values, and general solvers for the induced fields.

Run:  python3 checks/limits/make.py      (python 3 with numpy, scipy, mpmath; about 20 s)
Writes truth.json beside itself. SOURCE.md says where each part comes from.
"""
import json, pathlib
import mpmath as mp
import numpy as np
import scipy.sparse as sp
import scipy.sparse.linalg as spl
from scipy.special import jnp_zeros, jv

# row of our reference sheet, name of the quantity, value as printed there, relative tolerance where the sheet states one
PUBLISHED = [
    ["W26", "first level, mT pp, 1 kHz", "17.2", 1e-9],
    ["W26", "first level, mT pp, 10 kHz", "8.2", 1e-9],
    ["W26", "first level, mT pp, 25 kHz", "7.6", 1e-9],
    ["W26", "first level, mT pp, 100 kHz", "7.3", 1e-9],
    ["W26", "normal mode, mT pp, 1 kHz", "13.76", 1e-9],
    ["W26", "normal mode, mT pp, 10 kHz", "6.56", 1e-9],
    ["W26", "normal mode, mT pp, 25 kHz", "6.08", 1e-9],
    ["W26", "normal mode, mT pp, 100 kHz", "5.84", 1e-9],
    ["P5", "asymptote, mT pp, default", "7.2", 1e-9],
    ["P5", "asymptote, mT pp, measured y", "5.55", 1e-9],
    ["P5", "asymptote, mT pp, measured z", "9.88", 1e-9],
    ["P8, E12", "measured threshold at 88.1 kHz over 25 kHz", "1.39", 1e-12],
    ["trap 12", "peak-rate reading with the whole rise, over ours, inverse", "1.57", None],
    ["P6", "torso asymptote, low end, mT pp", "6", 1e-12],
    ["P6", "torso asymptote, high end, mT pp", "7", 1e-12],
    ["W27", "section mean, W/kg", "0.799438", 1e-6],
    ["W27", "surface, W/kg", "1.598876", 1e-6],
    ["W27", "surface electric field, V/m", "94.2478", 1e-6],
    ["W28", "occupational E at 25 kHz, V/m rms", "6.75", 1e-9],
    ["W28", "public E at 25 kHz, V/m rms", "3.375", 1e-9],
    ["W28", "peak factor of workers, 1e-4 V/m per Hz", "3.8184", None],
    ["P16", "occupational B at 1 kHz, mT rms", "0.3", 1e-12],
    ["P16", "occupational B at 25 kHz, mT rms", "0.1", 1e-12],
    ["P16", "public B at 1 kHz, mT rms", "0.08", 1e-12],
    ["P16", "public B at 25 kHz, mT rms", "0.027", 1e-12],
    ["P17", "occupational E at 60 Hz, V/m rms", "0.8", 1e-12],
    ["P17", "public E at 60 Hz, V/m rms", "0.4", 1e-12],
    ["P18", "workers' E below 3 kHz, V/m peak", "1.1", 1e-12],
    ["P18", "workers' E at 25 kHz, V/m peak", "9.5", 1e-12],
    ["P19", "blood, S/m, 500 Hz", "0.67", 1e-12],
    ["P19", "cerebrospinal fluid, S/m, 500 Hz", "1.8", 1e-12],
    ["P20", "muscle across fibres, S/m, 10 kHz", "0.341", 1e-12],
    ["P20", "muscle along fibres, S/m, 100 kHz", "1.086", 1e-12],
    ["P20", "fat, S/m, 1 MHz", "0.0251", 1e-12],
    ["P13", "whole body, normal, W/kg", "2", 1e-12],
    ["P13", "whole body, first level, W/kg", "4", 1e-12],
    ["P13", "head, W/kg", "3.2", 1e-12],
    ["P13", "local trunk, W/kg", "10", 1e-12],
    ["P22", "510 mg in 70 kg, mg Fe/kg", "7.286", None],
    ["P22", "510 mg, mmol Fe", "9.132", None],
    ["P23", "10 umol/kg, mg Fe/kg", "0.56", None],
    ["P24", "mouse, mg Fe", "0.29151", None],
    ["P24", "mouse, mg Fe/kg", "11.66", None],
    ["P24", "rabbit, mg Fe/kg", "2.792", None],
    ["P24", "rat, mg Fe/kg", "0.4", 1e-12],
]


def waveforms():
    """change, duration, peak rate and mean square rate of B(t) written out, by differentiation and quadrature."""
    mp.mp.dps = 25
    rows = []
    for kind, amplitude, frequency, edge in [("sine", "6e-3", "25e3", None), ("trapezoid", "5e-3", "2.5e3", "2e-5"),
                                             ("trapezoid", "5e-3", "1e4", "5e-5"), ("pulsed", "5e-3", "2.5e3", "2e-5"),
                                             ("pulsed", "20e-3", "1e4", "5e-5")]:
        A, f = mp.mpf(amplitude), mp.mpf(frequency)
        T = 1 / f
        if kind == "sine":
            edge_s = T / 2
            rise = lambda t: -A * mp.cos(2 * mp.pi * f * t)
        else:
            edge_s = mp.mpf(edge)
            rise = (lambda t: -A + 2 * A * t / edge_s) if kind == "trapezoid" else (lambda t: -A * mp.cos(mp.pi * t / edge_s))
        rate = lambda t: mp.diff(rise, t)
        mean_square = 2 * mp.quad(lambda t: rate(t) ** 2, [0, edge_s / 2, edge_s]) / T   # rise and fall alike
        peak = max(rate(edge_s * mp.mpf(i) / 200) for i in range(1, 200))
        rows.append([kind, amplitude, frequency, edge or "", mp.nstr(rise(edge_s) - rise(mp.mpf(0)), 15),
                     mp.nstr(edge_s, 15), mp.nstr(peak, 15), mp.nstr(mean_square, 15)])
    return rows


def mesh(rings, sectors, a, b):
    """Triangles between rings of an elliptic disc; ring i holds the points at i/rings of the outer ellipse."""
    angle = 2 * np.pi * np.arange(sectors) / sectors
    s = np.arange(1, rings + 1) / rings
    x = np.concatenate([[0], (a * s[:, None] * np.cos(angle)).ravel()])
    y = np.concatenate([[0], (b * s[:, None] * np.sin(angle)).ravel()])
    node = lambda i, j: 1 + (i - 1) * sectors + j % sectors
    j = np.arange(sectors)
    triangles = [np.stack([np.zeros(sectors, int), node(1, j), node(1, j + 1)], 1)]
    for i in range(1, rings):
        triangles.append(np.stack([node(i, j), node(i + 1, j), node(i + 1, j + 1)], 1))
        triangles.append(np.stack([node(i, j), node(i + 1, j + 1), node(i, j + 1)], 1))
    ring = np.concatenate([np.full(len(t), max(k // 2 + k % 2, 0)) for k, t in enumerate(triangles)])
    return x, y, np.concatenate(triangles), ring


def solve_section(a, b, layers, rings):
    """Linear finite elements for the stream function: div(grad psi / sigma) = -dB/dt with dB/dt = 1, psi = 0 outside.

    J = (d psi/dy, -d psi/dx), so the tissue border carries no current; nothing here knows that E runs in circles.
    Returns mean of sigma E^2 over mean density; the largest sigma E^2/density at the ends of the short axis, layer by
    layer from inside; E at the outer end; and the mean of sigma y^2 over mean density (a field across, loops lengthwise).
    """
    sectors = 4 * rings
    x, y, tri, ring = mesh(rings, sectors, a, b)
    centre = (ring + 0.5) / rings
    edges = [outer for outer, _, _ in layers]
    index = np.searchsorted(edges, centre)
    sigma = np.array([s for _, s, _ in layers])[index]
    density = np.array([d for _, _, d in layers])[index]
    X, Y = x[tri], y[tri]
    gx = np.stack([Y[:, 1] - Y[:, 2], Y[:, 2] - Y[:, 0], Y[:, 0] - Y[:, 1]], 1)
    gy = np.stack([X[:, 2] - X[:, 1], X[:, 0] - X[:, 2], X[:, 1] - X[:, 0]], 1)
    area = 0.5 * np.abs((X[:, 1] - X[:, 0]) * (Y[:, 2] - Y[:, 0]) - (X[:, 2] - X[:, 0]) * (Y[:, 1] - Y[:, 0]))
    local = (gx[:, :, None] * gx[:, None, :] + gy[:, :, None] * gy[:, None, :]) / (4 * area * sigma)[:, None, None]
    rows, cols = np.repeat(tri, 3, 1).ravel(), np.tile(tri, (1, 3)).ravel()
    stiffness = sp.coo_matrix((local.ravel(), (rows, cols)), shape=(len(x), len(x))).tocsc()
    load = np.bincount(tri.ravel(), np.repeat(area / 3, 3), minlength=len(x))
    free = np.arange(1 + (rings - 1) * sectors)
    psi = np.zeros(len(x))
    psi[free] = spl.spsolve(stiffness[free][:, free], load[free])
    power = psi @ load                                # = integral of |grad psi|^2 / sigma
    mass = np.sum(area * density)
    def field_inside(part, conductivity):             # three nodes inward of a layer's border, on the short axis
        border = round(part * rings)
        end = [psi[1 + (i - 1) * sectors + sectors // 4] for i in (border, border - 1, border - 2)]
        return abs(3 * end[0] - 4 * end[1] + end[2]) / (2 * b / rings) / conductivity
    fields = [field_inside(part, s) for part, s, _ in layers]
    highest = max(s * e**2 / d for (_, s, d), e in zip(layers, fields))
    steps = np.einsum("ti,ti->t", gx, psi[tri]) ** 2 + np.einsum("ti,ti->t", gy, psi[tri]) ** 2
    assert (steps / (4 * area**2 * sigma * density)).max() < highest * (1 + 2e-3), "worst point elsewhere"
    middles = (Y + np.roll(Y, 1, 1)) / 2
    across = np.sum(sigma * area * (middles**2).mean(1)) / mass
    return np.array([power / mass, highest, fields[-1], across])


def sections():
    """Two meshes and the limit of their errors, which fall as 1/rings^2; the third mesh says how far that holds."""
    cases = [
        ["circle", 0.2, 0.2, [(1, 0.36, 1000)]],
        ["ellipse", 0.2, 0.15, [(1, 0.36, 1000)]],
        ["flat ellipse", 0.2, 0.08, [(1, 0.36, 1000)]],
        ["three layers", 0.2, 0.2, [(0.5, 0.67, 1060), (0.9, 0.34, 1090), (1, 0.025, 910)]],
        ["skin on bone", 0.09, 0.09, [(0.8, 0.1, 1040), (0.9, 1.8, 1000), (1, 0.43, 1100)]],
    ]
    rows = []
    for name, a, b, layers in cases:
        coarse, middle, fine = (solve_section(a, b, layers, n) for n in (40, 80, 160))
        best, before = (4 * fine - middle) / 3, (4 * middle - coarse) / 3
        rows.append([name, a, b, layers, *[f"{v:.12g}" for v in best],
                     *[f"{abs(v):.2g}" for v in (best - before) / best]])
    return rows


def finite_cylinders():
    """A cylinder of half length h in a uniform field across it, by its series of Bessel functions (radius 1, dB/dt 1).

    E = -r sin(phi) z - grad(Phi sin(phi)); Laplace, no current through mantle (zeros of J1') and ends.
    Returns [h, E on the mantle at half length, largest E anywhere on a grid].
    """
    zeros = jnp_zeros(1, 600)
    c = 2 / ((zeros**2 - 1) * jv(1, zeros))
    rows = []
    for h in (1, 2, 5, 20):
        r, z = np.linspace(0.01, 1, 60), np.linspace(0, h, 80)
        ez, radial, around = (np.zeros((60, 80)) for _ in range(3))
        for x, cn in zip(zeros, c):
            up = np.exp(x * (z - h)) / (1 + np.exp(-2 * x * h))
            down = np.exp(-x * (z + h)) / (1 + np.exp(-2 * x * h))
            cosh, sinh = up + down, up - down         # over cosh(x h)
            bessel, slope = jv(1, x * r), jv(0, x * r) - jv(1, x * r) / (x * r)
            ez += cn * np.outer(bessel, cosh)
            radial += cn * np.outer(slope, sinh)
            around += cn * np.outer(bessel / (x * r), sinh)
        ez = r[:, None] - ez                           # along z, times sin(phi); radial too; around times cos(phi)
        largest = np.sqrt(np.maximum(ez**2 + radial**2, around**2)).max()
        rows.append([h, f"{ez[-1, 0]:.12g}", f"{largest:.12g}"])
    return rows


def main():
    block = lambda rows: "[\n  " + ",\n  ".join(json.dumps(row) for row in rows) + "\n ]"
    tables = {
        "published: row, quantity, value, relative tolerance": PUBLISHED,
        "waveforms: kind, amplitude_T, frequency_Hz, edge_s, change_T, duration_s, peakRate, meanSquareRate": waveforms(),
        "sections: name, a_m, b_m, layers (outer part, S/m, kg/m3), mean and highest for 1 T2/s2, E for 1 T/s, mean for a field across; their own error": sections(),
        "finite cylinders, field across: half length/radius, E at the middle, largest E, over radius x dB/dt": finite_cylinders(),
    }
    text = ",\n".join(f' "{name}": {block(rows)}' for name, rows in tables.items())
    pathlib.Path(__file__).with_name("truth.json").write_text("{\n" + text + "\n}\n")


main()
