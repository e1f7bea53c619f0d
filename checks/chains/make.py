"""Truth for chains of cores: mean field, its dynamics, and chains of macrospins.

Run:  python3 checks/chains/make.py      (python 3 with mpmath, numpy, scipy; about two minutes)
Writes truth.json beside itself. No number comes from the program under test. Fields as xi = m mu0H / (kB T) for the
mean field; for macrospins in units of g = mu0 m / (4 pi a^3), the side field of a neighbour, or as stated.
"""
import json, pathlib
import mpmath as mp
import numpy as np
from scipy.integrate import quad, solve_ivp
from scipy.optimize import brentq
from scipy.special import ive

mp.mp.dps = 30


# --- mean field, 30 digits -------------------------------------------------------------------------------------------

def L(x):
    if abs(x) < mp.mpf("1e-3"):
        return x / 3 - x**3 / 45 + 2 * x**5 / 945 - x**7 / 4725 + 2 * x**9 / 93555
    return mp.coth(x) - 1 / x if abs(x) < 100 else mp.sign(x) * (1 - 1 / abs(x))


def dL(x):
    if abs(x) < mp.mpf("1e-3"):
        return mp.mpf(1) / 3 - x**2 / 15 + 2 * x**4 / 189 - x**6 / 675 + 2 * x**8 / 10395
    return 1 / x**2 - 1 / mp.sinh(x) ** 2 if abs(x) < 100 else 1 / x**2


def bisect(f, a, b):
    """Plain bisection to 28 digits: slow, but it cannot slip to another root."""
    fa = f(a)
    for _ in range(110):
        c = (a + b) / 2
        fc = f(c)
        if (fc > 0) == (fa > 0):
            a = c
        else:
            b = c
    return (a + b) / 2


def jump(kappa):
    u = bisect(lambda x: dL(x) - 1 / kappa, mp.mpf("1e-6"), 2 * mp.sqrt(kappa))
    xi_c = kappa * L(u) - u
    after = bisect(lambda x: x - kappa * L(x) - xi_c, u, xi_c + kappa + 1)
    rest = bisect(lambda x: x - kappa * L(x), u, kappa + 1)
    return u, xi_c, -L(u), L(after), L(rest)


def width(kappa):
    """Straight from the definition of the half maximum, the slope as a function of u."""
    half = 1 / (3 - kappa) / 2
    u = bisect(lambda x: dL(x) / (1 - kappa * dL(x)) - half, mp.mpf("1e-9"), mp.mpf(5))
    return 2 * (u - kappa * L(u))


def state(xi, kappa):
    """The one state of kappa <= 3, xi > 0."""
    u = bisect(lambda x: x - kappa * L(x) - xi, mp.mpf(0), xi + kappa + 1)
    return L(u), dL(u) / (1 - kappa * dL(u))


text = lambda v: mp.nstr(v, 20, min_fixed=1, max_fixed=0)
exact = lambda s: mp.mpf(float(s))  # the double that the program receives


def mean_field():
    jumps = [[k] + [text(v) for v in jump(exact(k))]
             for k in ["3.0001", "3.01", "3.3", "4", "5", "6", "8", "10", "15", "20", "29.31", "50", "200", "1e4"]]
    widths = [[k, text(width(exact(k)))] for k in
              ["0", "0.1", "0.5", "1", "1.5", "2", "2.25", "2.5", "2.8", "2.9", "2.99", "2.999", "2.999999"]]
    states = [[k, x] + [text(v) for v in state(exact(x), exact(k))]
              for k in ["0", "1", "2.5", "2.999", "3"] for x in ["1e-6", "0.01", "0.3", "1", "4", "30"]]
    return jumps, widths, states


# --- mean field of several sizes: log-normal, adaptive quadrature and Brent's root ------------------------------------

def lf(x):
    return x / 3 - x**3 / 45 + 2 * x**5 / 945 if abs(x) < 0.02 else 1 / np.tanh(x) - 1 / x


def ensemble():
    """Number-weighted log-sd 0.25; b in units where the median core has xi = b; M = <q^3 L(q^3 (b + c M))>/<q^3>."""
    s = 0.25
    density = lambda z: np.exp(-z * z / 2) / np.sqrt(2 * np.pi)
    mean = lambda f: quad(lambda z: density(z) * f(np.exp(s * z)), -12, 14, epsabs=1e-15, epsrel=1e-12, limit=400)[0]
    norm = mean(lambda q: q**3)
    mean_k = mean(lambda q: q**6) / norm
    F = lambda b: mean(lambda q: q**3 * lf(q**3 * b)) / norm
    rows = []
    for kappa, branch, b in [(2, "initial", 0.05), (2, "initial", 0.5), (2, "initial", 3.0), (5, "descending", 0.0),
                             (5, "descending", -0.1), (5, "ascending", 0.1), (5, "descending", 2.0)]:
        c = kappa / mean_k
        g = lambda x: x - c * F(x) - b
        if branch == "initial":
            x = brentq(g, 0, b + c, xtol=1e-15, rtol=1e-14)
        else:
            end = brentq(lambda x: (x + 1e-4 - c * F(x + 1e-4)) - (x - 1e-4 - c * F(x - 1e-4)), 0.1, 20)
            x = brentq(g, end, abs(b) + c, xtol=1e-15, rtol=1e-14) if branch == "descending" else \
                brentq(g, -abs(b) - c, -end, xtol=1e-15, rtol=1e-14)
        rows.append([kappa, branch, b, float(F(x))])
    return rows


# --- mean-field dynamics: scipy's implicit Radau, run until periodic ---------------------------------------------------

def dynamics():
    """tau dM/dt = L(xi0 w(t) + kappa M) - M from M = 1 or -1; phase theta = 2 pi t/T; 16 samples of the last period."""
    waves = {"cosine": np.cos, "triangle": lambda th: 4 * abs((th / (2 * np.pi)) % 1 - 0.5) - 1}
    rows = []
    for kappa, wt, xi0, wave, start in [
        (2, 0.1, 20, "cosine", 1), (2, 1, 5, "cosine", 1), (6, 0.01, 5, "cosine", 1), (6, 0.1, 20, "cosine", 1),
        (6, 1, 20, "cosine", 1), (6, 0.3, 1, "cosine", 1), (6, 0.3, 1, "cosine", -1), (20, 0.1, 30, "cosine", 1),
        (6, 0.1, 8, "triangle", 1), (0, 10, 20, "cosine", 1),
    ]:
        w = waves[wave]
        f = lambda th, m: (lf_vec(xi0 * w(th) + kappa * m) - m) / wt
        m = np.array([float(start)])
        at = np.arange(16) * 2 * np.pi / 16
        for _ in range(400):
            # Half periods, so that no step spans a corner of the triangle.
            samples = []
            end = m
            for a in (0, np.pi):
                t_eval = np.append(at[(at >= a) & (at < a + np.pi - 1e-9)], a + np.pi)
                sol = solve_ivp(f, (a, a + np.pi), end, method="Radau", rtol=1e-11, atol=1e-13, t_eval=t_eval)
                samples += [float(v) for v in sol.y[0][:-1]]
                end = sol.y[:, -1]
            if abs(end[0] - m[0]) < 1e-11:
                break
            m = end
        rows.append([kappa, wt, xi0, wave, start, samples])
    return rows


def lf_vec(x):
    return np.array([lf(v) for v in np.atleast_1d(x)])


# --- Boltzmann averages of macrospins ---------------------------------------------------------------------------------

def random_axes():
    """<s.h> of one moment, easy axis fixed at angle psi to the field, averaged over the sphere of axes."""
    rows = []
    for sigma, xi in [(10, 5), (5, 2), (0, 5)]:
        def at(psi):
            c, s = np.cos(psi), np.sin(psi)
            # scaled by exp(-(sigma + xi)); I0, I1 as exp-scaled Bessel functions
            weight = lambda th: np.exp(sigma * (np.cos(th) ** 2 - 1) + xi * (c * np.cos(th) + s * np.sin(th) - 1)) * np.sin(th)
            z = quad(lambda th: weight(th) * ive(0, xi * s * np.sin(th)), 0, np.pi, epsabs=0, epsrel=1e-12, limit=200)[0]
            m = quad(lambda th: weight(th) * (c * np.cos(th) * ive(0, xi * s * np.sin(th))
                     + s * np.sin(th) * ive(1, xi * s * np.sin(th))), 0, np.pi, epsabs=1e-18, epsrel=1e-12, limit=200)[0]
            return m / z
        rows.append([sigma, xi, quad(lambda psi: np.sin(psi) * at(psi), 0, np.pi / 2, epsrel=1e-10)[0]])
    return rows


def two_dipoles():
    """<(s1 + s2).h>/2 of two dipoles in a line, coupling lambda, field xi along or across the line.
    Product rule: 40 Gauss-Legendre nodes in each cos(theta), 48 even angles."""
    c, w = np.polynomial.legendre.leggauss(40)
    phi = np.arange(48) * 2 * np.pi / 48
    s = np.sqrt(1 - c * c)
    c1, c2, p1, p2 = np.meshgrid(c, c, phi, phi, indexing="ij", sparse=True)
    s1, s2 = np.sqrt(1 - c1 * c1), np.sqrt(1 - c2 * c2)
    w12 = (w[:, None] * w[None, :])[:, :, None, None]
    rows = []
    for lam, xi, along in [(1, 1, True), (1, 1, False), (2, 0.5, True)]:
        h1, h2 = (c1, c2) if along else (s1 * np.cos(p1), s2 * np.cos(p2))
        energy = lam * (2 * c1 * c2 - s1 * s2 * np.cos(p1 - p2)) + xi * (h1 + h2)
        weight = w12 * np.exp(energy)
        rows.append([lam, xi, "along" if along else "across", float((weight * (h1 + h2) / 2).sum() / weight.sum())])
    return rows


# --- absolute zero: stability of the aligned chain, and motion --------------------------------------------------------

def stiffness():
    """Lowest eigenvalue, in g, of the transverse stiffness of the aligned chain: the field against it at which it turns."""
    rows = []
    for n in (2, 3, 4, 8, 16):
        i = np.arange(n)
        g = np.where(i[:, None] == i[None, :], 0.0, 1 / np.maximum(1, abs(i[:, None] - i[None, :])) ** 3.0)
        values, vectors = np.linalg.eigh(np.diag(2 * g.sum(axis=1)) + g)
        rows.append([n, float(values[0]), [float(v) for v in abs(vectors[:, 0])]])
    return rows


def motion():
    """Three macrospins, Gilbert's own form ds/dt = -gamma s x B + alpha s x ds/dt solved for ds/dt as a linear system.
    Fields in units of g, time in 1/(gamma g), anisotropy field 2 g along the chain, applied field 1.5 g cos(0.7 t)
    along (0.6, 0, 0.8), alpha 0.3."""
    alpha, bk, h = 0.3, 2.0, np.array([0.6, 0, 0.8])
    e = np.array([0, 0, 1.0])
    pos = np.array([[0, 0, 0], [0, 0, 1.0], [0, 0, 2.0]])

    def cross(v):
        return np.array([[0, -v[2], v[1]], [v[2], 0, -v[0]], [-v[1], v[0], 0]])

    def rate(t, y):
        s = y.reshape(3, 3)
        out = []
        for i in range(3):
            b = 1.5 * np.cos(0.7 * t) * h + bk * (s[i] @ e) * e
            for j in range(3):
                if j != i:
                    r = pos[j] - pos[i]
                    d = np.linalg.norm(r)
                    b = b + (3 * (s[j] @ r) * r / d**2 - s[j]) / d**3
            out.append(np.linalg.solve(np.eye(3) - alpha * cross(s[i]), -cross(s[i]) @ b))
        return np.concatenate(out)

    start = np.array([[0.6, 0, 0.8], [0, 0.8, -0.6], [0.36, 0.48, 0.8]])
    sol = solve_ivp(rate, (0, 6), start.ravel(), method="DOP853", rtol=1e-12, atol=1e-13, t_eval=[0, 2, 4, 6])
    return [[float(t), y.reshape(3, 3).tolist()] for t, y in zip(sol.t, sol.y.T)]


PUBLISHED = {  # facts rows, as printed there
    "C3: field on axis at 50 nm, 25 nm core, 446 kA/m (mT)": 5.83813,
    "C4: zeta(3)": 1.2020569,
    "C4: touching spheres, H_chain / Ms": 0.200343,
    "C4: touching spheres at 446 kA/m (mT)": 112.284,
    "C4: two nearest only at 446 kA/m (mT)": 93.410,
    "C7: kappa, width": [[0, 4.16105], [1, 2.48807], [1.5, 1.70661], [2, 0.987543], [2.5, 0.374303], [2.8, 0.0992307],
                         [2.9, 0.0356710]],
    "C7: kappa, gain": [[0, 1], [1, 1.5], [1.5, 2], [2, 3], [2.5, 6], [2.8, 15], [2.9, 30]],
    "C8: kappa, xi_c": [[4, 0.265406], [5, 0.704323], [6, 1.225645], [10, 3.716487], [20, 11.061075]],
    "C9: kappa, M_r": [[4, 0.599839], [5, 0.725882], [6, 0.788887], [10, 0.887298], [20, 0.947214]],
    "C10: kappa, before, after": [[4, -0.379589, 0.663164], [6, -0.551028, 0.840480], [10, -0.673785, 0.922744]],
    "C11: 20 nm, 446 kA/m, gap 4 nm, 300 K: lambda, kappa, xi_c, mT": [6.0955, 29.31, 18.48, 41],
    "W22: kappa 2: width, peak": [0.987543, 1.0],
    "W23: kappa 6: u*, xi_c, M_r": [2.080524, 1.225645, 0.788887],
    "surprise 7: KV/kT 10, xi 5: fixed random axes, free": [0.614, 0.800],
}


def main():
    jumps, widths, states = mean_field()
    tables = {
        "jumps: kappa, u*, xi_c, before, after, M_r": jumps,
        "widths: kappa, FWHM of dM/dxi": widths,
        "states: kappa, xi, M, dM/dxi": states,
        "log-normal 0.25: kappa, branch, b, M": ensemble(),
        "dynamics: kappa, omega tau, xi0, wave, start, M at 16 even times": dynamics(),
        "random axes: KV/kT, xi, M": random_axes(),
        "two dipoles: lambda, xi, field, M": two_dipoles(),
        "stiffness: spins, lowest eigenvalue / g, |mode|": stiffness(),
        "motion: time, three moments": motion(),
    }
    published = ",\n  ".join(f"{json.dumps(k)}: {json.dumps(v)}" for k, v in PUBLISHED.items())
    block = lambda rows: "[\n  " + ",\n  ".join(json.dumps(r) for r in rows) + "\n ]"
    parts = [f" {json.dumps(name)}: {block(rows)}" for name, rows in tables.items()]
    parts.append(f' "published": {{\n  {published}\n }}')
    pathlib.Path(__file__).with_name("truth.json").write_text("{\n" + ",\n".join(parts) + "\n}\n")


main()
