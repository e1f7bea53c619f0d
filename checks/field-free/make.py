"""Field-free places, gradient errors and mass errors of loops, and zeros of random harmonic fields, by other means.

Run:  python3 checks/field-free/make.py      (python 3 with mpmath, numpy, scipy; under a minute)
Writes truth.json beside itself. Loops carry mu0 = 1 and a current of 1 A: lengths and ratios do not depend on it, and
compare.ts multiplies fields by mu0 I. Off-axis fields by complete elliptic integrals of the parameter m (mpmath: 30
digits; scipy where a dense grid is counted), tensors by mpmath's numerical derivatives at that precision.
"""
import json, pathlib
import mpmath as mp
import numpy as np
from scipy import optimize, special, stats

mp.mp.dps = 30
A = mp.mpf("0.05")
HALF = mp.sqrt(3) / 2 * A
BORE = ("0.03", "0.04")


def axis_field(z, at, a=A):
    return a**2 / 2 / (a**2 + (z - at) ** 2) ** mp.mpf(1.5)


def loop(rho, z, a=A):
    """[B_rho, B_z] of a loop about z at the origin."""
    if rho == 0:
        return mp.mpf(0), axis_field(z, 0, a)
    alpha2 = (a - rho) ** 2 + z**2
    beta2 = (a + rho) ** 2 + z**2
    m = 1 - alpha2 / beta2
    k, e = mp.ellipk(m), mp.ellipe(m)
    c = 1 / mp.pi
    radial = c * z / (2 * alpha2 * mp.sqrt(beta2) * rho) * ((a**2 + rho**2 + z**2) * e - alpha2 * k)
    return radial, c / (2 * alpha2 * mp.sqrt(beta2)) * ((a**2 - rho**2 - z**2) * e + alpha2 * k)


def pair(rho, z, a=A, half=HALF, lower=1):
    up, down = loop(rho, z - half, a), loop(rho, z + half, a)
    return up[0] - lower * down[0], up[1] - lower * down[1]


def pair_tensor(rho, z):
    """xx, yy, zz, xz at (rho, 0, z), rho > 0."""
    xx = mp.diff(lambda r: pair(r, z)[0], rho)
    xz = mp.diff(lambda h: pair(rho, h)[0], z)
    yy = pair(rho, z)[0] / rho
    return xx, yy, -xx - yy, xz


g0 = mp.diff(lambda z: pair(0, z)[1], 0)


def gradient_error(rho, z):
    if rho == 0:
        return abs(mp.diff(lambda h: pair(0, h)[1], z) / g0 - 1)
    xx, yy, zz, xz = pair_tensor(rho, z)
    return mp.sqrt((xx + g0 / 2) ** 2 + (yy + g0 / 2) ** 2 + (zz - g0) ** 2 + 2 * xz**2) / (abs(g0) * mp.sqrt(1.5))


def np_loop(rho, z, a=float(A)):
    alpha2, beta2 = (a - rho) ** 2 + z**2, (a + rho) ** 2 + z**2
    k, e = special.ellipkm1(alpha2 / beta2), special.ellipe(1 - alpha2 / beta2)
    common = 1 / np.pi / (2 * alpha2 * np.sqrt(beta2))
    safe = np.where(rho > 1e-9, rho, 1)
    radial = np.where(rho > 1e-9, common * z / safe * ((a * a + rho**2 + z**2) * e - alpha2 * k), 0)
    return radial, common * ((a * a - rho**2 - z**2) * e + alpha2 * k)


def np_pair(rho, z, half=float(HALF)):
    up, down = np_loop(rho, z - half), np_loop(rho, z + half)
    return up[0] - down[0], up[1] - down[1]


def text(v, digits=20):
    return mp.nstr(v, digits)


def maxwell():
    taylor = mp.taylor(lambda z: pair(0, z)[1], 0, 7)
    points = [("0", "0.01"), ("0", "0.03"), ("0.01", "0"), ("0.02", "0"), ("0.012", "0.009"), ("0.02", "-0.02"), ("0.003", "0.025")]
    errors = [[r, z, text(gradient_error(mp.mpf(float(r)), mp.mpf(float(z))))] for r, z in points]
    along = mp.findroot(lambda z: gradient_error(0, z) - mp.mpf("0.1"), (0.01, 0.03), solver="anderson", tol=1e-22)
    across = mp.findroot(lambda r: gradient_error(r, mp.mpf(0)) - mp.mpf("0.1"), (0.005, 0.03), solver="anderson", tol=1e-22)
    with mp.workdps(20):
        angles = [mp.pi / 2 * k / 24 for k in range(25)]
        at = lambda s, t: gradient_error(s * mp.sin(t) if t > 1e-9 else mp.mpf(0), s * mp.cos(t))
        worst = max(angles, key=lambda t: at(along, t))
        for _ in range(2):
            ball = mp.findroot(lambda s: at(s, worst) - mp.mpf("0.1"), (0.3 * along, 1.3 * along), solver="anderson", tol=1e-15)
            fine = optimize.minimize_scalar(lambda t: -float(at(ball, mp.mpf(t))), bounds=(max(1e-6, float(worst) - 0.07), float(worst) + 0.07), method="bounded", options={"xatol": 1e-7})
            worst = mp.mpf(fine.x) if -fine.fun > at(ball, worst) else worst
        ball = mp.findroot(lambda s: at(s, worst) - mp.mpf("0.1"), (0.3 * along, 1.3 * along), solver="anderson", tol=1e-15)
    return taylor, errors, along, across, ball, worst


def volume_fraction(n=700, m=900, h=2e-5):
    radius, half = map(float, BORE)
    rho = radius * (np.arange(n) + 0.5) / n
    z = half * (np.arange(m) + 0.5) / m
    r, zz = np.meshgrid(rho, z, indexing="ij")
    br = np_pair(r, zz)[0]
    # Order 4 in h: relative truncation 1e-12 of the scale, rounding 1e-11.
    w = [(1, 2 / 3), (2, -1 / 12)]
    xx = sum(c * (np_pair(r + k * h, zz)[0] - np_pair(np.abs(r - k * h), zz)[0] * np.sign(r - k * h)) for k, c in w) / h
    xz = sum(c * (np_pair(r, zz + k * h)[0] - np_pair(r, zz - k * h)[0]) for k, c in w) / h
    yy = br / r
    g = float(g0)
    error = np.sqrt((xx + g / 2) ** 2 + (yy + g / 2) ** 2 + (xx + yy + g) ** 2 + 2 * xz**2) / (abs(g) * np.sqrt(1.5))
    weight = r / r.sum()
    return float((weight * (error <= 0.1)).sum())


def mass_errors(power=21):
    """2^21 points of a low-discrepancy sequence (Sobol) in the ball, mapped by q = G^-1 B, counted."""
    g = float(g0)
    rows = []
    a, b, c = stats.qmc.Sobol(3, seed=5).random_base2(power).T
    sine = np.sqrt(1 - (2 * b - 1) ** 2)
    u = np.cbrt(a)[:, None] * np.stack([sine * np.cos(2 * np.pi * c), sine * np.sin(2 * np.pi * c), 2 * b - 1], 1)
    for center, radius in [((0, 0, 0.022), 0.004), ((0, 0, 0), 0.02), ((0.016, 0, 0.01), 0.004), ((0.012, 0.012, -0.012), 0.006), ((0, 0.02, 0), 0.003)]:
        p = np.array(center) + radius * u
        rho = np.hypot(p[:, 0], p[:, 1])
        br, bz = np_pair(rho, p[:, 2])
        ratio = br / np.where(rho > 0, rho, 1)
        q = np.stack([ratio * p[:, 0] / (-g / 2), ratio * p[:, 1] / (-g / 2), bz / g], 1)
        off = q - np.array(center)
        rows.append([list(center), radius, float(((off**2).sum(1) > radius**2).mean()), [float(v) for v in off.mean(0)]])
    return rows


def unequal():
    rows = []
    for percent in ["1", "0.5", "0.25", "-1"]:
        more = 1 + mp.mpf(percent) / 100
        zero = mp.findroot(lambda z: more * axis_field(z, HALF) - axis_field(z, -HALF), (-0.005, 0.005), solver="anderson", tol=1e-40)
        first = -(mp.mpf(percent) / 100) * axis_field(0, HALF) / g0
        rows.append([percent, text(zero), text(first)])
    return rows


def ring():
    against = mp.mpf("1.5") * axis_field(0, 0)
    radius = mp.findroot(lambda r: loop(r, mp.mpf(0))[1] - against, (0.02, 0.045), solver="anderson", tol=1e-22)
    return text(radius)


def four_loops():
    """A pair about z and one about x with twice the gradient: a line along z. Field along z on the z axis."""
    a = mp.mpf("0.12")
    half = mp.sqrt(3) / 2 * a
    along = lambda z: pair(0, z, a, half)[1] + 2 * side(z)
    # A pair about x seen from (0, 0, z): rho = |z|, height x = 0, the radial field points along z.
    side = lambda z: pair(abs(z), mp.mpf(0), a, half)[0] * (1 if z > 0 else -1) if z != 0 else mp.mpf(0)
    g = mp.diff(lambda z: pair(0, z, a, half)[1], 0)
    across = mp.mpf(3) / 2 * g
    limit = across * mp.mpf("0.001")
    rows = [[z, text(along(mp.mpf(z)))] for z in ["0.01", "0.02", "0.03", "0.04", "0.05"]]
    end = mp.findroot(lambda z: abs(along(z)) - limit, (0.03, 0.08), solver="anderson", tol=1e-25)
    return rows, text(across), text(end)


def random_zeros(count=60):
    """Charges outside a cylinder of radius 1 and half length 1.5, and a uniform field that makes one place inside a zero.

    All zeros inside by Newton's method with the analytic tensor from 3000 random starts, steps of at most 0.1.
    """
    rng = np.random.default_rng(20261125)
    fields = []
    for _ in range(count):
        charges = []
        while len(charges) < 10:
            p = rng.uniform(-2.4, 2.4, 3)
            if max(np.hypot(p[0], p[1]), abs(p[2]) / 1.5) > 1.3:
                charges.append([*p, float(rng.choice([-1, 1]) * rng.uniform(0.5, 1.5))])
        charges = np.round(np.array(charges), 6)

        def field(r, tensor=False):
            d = r[:, None, :] - charges[None, :, :3]
            s = (d**2).sum(2)
            b = (charges[None, :, 3, None] * d / s[..., None] ** 1.5).sum(1)
            if not tensor:
                return b
            q = charges[None, :, 3, None, None]
            j = (q * (np.eye(3) / s[..., None, None] ** 1.5 - 3 * d[..., :, None] * d[..., None, :] / s[..., None, None] ** 2.5)).sum(1)
            return b, j

        place = np.array([[0.6 * rng.uniform(-1, 1), 0.6 * rng.uniform(-1, 1), 1.2 * rng.uniform(-1, 1)]])
        uniform = -field(place)[0]
        r = rng.uniform(-1, 1, (3000, 3)) * [1, 1, 1.5]
        for _ in range(60):
            b, j = field(r, tensor=True)
            step = np.linalg.solve(j, (b + uniform)[..., None])[..., 0]
            r = r - step * np.minimum(1, 0.1 / np.maximum(np.linalg.norm(step, axis=1), 1e-300))[:, None]
            r = np.clip(r, -1.6, 1.6)
        good = (np.linalg.norm(field(r) + uniform, axis=1) < 1e-13) & (np.hypot(r[:, 0], r[:, 1]) < 1) & (np.abs(r[:, 2]) < 1.5)
        zeros = []
        for q in r[good]:
            if all(np.linalg.norm(q - z) > 1e-6 for z in zeros):
                zeros.append(q)
        fields.append({"charges": charges.tolist(), "uniform": uniform.tolist(), "zeros": [[float(v) for v in z] for z in zeros]})
    return fields


def compact(truth):
    """One line an entry of the top level, one line a field of charges."""
    lines = [f" {json.dumps(k)}: " + (json.dumps(v) if k != "charges" else "[\n  " + ",\n  ".join(map(json.dumps, v)) + "\n ]") for k, v in truth.items()]
    return "{\n" + ",\n".join(lines) + "\n}\n"


def main():
    taylor, errors, along, across, ball, worst = maxwell()
    line, line_gradient, line_end = four_loops()
    truth = {
        "loop radius, m": text(A),
        "half separation, m": text(HALF),
        "bore radius, half length, m": list(BORE),
        "on-axis Taylor coefficients of the pair, k = 0..7, per mu0 I": [text(b) for b in taylor],
        "gradient error: rho, z, eps": errors,
        "10 %: along z, along x, ball, angle of the ball's worst place": [text(along), text(across), text(ball, 9), text(worst, 6)],
        "10 %: part of the bore": volume_fraction(),
        "mass error: centre, radius, missed share, shift of the centroid": mass_errors(),
        "upper current raised by percent: zero on the axis, first order": unequal(),
        "loop in 1.5 times its own field: radius of the ring": ring(),
        "four loops: z, field along the line per mu0 I": line,
        "four loops: gradient across, half length within 1 mm of it": [line_gradient, line_end],
        "charges": random_zeros(),
    }
    pathlib.Path(__file__).with_name("truth.json").write_text(compact(truth))


main()
