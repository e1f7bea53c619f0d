"""Fields of coils and magnets from the laws themselves, by quadrature that shares nothing with the program.

Run:  python3 checks/coil-fields/make.py      (python 3 with numpy, scipy, mpmath; about half a minute)
Writes truth.json beside itself. All fields are for mu0 I = 1 T m or mu0 M = 1 T (so no value of mu0 enters).

  elliptic   mpmath's K, E; cel by mpmath quadrature of its definition
  loops      Biot-Savart integral over the angle, 40 digits (mpmath)
  stacks     loops in the textbook K, E form, integrated over the winding's section: thin ones by mpmath, thick ones by
             tanh-sinh in both directions, split at the observer, in double precision with scipy's K, E
  segments   Biot-Savart along the wire (mpmath)
  blocks     B by surface *currents* M x n (the program uses charges), tanh-sinh or mpmath Gauss rule over the faces
  sectors    axial M by surface *charges* with the flat ends, in-plane M by surface *currents* with the flat ends
             (the program uses the other one of each); A by surface currents
"""
import json, pathlib
import mpmath as mp
import numpy as np
from scipy.special import ellipe, ellipkm1

mp.mp.dps = 40
rng = np.random.default_rng(20261210)


def elliptic():
    rows = []
    for m in ["-1e6", "-3", "-0.5", "-1e-9", "0", "1e-12", "0.01", "0.3", "0.5", "0.8", "0.95", "0.999", "0.9999999", "0.999999999999"]:
        x = mp.mpf(float(m))
        rows.append([float(m), text(mp.ellipk(x)), text(mp.ellipe(x))])
    return rows


def general():
    rows = []
    cases = [(0.1, 4.1, 1.2, 1.1), (0.1, -4.1, 1.2, 1.1), (0.5, 1, 1, 1), (0.5, 0.25, 1, 2), (1e-3, 0.1, 1, 0),
             (0.99, 2, 1, 3), (3, 0.4, 2, 1), (20, 50, 0, 1), (1e-5, 1e-4, 1, 1), (0.3, -0.5, 1, 0.2)]
    for case in cases:
        kc, p, a, b = (mp.mpf(float(v)) for v in case)
        f = lambda t: (a * mp.cos(t) ** 2 + b * mp.sin(t) ** 2) / ((mp.cos(t) ** 2 + p * mp.sin(t) ** 2) * mp.sqrt(mp.cos(t) ** 2 + kc**2 * mp.sin(t) ** 2))
        if p > 0:
            value = mp.quad(f, [0, mp.pi / 4, mp.pi / 2 - kc / 10 if kc < 1 else mp.pi / 3, mp.pi / 2])
        else:  # Cauchy's principal value: fold the integrand about its pole, then the rest
            pole = mp.atan(1 / mp.sqrt(-p))
            reach = min(pole, mp.pi / 2 - pole)
            value = mp.quad(lambda t: f(pole - t) + f(pole + t), [mp.mpf(10) ** -15, reach / 50, reach])
            value += mp.quad(f, [0, pole - reach]) if pole > reach else mp.quad(f, [pole + reach, mp.pi / 2])
        rows.append([[float(v) for v in case], text(value)])
    return rows


def loop(a, rho, z):
    """B_rho, B_z, A_phi of a loop for mu0 I = 1."""
    a, rho, z = (mp.mpf(float(v)) for v in (a, rho, z))
    near = mp.sqrt((a - rho) ** 2 + z**2) / (a + rho)
    ends = [0, mp.pi] if near > 0.2 else [0, near, 10 * near, 100 * near, mp.pi] if 100 * near < mp.pi else [0, near, mp.pi]
    d = lambda t: mp.sqrt(a**2 + rho**2 + z**2 - 2 * a * rho * mp.cos(t))
    scale = a / (2 * mp.pi)
    # The cosine alone integrates to nothing: taken off by hand so that the quadrature keeps relative accuracy near the axis.
    flat = mp.sqrt(a**2 + rho**2 + z**2)
    if rho == 0:
        return ["0.0", text(a**2 / 2 / flat**3), "0.0"]
    radial = mp.quad(lambda t: mp.cos(t) * (d(t) ** -3 - flat**-3), ends)
    axial = mp.quad(lambda t: (a - rho * mp.cos(t)) / d(t) ** 3, ends)
    potential = mp.quad(lambda t: mp.cos(t) * (1 / d(t) - 1 / flat), ends)
    return [text(scale * z * radial), text(scale * axial), text(scale * potential)]


def loops():
    places = [(1, 0, 0), (1, 0, 0.7), (1, 1e-12, 0.5), (1, 1e-12, 3), (1, 1e-6, 0.01), (1, 1e-3, -2), (1, 0.5, 0.25), (0.1, 0.05, 0.05),
              (1, 0.5, 0), (1, 0.9, 0.1), (1, 0.99, 0), (1, 1.01, 0), (1, 1, 1e-3), (1, 1 + 1e-6, 0), (1, 1 - 1e-6, 1e-6), (1, 1, 1e-6),
              (1, 1.5, 0), (1, 2, -1), (1, 3, 2.2), (1, 10, 0.1), (1, 10, 7.1), (1, 100, 70), (1, 100, 70.71), (1, 1e4, 0), (1, 1e4, 1e4), (1, 1, 1e4),
              (1, 1e-12, 1e4), (0.0213, 0.0071, -0.013), (0.3, 0.29, 0.02)]
    for _ in range(12):
        a, rho, z = 10 ** rng.uniform(-2, 0), 10 ** rng.uniform(-3, 1), rng.choice([-1, 1]) * 10 ** rng.uniform(-3, 1)
        places.append((float(f"{a:.6g}"), float(f"{rho:.6g}"), float(f"{z:.6g}")))
    return [[list(map(float, place)), loop(*place)] for place in places]


def tanh_sinh(level=100, reach=3.35):
    """Nodes as distances from both ends of [0, 1], and weights: keeps what lies close to an end."""
    t = np.linspace(-reach, reach, 2 * level + 1)
    s = np.pi / 2 * np.sinh(t)
    from_left = 1 / (1 + np.exp(-2 * s))
    from_right = 1 / (1 + np.exp(2 * s))
    return from_left, from_right, reach / level * np.pi * np.cosh(t) * from_left * from_right


LEFT, RIGHT, WEIGHT = tanh_sinh()


def pieces(lo, hi, at):
    """Nodes x - at (exact near `at`) and weights on [lo, hi], split at `at` if inside and doubled in length away from it."""
    cuts = [lo, hi]
    if lo < at < hi:
        cuts = [lo, at, hi]
    offs, weights = [], []
    for a, b in zip(cuts[:-1], cuts[1:]):
        offs.append(np.where(LEFT < 0.5, (a - at) + (b - a) * LEFT, (b - at) - (b - a) * RIGHT))
        weights.append((b - a) * WEIGHT)
    return np.concatenate(offs), np.concatenate(weights)


def loop_double(a, a_less_rho, z, rho):
    """Textbook K, E form; the difference a - rho is handed in so that nothing is lost beside the wire."""
    al2 = a_less_rho**2 + z**2
    be2 = (a + rho) ** 2 + z**2
    be = np.sqrt(be2)
    k, e = ellipkm1(al2 / be2), ellipe(1 - al2 / be2)
    radial = z / (2 * al2 * be * rho) * ((a**2 + rho**2 + z**2) * e - al2 * k) / np.pi
    axial = ((a_less_rho * (a + rho) - z**2) * e + al2 * k) / (2 * al2 * be) / np.pi
    return radial, axial


def sheet(radius, length, rho, z):
    """B_rho, B_z of a thin winding for mu0 x (ampere-turns) = 1: the textbook loop with 40 digits, mpmath quadrature."""
    a, length, rho, z = (mp.mpf(float(v)) for v in (radius, length, rho, z))

    def at(height, part):
        up = z - height
        al2, be2 = (a - rho) ** 2 + up**2, (a + rho) ** 2 + up**2
        k, e = mp.ellipk(1 - al2 / be2), mp.ellipe(1 - al2 / be2)
        if part == 0:
            return up / (2 * al2 * mp.sqrt(be2) * rho) * ((a**2 + rho**2 + up**2) * e - al2 * k) / mp.pi
        return ((a**2 - rho**2 - up**2) * e + al2 * k) / (2 * al2 * mp.sqrt(be2)) / mp.pi

    off = max(abs(a - rho), mp.mpf("1e-3") * a)
    marks = [z + s * m * off for s in (-1, 1) for m in (0, 1, 3, 10, 30)]
    ends = sorted({-length / 2, length / 2, *[m for m in marks if -length / 2 < m < length / 2]})
    return [text(mp.quad(lambda h: at(h, part), ends) / length) for part in (0, 1)]


def stack(inner, outer, length, rho, z):
    """B_rho, B_z for mu0 x (ampere-turns) = 1."""
    dz, wz = pieces(-length / 2, length / 2, z)
    da, wa = pieces(inner, outer, rho)
    wa = wa / (outer - inner)
    radial, axial = loop_double(rho + da[:, None], da[:, None], -dz[None, :], rho)
    w = wa[:, None] * wz[None, :] / length
    return [float((w * radial).sum()), float((w * axial).sum())]


def stacks():
    places = [
        (0.05, 0.08, 0.1, 0.02, 0.01), (0.05, 0.08, 0.1, 0.02, 0.05), (0.05, 0.08, 0.1, 0.049, 0.0), (0.05, 0.08, 0.1, 0.06, 0.0),
        (0.05, 0.08, 0.1, 0.065, 0.03), (0.05, 0.08, 0.1, 0.055, -0.049), (0.05, 0.08, 0.1, 0.0651, 0.05), (0.05, 0.08, 0.1, 0.079, 0.045), (0.05, 0.08, 0.1, 0.09, 0.02),
        (0.05, 0.08, 0.1, 0.07, 0.055), (0.05, 0.08, 0.1, 0.5, 0.3), (0.05, 0.08, 0.1, 0.3, -0.9), (0.05, 0.0501, 0.3, 0.03, 0.1),
        (0.2, 0.4, 0.004, 0.1, 0.05), (0.2, 0.4, 0.004, 0.3, 0.001), (0.05, 0.05, 0.2, 0.02, 0.03), (0.05, 0.05, 0.2, 0.049, 0.09), (0.05, 0.05, 0.2, 0.051, -0.02),
        (0.05, 0.05, 0.2, 0.08, 0.15), (0.05, 0.05, 0.2, 0.2, 0.4), (0.05, 0.05, 0.002, 0.05, 0.0015), (0.05, 0.05, 0.2, 0.05, 0.12), (0.05, 0.05, 2.0, 0.06, 0.3),
    ]
    return [[list(p), sheet(p[0], *p[2:]) if p[0] == p[1] else stack(*p)] for p in places]


def segments():
    rows = []
    for start, end, point in [((0, 0, 0), (0, 0, 1), (0.3, 0, 0.5)), ((0, 0, 0), (0, 0, 1), (0.3, 0.1, 2.5)), ((0, 0, 0), (0, 0, 1), (1e-6, 0, 0.4)),
                              ((0, 0, 0), (0, 0, 1), (0, 1e-6, -3)), ((0.1, -0.2, 0.05), (0.4, 0.3, -0.1), (0.2, 0.25, 0.3)), ((0, 0, 0), (0, 0, 1), (1e4, 2e3, 5e3))]:
        a, b, p = (mp.matrix([mp.mpf(float(v)) for v in x]) for x in (start, end, point))
        t = b - a
        foot = sum((p - a)[i] * t[i] for i in range(3)) / sum(v * v for v in t)
        off = mp.sqrt(sum(((p - a) - foot * t)[i] ** 2 for i in range(3))) / mp.sqrt(sum(v * v for v in t))
        ends = [0, 1] if not 0 < foot < 1 else sorted({mp.mpf(0), foot - min(foot, 30 * off), foot, foot + min(1 - foot, 30 * off), mp.mpf(1)})
        r = lambda s: mp.sqrt(sum((p - a - s * t)[i] ** 2 for i in range(3)))
        cube = mp.quad(lambda s: 1 / r(s) ** 3, ends) / (4 * mp.pi)
        once = mp.quad(lambda s: 1 / r(s), ends) / (4 * mp.pi)
        d = p - a
        c = [t[1] * d[2] - t[2] * d[1], t[2] * d[0] - t[0] * d[2], t[0] * d[1] - t[1] * d[0]]
        rows.append([list(start), list(end), list(point), [text(cube * v) for v in c], [text(once * v) for v in t]])
    return rows


def gauss_mp(n):
    """Gauss-Legendre with 40 digits, by Newton from numpy's nodes."""
    nodes = []
    for x0 in np.polynomial.legendre.leggauss(n)[0]:
        x = mp.mpf(float(x0))
        for _ in range(3):
            p, q = mp.legendre(n, x), mp.legendre(n - 1, x)
            slope = n * (x * p - q) / (x * x - 1)
            x -= p / slope
        p, q = mp.legendre(n, x), mp.legendre(n - 1, x)
        slope = n * (x * p - q) / (x * x - 1)
        nodes.append((x, 2 / ((1 - x * x) * slope**2)))
    return nodes


def face_integral(point, normal_axis, side, half):
    """(1/4pi) int R dA/R^3 and (1/4pi) int dA/R over one face of a cuboid, double precision, nodes drawn to the foot."""
    others = [i for i in range(3) if i != normal_axis]
    d0, w0 = pieces(-half[others[0]], half[others[0]], min(half[others[0]], max(-half[others[0]], point[others[0]])))
    d1, w1 = pieces(-half[others[1]], half[others[1]], min(half[others[1]], max(-half[others[1]], point[others[1]])))
    r = [None] * 3
    clip = [min(half[o], max(-half[o], point[o])) for o in others]
    r[others[0]] = (point[others[0]] - clip[0]) - d0[:, None]
    r[others[1]] = (point[others[1]] - clip[1]) - d1[None, :]
    r[normal_axis] = point[normal_axis] - side * half[normal_axis]
    r2 = r[0] ** 2 + r[1] ** 2 + r[2] ** 2
    w = w0[:, None] * w1[None, :] / (4 * np.pi)
    return np.array([float((w * r[i] * r2**-1.5).sum()) for i in range(3)]), float((w * r2**-0.5).sum())


def block(size, remanence, point):
    half, j = np.array(size) / 2, np.array(remanence, float)
    field, potential = np.zeros(3), np.zeros(3)
    for axis in range(3):
        for side in (-1, 1):
            normal = np.zeros(3)
            normal[axis] = side
            current = np.cross(j, normal)
            vector, scalar = face_integral(point, axis, side, half)
            field += np.cross(current, vector)
            potential += current * scalar
    return field, potential


def block_far(size, remanence, point):
    """The same with 40 digits and a Gauss rule: far away the faces nearly cancel."""
    half, j, p = [mp.mpf(v) / 2 for v in size], [mp.mpf(v) for v in remanence], [mp.mpf(v) for v in point]
    rule = gauss_mp(10)
    field, potential = [mp.mpf(0)] * 3, [mp.mpf(0)] * 3
    cross = lambda a, b: [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]
    for axis in range(3):
        others = [i for i in range(3) if i != axis]
        for side in (-1, 1):
            normal = [side if i == axis else 0 for i in range(3)]
            current = cross(j, normal)
            for x, wx in rule:
                for y, wy in rule:
                    q = [0, 0, 0]
                    q[axis], q[others[0]], q[others[1]] = side * half[axis], half[others[0]] * x, half[others[1]] * y
                    r = [p[i] - q[i] for i in range(3)]
                    size_r = mp.sqrt(sum(v * v for v in r))
                    w = wx * wy * half[others[0]] * half[others[1]] / (4 * mp.pi)
                    c = cross(current, r)
                    field = [field[i] + w * c[i] / size_r**3 for i in range(3)]
                    potential = [potential[i] + w * current[i] / size_r for i in range(3)]
    return [float(v) for v in field], [float(v) for v in potential]


def blocks():
    size, remanence = [0.02, 0.03, 0.01], [0.3, -0.5, 0.8]
    near = [(0.03, 0.01, 0.02), (0.015, 0.0, 0.0), (0.01, 0.02, 0.004), (0.011, 0.016, 0.006), (0.003, -0.004, 0.001), (0.0, 0.0, 0.0), (0.009, 0.014, -0.0045),
            (0.01, 0.03, 0.005), (0.0, 0.02, 0.005), (-0.05, 0.06, 0.04), (0.1, 0.0, 0.02), (0.0, 0.0, 0.007), (0.013, 0.0149999, 0.0)]
    far = [(0.1, 0.08, -0.06), (0.0, 0.0, 0.2), (0.15, 0.0, 0.05), (0.5, -0.4, 0.3), (1.0, 2.0, -3.0), (300.0, 0.0, 1.0)]
    rows = [[size, remanence, list(p), *map(list, block(size, remanence, p))] for p in near]
    rows += [[size, remanence, list(p), *block_far(size, remanence, p)] for p in far]
    plate = [0.1, 0.1, 0.001]
    rows += [[plate, remanence, list(p), *map(list, block(plate, remanence, p))] for p in [(0.02, 0.03, 0.02), (0.06, 0.0, 0.0), (0.0, 0.0, 0.1)]]
    rows += [[plate, remanence, list(p), *block_far(plate, remanence, p)] for p in [(0.3, 0.2, 0.3), (0.8, 0.0, 0.0)]]
    return rows


def angle_pieces(lo, hi, at):
    """Nodes as angle - at on [lo, hi], split at `at` (mod 2 pi) and its opposite."""
    offs, weights = [], []
    marks = sorted({lo, hi, *[m for k in range(-4, 5) for m in [at + k * np.pi] if lo < m < hi]})
    for a, b in zip(marks[:-1], marks[1:]):
        middle = (a + b) / 2
        turn = 2 * np.pi * np.round((middle - at) / (2 * np.pi))
        offs.append(np.where(LEFT < 0.5, (a - at - turn) + (b - a) * LEFT, (b - at - turn) - (b - a) * RIGHT))
        weights.append((b - a) * WEIGHT)
    return np.concatenate(offs), np.concatenate(weights)


def sector(shape, remanence, point):
    """B and A of a ring sector with its axis along z; [inner, outer, length, from, to]."""
    inner, outer, length, lo, hi = shape
    x, y, z = point
    rho, azimuth, h = np.hypot(x, y), np.arctan2(y, x), length / 2
    full = hi - lo > 6.28318
    jx, jy, jz = remanence
    # In the frame turned so that the observer lies at (rho, 0, z).
    c, s = np.cos(azimuth), np.sin(azimuth)
    j = np.array([c * jx + s * jy, c * jy - s * jx, jz])
    ang, wang = angle_pieces(lo, hi, azimuth)
    zz, wz = pieces(-h, h, min(h, max(-h, z)))
    clip_z = min(h, max(-h, z))
    field, potential = np.zeros(3), np.zeros(3)

    def add(r, normal, weight):
        nonlocal field, potential
        r2 = r[0] ** 2 + r[1] ** 2 + r[2] ** 2
        w = weight / (4 * np.pi)
        current = [j[1] * normal[2] - j[2] * normal[1], j[2] * normal[0] - j[0] * normal[2], j[0] * normal[1] - j[1] * normal[0]]
        potential += [float((w * k * r2**-0.5).sum()) for k in current]
        plane = [j[1] * normal[2], -j[0] * normal[2], j[0] * normal[1] - j[1] * normal[0]]  # currents of the in-plane part
        charge = j[2] * normal[2]  # charges of the axial part
        cube = w * r2**-1.5
        field += [float((cube * v).sum()) for v in (plane[1] * r[2] - plane[2] * r[1] + charge * r[0],
                                                  plane[2] * r[0] - plane[0] * r[2] + charge * r[1],
                                                  plane[0] * r[1] - plane[1] * r[0] + charge * r[2])]

    for radius, out in ((inner, -1), (outer, 1)):
        if radius == 0:
            continue
        a = ang[:, None]
        bow = 2 * radius * np.sin(a / 2) ** 2
        r = [rho - radius + bow + 0 * zz[None, :], -radius * np.sin(a) + 0 * zz[None, :], (z - clip_z) - zz[None, :] + 0 * a]
        add(r, [out * np.cos(a), out * np.sin(a), 0 * a], wang[:, None] * wz[None, :] * radius)
    for end in (-1, 1):
        a = ang[:, None]
        rr, wr = pieces(inner, outer, min(outer, max(inner, rho)))
        clip_r = min(outer, max(inner, rho))
        radius = clip_r + rr[None, :]
        r = [(rho - clip_r) - rr[None, :] + 2 * radius * np.sin(a / 2) ** 2, -radius * np.sin(a), z - end * h + 0 * radius * a]
        add(r, [0 * a, 0 * a, end + 0 * a], wang[:, None] * wr[None, :] * radius)
    if not full:
        for angle, out in ((lo, -1), (hi, 1)):
            u, v = np.cos(angle - azimuth), np.sin(angle - azimuth)
            foot = min(outer, max(inner, rho * u))
            rr, wr = pieces(inner, outer, foot)
            radius = foot + rr[:, None]
            r = [rho - radius * u + 0 * zz[None, :], -radius * v + 0 * zz[None, :], (z - clip_z) - zz[None, :] + 0 * radius]
            add(r, [-out * v, out * u, 0.0], wr[:, None] * wz[None, :])
    past = (azimuth - lo) % (2 * np.pi)
    if inner < rho < outer and abs(z) < h and past < hi - lo:
        field[2] += jz
    turn = lambda q: [c * q[0] - s * q[1], s * q[0] + c * q[1], q[2]]
    return turn(field), turn(potential)


def sectors():
    remanence = [0.6, -0.3, 0.9]
    shapes = [[0.05, 0.1, 0.12, -0.2, 0.3], [0.05, 0.1, 0.12, 0.5, 4.5], [0.05, 0.1, 0.12, 0.0, 2 * np.pi], [0.0, 0.03, 0.02, 0.1, 1.1]]
    places = [(0.0123, 0.004, 0.0096), (0.03, -0.02, 0.05), (0.12, 0.01, 0.02), (0.07, 0.005, 0.02), (0.06, -0.03, 0.08), (-0.07, 0.02, 0.01),
              (0.099, 0.004, 0.059), (0.2, 0.3, -0.1), (0.02, 0.015, 0.003), (0.0501, 0.01, -0.03)]
    rows = []
    for shape in shapes:
        for place in places:
            b, a = sector(shape, remanence, place)
            rows.append([[float(v) for v in shape], remanence, list(place), [float(v) for v in b], [float(v) for v in a]])
    return rows


def text(v):
    return mp.nstr(v, 20, min_fixed=1, max_fixed=0)


def main():
    tables = {"elliptic: m, K, E": elliptic(), "cel: [kc, p, a, b], value": general(), "loops: [a, rho, z], [Brho, Bz, Aphi]": loops(),
              "stacks: [inner, outer, length, rho, z], [Brho, Bz]": stacks(), "segments: from, to, point, B, A": segments(),
              "blocks: size, J, point, B, A": blocks(), "sectors: [inner, outer, length, from, to], J, point, B, A": sectors()}
    rows = lambda table: "[\n  " + ",\n  ".join(json.dumps(r) for r in table) + "\n ]"
    pathlib.Path(__file__).with_name("truth.json").write_text(
        "{\n " + ",\n ".join(f"{json.dumps(name)}: {rows(table)}" for name, table in tables.items()) + "\n}\n")


main()
