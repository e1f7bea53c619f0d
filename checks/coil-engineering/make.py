"""Skin effect, eddy losses and inductances by methods that the program does not use.

Run:  python3 checks/coil-engineering/make.py     (python 3 with mpmath 1.3, numpy, scipy; under a minute)
Writes truth.json beside itself. Lengths in m; inductances over mu0, in m; one turn each.
"""
import json, pathlib
import mpmath as mp
import numpy as np
from scipy.special import ellipe, ellipkm1, itj0y0, j0, j1

mp.mp.dps = 30
NODES, WEIGHTS = np.polynomial.legendre.leggauss(48)


def text(v):
    return mp.nstr(mp.mpf(v), 20, min_fixed=1, max_fixed=0)


# --- a round wire, alone and in a field across it ---------------------------------------------------------------
def skin(q):
    """Z/R0 = (ka/2) J0/J1, k = (1 - i)/delta; resistance ratio and inductance ratio."""
    z = (1 - 1j) * mp.mpf(q)
    f = z / 2 * mp.besselj(0, z) / mp.besselj(1, z)
    return f.real, f.imag * 4 / mp.mpf(q) ** 2


def eddy(q):
    """Loss per metre of a copper cylinder, radius q delta, in 1 mT peak at 25 kHz across it, exact: radius and W/m.
    A inside = 2 B0/(k J0(ka)) J1(kr) sin(phi), from continuity of A and of its slope at r = a; loss = sigma w^2 |A|^2/2."""
    rho, omega, mu0 = mp.mpf("1.7241e-8"), 2 * mp.pi * 25000, mp.mpf("1.25663706127e-6")
    delta = mp.sqrt(2 * rho / (omega * mu0))
    a, k = mp.mpf(q) * delta, (1 - 1j) / delta
    c = 2 * mp.mpf("1e-3") / (k * mp.besselj(0, k * a))
    return a, mp.pi * omega**2 / (2 * rho) * mp.quad(lambda r: abs(c * mp.besselj(1, k * r)) ** 2 * r, [0, a])


# --- coaxial -------------------------------------------------------------------------------------------------------
def loops(r1, r2, z):
    """Maxwell: sqrt(r1 r2) ((2/k - k) K - (2/k) E)."""
    with mp.workdps(60):
        r1, r2, z = mp.mpf(r1), mp.mpf(r2), mp.mpf(z)
        m = 4 * r1 * r2 / ((r1 + r2) ** 2 + z * z)
        k = mp.sqrt(m)
        return mp.sqrt(r1 * r2) * ((2 / k - k) * mp.ellipk(m) - 2 / k * mp.ellipe(m))


def lorenz(a, length):
    """Thin sheet, one turn, Lorenz 1879: [d (l^2 (K - E) + 4 a^2 E) - 8 a^3] / (3 l^2), d^2 = 4 a^2 + l^2, m = 4 a^2/d^2."""
    with mp.workdps(60):
        a, l = mp.mpf(a), mp.mpf(length)
        d = mp.sqrt(4 * a * a + l * l)
        m = 4 * a * a / (d * d)
        K, E = mp.ellipk(m), mp.ellipe(m)
        return (d * (l * l * (K - E) + 4 * a * a * E) - 8 * a**3) / (3 * l * l)


def radial(k, inner, outer):
    """Mean over the radii of r J1(k r): Gauss-Legendre where few waves fit the width, else
    int r J1(kr) dr = (int_0^kr J0 - kr J0(kr)) / k^2."""
    if inner == outer:
        return inner * j1(k * inner)
    if k[-1] * (outer - inner) < 40:
        r = (inner + outer) / 2 + (outer - inner) / 2 * NODES
        return j1(np.outer(k, r)) @ (r * WEIGHTS / 2)
    at = lambda r: (itj0y0(k * r)[0] - k * r * j0(k * r)) / k**2
    return (at(outer) - at(inner)) / (outer - inner)


def axial(k, a, b):
    """Mean of exp(-k |z1 - z2|) over both lengths."""
    (a1, a2), (b1, b2) = a, b
    if a1 == a2:
        a, b, (a1, a2), (b1, b2) = b, a, (b1, b2), (a1, a2)
    if a1 == a2:
        return np.exp(-k * abs(a1 - b1))
    if b1 == b2:
        z = b1
        if z >= a2 or z <= a1:
            near, far = sorted((abs(z - a1), abs(z - a2)))
            return (np.exp(-k * near) - np.exp(-k * far)) / (k * (a2 - a1))
        return (2 - np.exp(-k * (z - a1)) - np.exp(-k * (a2 - z))) / (k * (a2 - a1))
    # second difference of g(z) = exp(-k|z|)/k^2 + |z|/k, whose second derivative is exp(-k|z|)
    g = lambda z: np.exp(-k * abs(z)) / k**2 + abs(z) / k
    return (g(a2 - b1) + g(a1 - b2) - g(a2 - b2) - g(a1 - b1)) / ((a2 - a1) * (b2 - b1))


def wave(a, b, top, offset=0):
    """M/mu0 = pi int_0^inf <r J1>_a <r J1>_b <exp(-k|dz|)> dk, section = (inner, outer, from, to);
    axes that are parallel at a distance c bring in a factor J0(k c).
    Panels of Gauss-Legendre up to `top`; beyond it the mean of the oscillation, by the leading terms of J1."""
    size = max(a[1], b[1], offset)
    edges = np.concatenate([[0, 0.02, 0.1, 0.3], np.arange(1, int(top * size) + 1)]) / size
    t, w = np.polynomial.legendre.leggauss(14)
    total = 0.0
    for start in range(0, len(edges) - 1, 200):
        block = edges[start : start + 201]
        half = np.diff(block) / 2
        k = ((block[:-1] + block[1:])[:, None] / 2 + half[:, None] * t).ravel()
        weight = (half[:, None] * w).ravel()
        f = radial(k, a[0], a[1]) * radial(k, b[0], b[1]) * axial(k, a[2:], b[2:]) * j0(k * offset)
        total += f @ weight
    total += tail(a, b, edges[-1]) if offset == 0 else 0.0
    return float(np.pi * total)


def tail(a, b, top):
    """int_top^inf of the part that does not oscillate: a section with itself, <r J1>^2 -> (Ro + Ri)/(2 pi k^3 w^2) twice,
    or a/(pi k) for a sheet; axial 2/(kl) - 2/(kl)^2. Two sheets of one radius end to end: axial 1/(k^2 l1 l2)."""
    same_sheet = a[0] == a[1] == b[0] == b[1]
    if a != b:
        return a[0] / np.pi / (2 * top**2 * (a[3] - a[2]) * (b[3] - b[2])) if same_sheet and a[3] == b[2] else 0.0
    inner, outer, z1, z2 = a
    l = z2 - z1
    return (inner + outer) / (np.pi * (outer - inner) ** 2) * (2 / l / (3 * top**3) - 2 / l**2 / (4 * top**4))


def loop_flux(r1, r2, z):
    """As `loops`, in double precision, with the complementary parameter formed without cancellation."""
    far = (r1 + r2) ** 2 + z * z
    m = np.minimum(4 * r1 * r2 / far, 1)
    mc = ((r1 - r2) ** 2 + z * z) / far
    k = np.sqrt(m)
    return np.sqrt(r1 * r2) * ((2 / k - k) * ellipkm1(mc) - 2 / k * ellipe(m))


def ring(q):
    """Ring of round section, radius 1, section radius q, uniform current density: the mean of `loop_flux` over pairs of
    points, the inner mean in polar coordinates about the outer point (the logarithm is then s ln s)."""
    tp, wp = np.polynomial.legendre.leggauss(12)
    p = q * np.sqrt((tp + 1) / 2)  # even in area
    beta = (np.arange(20) + 0.5) / 20 * np.pi  # upper half: mirror image
    phi = np.arange(256) / 256 * 2 * np.pi
    ts, ws = np.polynomial.legendre.leggauss(28)
    v = (ts + 1) / 2
    total = 0.0
    for pi, wi in zip(p, wp / 2):
        s_end = -pi * np.cos(phi) + np.sqrt(q * q - (pi * np.sin(phi)) ** 2)
        for b in beta:
            s = s_end[:, None] * v**2
            ds = s_end[:, None] * 2 * v * ws / 2
            x1, z1 = 1 + pi * np.cos(b), pi * np.sin(b)
            m = loop_flux(x1, x1 + s * np.cos(phi[:, None] + b), s * np.sin(phi[:, None] + b))
            total += wi / len(beta) * np.sum(m * s * ds) * (2 * np.pi / len(phi)) / (np.pi * q * q)
    return float(total)


# --- any position ---------------------------------------------------------------------------------------------------
def ring_path(center, normal, radius, n):
    normal = np.array(normal, float)
    u = np.cross(normal, [1, 0, 0] if abs(normal[0]) < 0.5 else [0, 1, 0])
    u /= np.linalg.norm(u)
    v = np.cross(normal, u)
    a = (np.arange(n) + 0.5) / n * 2 * np.pi
    points = np.array(center) + radius * (np.cos(a)[:, None] * u + np.sin(a)[:, None] * v)
    return points, radius * 2 * np.pi / n * (-np.sin(a)[:, None] * u + np.cos(a)[:, None] * v)


def rectangle_path(center, normal, edge, size, n):
    normal, edge = np.array(normal, float), np.array(edge, float)
    other = np.cross(normal, edge)
    t, w = np.polynomial.legendre.leggauss(n)
    corner = lambda i, j: np.array(center) + i * edge * size[0] / 2 + j * other * size[1] / 2
    corners = [corner(-1, -1), corner(1, -1), corner(1, 1), corner(-1, 1)]
    points, steps = [], []
    for a, b in zip(corners, corners[1:] + corners[:1]):
        points.append((a + b) / 2 + np.outer(t, (b - a) / 2))
        steps.append(np.outer(w, (b - a) / 2))
    return np.concatenate(points), np.concatenate(steps)


def neumann(p, q):
    (x, dx), (y, dy) = p, q
    return float(np.sum((dx @ dy.T) / np.linalg.norm(x[:, None] - y[None], axis=2)) / (4 * np.pi))


def paths(shape, n):
    """A winding as weighted paths."""
    kind = shape["kind"]
    if kind == "loop":
        return [(1.0, ring_path(shape["center_m"], shape["normal"], shape["radius_m"], n))]
    if kind == "rectangle":
        return [(1.0, rectangle_path(shape["center_m"], shape["normal"], shape["edge"], shape["size_m"], n))]
    t, w = np.polynomial.legendre.leggauss(9)
    inner, outer, l = shape["innerRadius_m"], shape["outerRadius_m"], shape["length_m"]
    radii = [(inner, 2.0)] if inner == outer else [((inner + outer) / 2 + (outer - inner) / 2 * s, u) for s, u in zip(t, w)]
    normal = np.array(shape["normal"], float)
    return [
        (u / 2 * x / 2, ring_path(np.array(shape["center_m"]) + normal * l / 2 * s, shape["normal"], r, n // 4))
        for r, u in radii
        for s, x in zip(t, w)
    ]


def pair(a, b, n):
    return sum(w * v * neumann(p, q) for w, p in paths(a, n) for v, q in paths(b, n))


def rectangle_self(size, radius):
    """Straight wires of mean distance g = r exp(-1/4) within, Neumann's double integral between opposite ones."""
    a, b = map(mp.mpf, size)
    g = mp.mpf(radius) * mp.exp(mp.mpf(-1) / 4)

    def parallel(l, d):
        # int_0^l int_0^l dx dy / sqrt((x - y)^2 + d^2) = 2 int_0^l (l - u)/sqrt(u^2 + d^2) du
        return 2 * mp.quad(lambda u: (l - u) / mp.sqrt(u * u + d * d), [0, min(d, l / 2), min(30 * d, 0.7 * l), l])

    own = sum(2 * 2 * (mp.asinh(l / g) * l - mp.sqrt(l * l + g * g) + g) for l in (a, b))
    return (own - 2 * parallel(a, b) - 2 * parallel(b, a)) / (4 * mp.pi)


T = {"kind": "loop", "center_m": [0, 0, 0], "normal": [0, 0, 1], "radius_m": 0.1}
S = {"kind": "coil-stack", "center_m": [0, 0, 0], "normal": [0, 0, 1], "innerRadius_m": 0.05, "outerRadius_m": 0.07, "length_m": 0.06}
R = {"kind": "rectangle", "center_m": [0, 0, 0.05], "normal": [0, 0, 1], "edge": [1, 0, 0], "size_m": [0.2, 0.12]}
PAIRS = [
    (T, {**T, "center_m": [0.03, 0.01, 0.08], "normal": [0, 0.6, 0.8], "radius_m": 0.07}, 600),
    (T, {**T, "center_m": [0.3, 0, 0], "radius_m": 0.12}, 600),
    (T, {**T, "center_m": [0.5, 0.4, -0.2], "normal": [0.8, 0, 0.6], "radius_m": 0.05}, 400),
    (T, R, 200),
    (R, {**R, "center_m": [0.02, 0.01, -0.03], "size_m": [0.15, 0.2]}, 120),
    (R, {**R, "center_m": [0.4, 0.0, 0.2], "normal": [0.6, 0, 0.8], "edge": [0, 1, 0]}, 60),
    (S, {**S, "center_m": [0.2, 0.02, 0.03], "normal": [0.6, 0, 0.8]}, 240),
    (S, {**T, "center_m": [0.02, 0.0, 0.09], "normal": [0, 0.28, 0.96]}, 400),
    (S, R | {"center_m": [0, 0.01, 0.07]}, 160),
    (S, {**S, "center_m": [0.03, 0, 0.15], "innerRadius_m": 0.06, "outerRadius_m": 0.06}, 400),
]
SELF = [  # inner, outer, length
    [1, 2, 1],  # Brooks coil: square section c, inner radius c
    [1, 1.2, 2],
    [1, 1.01, 10],
    [0.5, 2, 0.05],
    [1, 1.5, 0.2],
    [1, 1.02, 0.02],
    [0.2, 2, 3],
    [0.5, 2, 0.005],
]
COAXIAL = [  # two sections: inner, outer, from, to
    [[1, 1.2, 0, 0.5], [1, 1.2, 0.5, 1]],  # touching end to end
    [[1, 1.2, -0.5, 0.5], [1.2, 1.5, -0.3, 0.6]],  # wound on top
    [[1, 1.2, -0.5, 0.5], [1.3, 1.5, -0.2, 0.1]],
    [[1, 1.2, -0.8, -0.5], [1, 1.2, 0.5, 0.8]],
    [[0.3, 0.5, 4, 6], [1, 1.2, -0.5, 0.5]],
    [[1, 1, -1, 1], [0.5, 0.5, -0.2, 0.3]],  # two sheets
    [[1, 1, -1, 1], [1, 1, 1, 1.5]],
    [[1, 1.2, -0.5, 0.5], [0.8, 0.8, 0.2, 0.2]],  # a loop inside
    [[1, 1.2, -0.5, 0.5], [1.1, 1.1, 0.7, 0.7]],
    [[1, 1.2, 0, 0.1], [0.95, 1.6, 0.12, 0.4]],
]
PARALLEL = [  # two sections and the distance of their axes
    [[1, 1.4, -0.6, 0.6], [1, 1.4, -0.6, 0.6], 4],
    [[1, 1.4, -0.6, 0.6], [1, 1.4, -0.6, 0.6], 2.9],  # a gap of a quarter of the section's width
    [[1, 1.4, -0.6, 0.6], [1, 1.4, 0.65, 1], 0.5],
    [[1, 1.4, -0.6, 0.6], [0.3, 0.5, -0.2, 0.5], 0.45],  # inside
    [[1, 1.4, -0.6, 0.6], [0.8, 0.8, 0, 0], 0.15],  # a loop inside, close to the winding
]


def main():
    qs = ["1e-3", "0.1", "0.5", "1", "2", "5", "20", "100", "900", "2e4"]
    rows = {
        "skin: a/delta, R/R0, L/L0": [[q, *map(text, skin(q))] for q in qs],
        "strand across 1 mT at 25 kHz: a/delta, a, loss in W/m": [[q, *map(text, eddy(q))] for q in ["1e-2", "0.25", "0.5", "1", "2"]],
        "loops: r1, r2, z, M/mu0": [
            [a, b, z, text(loops(a, b, z))]
            for a, b, z in [
                ("1", "1", "1"), ("1", "1", "1e-6"), ("1", "0.999999", "0"), ("1", "0.5", "0.25"), ("1", "0.01", "0"),
                ("0.3", "2", "40"), ("1", "1", "1e4"), ("1e-3", "1", "0.7"),
            ]
        ],
        "sheet (Lorenz): a, l, L/mu0": [
            [a, l, text(lorenz(a, l))]
            for a, l in [("1", "1e-4"), ("1", "9e-4"), ("1", "1.1e-3"), ("1", "0.02"), ("1", "0.5"), ("1", "2"), ("1", "20"), ("1", "1e3")]
        ],
        "stack (wave numbers): inner, outer, length, L/mu0": [[*s, text(wave((s[0], s[1], 0, s[2]), (s[0], s[1], 0, s[2]), 40000 if min(s[1] - s[0], s[2]) < 0.03 else 8000))] for s in SELF],
        "coaxial (wave numbers): section, section, M/mu0": [[a, b, text(wave(tuple(a), tuple(b), 400000 if a[0] == a[1] else 25000))] for a, b in COAXIAL],
        "parallel axes (wave numbers): section, section, distance, M/mu0": [[a, b, c, text(wave(tuple(a), tuple(b), 8000, c))] for a, b, c in PARALLEL],
        "ring of round section: r/a, L/(mu0 a)": [[q, text(ring(float(q)))] for q in ["1e-3", "0.02", "0.05", "0.1", "0.2"]],
        "rectangle of round wire: a, b, r, L/mu0": [
            [a, b, r, text(rectangle_self((a, b), r))]
            for a, b, r in [("1", "1", "1e-7"), ("1", "0.3", "1e-7"), ("2", "5", "1e-6"), ("1", "1", "1e-3"), ("1", "0.5", "1e-2")]
        ],
        "any position (double sums): shape, shape, M/mu0": [[a, b, text(pair(a, b, n))] for a, b, n in PAIRS],
    }
    body = ",\n".join(
        f' {json.dumps(name)}: [\n  ' + ",\n  ".join(json.dumps(r) for r in table) + "\n ]" for name, table in rows.items()
    )
    pathlib.Path(__file__).with_name("truth.json").write_text("{\n" + body + "\n}\n")


if __name__ == "__main__":
    main()
