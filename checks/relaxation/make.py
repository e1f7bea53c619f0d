"""Truth for checks/relaxation from general-purpose solvers.

Run:  python3 checks/relaxation/make.py      (python 3 with numpy, scipy, mpmath; about one minute)
Writes truth.json beside itself. Time is measured so that the period is 2 pi: w tau is then tau.

Nothing here shares a method with the program. Brownian rotation: coefficients a_n of the density (not its moments), 80 of
them, by LSODA, run on until the period repeats. Neel: Galerkin matrices by numerical quadrature of the weak form on the
sphere, the field (not the easy axis) along z, by scipy's Radau and LSODA. Static curves: adaptive quadrature with Bessel functions.
"""
import json, pathlib, sys, time
import mpmath as mp
import numpy as np
import scipy
from scipy.integrate import solve_ivp, quad
from scipy.special import i0e, i1e, lpmv, gammaln

TWO_PI = 2 * np.pi
SAMPLES = 64
TIMES = np.arange(SAMPLES) * TWO_PI / SAMPLES


# ---------------------------------------------------------------- drives, peak 1, period 2 pi
def drive(kind, rise=None, bias=0.0):
    """field(t) and the times in a period where it is not smooth."""
    if kind == "cosine":
        return (lambda t: bias + np.cos(t)), []
    if kind == "sine":
        return (lambda t: bias + np.sin(t)), []
    if kind == "pulses":  # plateaus +1, -1, half-cosine edges of length rise * period, the middle of +1 at t = 0
        half = rise * TWO_PI / 2

        def field(t):
            p = t % TWO_PI
            for middle, sign in ((np.pi / 2, 1), (3 * np.pi / 2, -1)):
                if abs(p - middle) < half:
                    return bias - sign * np.sin(np.pi * (p - middle) / (2 * half))
            return bias + (1.0 if p < np.pi / 2 or p > 3 * np.pi / 2 else -1.0)

        return field, [m + s * half for m in (np.pi / 2, 3 * np.pi / 2) for s in (-1, 1)]
    raise ValueError(kind)


def steady(rhs, jac, c, m_of, field_breaks, method="LSODA", tol=3e-11, most=80, **opts):
    """Runs periods until the samples of M repeat; returns samples, mismatch, periods."""
    before = None
    for period in range(most):
        edges = sorted(set([0.0, TWO_PI] + list(field_breaks)))
        out = np.empty(SAMPLES)
        for a, b in zip(edges[:-1], edges[1:]):
            inside = TIMES[(TIMES >= a - 1e-12) & (TIMES < b - 1e-12)]
            ask = np.unique(np.concatenate([inside, [b]]))
            r = solve_ivp(rhs, (a, b), c, method=method, t_eval=ask, jac=jac, **opts)
            assert r.success, r.message
            for t, column in zip(r.t, r.y.T):
                k = np.argmin(abs(TIMES - t))
                if abs(TIMES[k] - t) < 1e-12:
                    out[k] = m_of(column)
            c = r.y[:, -1]
        if before is not None and np.max(abs(out - before)) < tol:
            return out, float(np.max(abs(out - before))), period + 1
        before = out
    raise RuntimeError("no steady state")


# ---------------------------------------------------------------- Brownian rotation, density coefficients a_n
def brownian(xi0, tau, kind, n_most=80, method="LSODA", rtol=1e-11, **how):
    """(2 tau/(n(n+1))) da_n/dt = -a_n + xi [a_(n-1)/(2n-1) - a_(n+1)/(2n+3)], a_0 = 1/2, M/Ms = (2/3) a_1."""
    field, breaks = drive(kind, **how)
    n = np.arange(1, n_most + 1)
    rate = n * (n + 1) / (2 * tau)

    def rhs(t, a):
        xi = xi0 * field(t)
        full = np.concatenate([[0.5], a, [0.0]])
        return rate * (-a + xi * (full[:-2] / (2 * n - 1) - full[2:] / (2 * n + 3)))

    if method == "LSODA":
        def jac(t, a):  # banded: row 0 above, 1 diagonal, 2 below
            xi = xi0 * field(t)
            m = np.zeros((3, n_most))
            m[0, 1:] = -rate[:-1] * xi / (2 * n[:-1] + 3)
            m[1] = -rate
            m[2, :-1] = rate[1:] * xi / (2 * n[1:] - 1)
            return m
        opts = dict(lband=1, uband=1)
    else:
        def jac(t, a):
            xi = xi0 * field(t)
            return np.diag(-rate) + np.diag(-(rate * xi / (2 * n + 3))[:-1], 1) + np.diag((rate * xi / (2 * n - 1))[1:], -1)
        opts = {}
    start = np.zeros(n_most)
    return steady(rhs, jac, start, lambda a: 2 / 3 * a[0], breaks, method=method, rtol=rtol, atol=1e-14, **opts)


# ---------------------------------------------------------------- Neel rotation, Galerkin on the sphere
def harmonics(lmax, mmax, order):
    """Orthonormal real harmonics even in phi with their gradients on a quadrature grid: values, d/dtheta, (1/sin) d/dphi."""
    x, wx = np.polynomial.legendre.leggauss(order)
    nphi = 2 * order
    phi = np.arange(nphi) * TWO_PI / nphi
    X, PHI = np.meshgrid(x, phi, indexing="ij")
    W = (wx[:, None] * np.full(nphi, TWO_PI / nphi)).ravel()
    s = np.sqrt(1 - x * x)
    labels, val, dth, dph = [], [], [], []
    for l in range(lmax + 1):
        for m in range(0, min(l, mmax) + 1):
            norm = np.exp(0.5 * (np.log((2 * l + 1) / (4 * np.pi)) + gammaln(l - m + 1) - gammaln(l + m + 1))) * (np.sqrt(2) if m else 1)
            p = norm * lpmv(m, l, x)
            below = norm * lpmv(m, l - 1, x) if l > m else 0 * x
            dp = -(((l + m) * below - l * x * p) / (1 - x * x)) * s  # d/dtheta = -sin d/dx
            labels.append((l, m))
            val.append((p[:, None] * np.cos(m * phi)).ravel())
            dth.append((dp[:, None] * np.cos(m * phi)).ravel())
            dph.append(((p / s)[:, None] * (-m) * np.sin(m * phi)).ravel())
    return labels, np.array(val), np.array(dth), np.array(dph), X.ravel(), PHI.ravel(), W


def sphere_operator(lmax, mmax, sigma, psi, order=None):
    """Matrices of 2 tau dW/dt = div(grad W - W grad(xi u.z + sigma (u.n)^2)) in the basis: (A0 + xi A1) c, and the row of <u.z>."""
    labels, Y, T, P, X, PHI, W = harmonics(lmax, mmax, order or lmax + 8)
    s = np.sqrt(1 - X * X)
    u_n = np.cos(psi) * X + np.sin(psi) * s * np.cos(PHI)
    dn_th = -np.cos(psi) * s + np.sin(psi) * X * np.cos(PHI)
    dn_ph = -np.sin(psi) * np.sin(PHI)
    g_th, g_ph = 2 * sigma * u_n * dn_th, 2 * sigma * u_n * dn_ph
    weak = lambda a, b: (T * W) @ a.T + (P * W) @ b.T
    A0 = -weak(T, P) + weak(Y * g_th, Y * g_ph)
    A1 = (T * W) @ (Y * -s).T
    return labels, A0, A1, (Y * X) @ W


def neel(xi0, tau, sigma, psi, lmax, mmax, kind="cosine", rtol=1e-10, method="Radau"):
    field, breaks = drive(kind)
    labels, A0, A1, row = sphere_operator(lmax, mmax, sigma, psi)
    # the (0,0) coefficient is fixed by normalisation
    c00 = 1 / np.sqrt(4 * np.pi)
    a0, a1 = A0[1:, 1:] / (2 * tau), A1[1:, 1:] / (2 * tau)
    g0, g1 = A0[1:, 0] * c00 / (2 * tau), A1[1:, 0] * c00 / (2 * tau)
    rhs = lambda t, c: a0 @ c + g0 + xi0 * field(t) * (a1 @ c + g1)
    jac = lambda t, c: a0 + xi0 * field(t) * a1
    return steady(rhs, jac, np.zeros(len(g0)), lambda c: row[1:] @ c, breaks, method=method, rtol=rtol, atol=1e-13, tol=1e-9)


# ---------------------------------------------------------------- statics
def fixed_axis(sigma, xi, cos_psi):
    """<u.h> for one easy axis at psi to the field: int over the angle to the axis, Bessel functions about it."""
    cp, sp = cos_psi, np.sqrt(1 - cos_psi**2)

    def parts(x):
        s = np.sqrt(1 - x * x)
        e = np.exp(sigma * (x * x - 1) + xi * cp * x + xi * sp * s - xi)
        return e * i0e(xi * sp * s), e * (cp * x * i0e(xi * sp * s) + sp * s * i1e(xi * sp * s))

    opts = dict(epsabs=1e-14, epsrel=1e-12, limit=400)
    pieces = [(-1, -0.9), (-0.9, 0), (0, 0.9), (0.9, 1)]
    z = sum(quad(lambda x: parts(x)[0], a, b, **opts)[0] for a, b in pieces)
    m = sum(quad(lambda x: parts(x)[1], a, b, **opts)[0] for a, b in pieces)
    return m / z


def random_axes(sigma, xi):
    return quad(lambda c: fixed_axis(sigma, xi, c), 0, 1, epsabs=1e-11, epsrel=1e-11, limit=200)[0]


def integral_times(xi, lmax=60):
    """Exact relaxation times (area under the decay) after a small change of a constant field, along and across, in tau_B."""
    out = []
    for m in (0, 1):
        x, w = np.polynomial.legendre.leggauss(120)
        s = np.sqrt(1 - x * x)
        ls = range(m, lmax + 1)
        norm = lambda l: np.exp(0.5 * (np.log((2 * l + 1) / 2) + gammaln(l - m + 1) - gammaln(l + m + 1)))
        Y = np.array([norm(l) * lpmv(m, l, x) for l in ls])
        below = np.array([norm(l) * (lpmv(m, l - 1, x) if l > m else 0 * x) for l in ls])
        L = np.array(list(ls))[:, None]
        D = -(((L + m) * below - L * x * Y) / (1 - x * x)) * s
        A = -((D * w) @ D.T + (Y * w * m * m / s**2) @ Y.T) + xi * ((D * w) @ (Y * -s).T)
        weight = np.exp(xi * (x - 1))
        weight /= weight @ w
        if m == 0:
            change = (Y * w) @ (weight * (x - (weight * x) @ w))
            row = (Y * w) @ x
            A, change, row = A[1:, 1:], change[1:], row[1:]
        else:
            change = (Y * w) @ (weight * s)
            row = (Y * w) @ s
        out.append(float(-row @ np.linalg.solve(A, change) / (row @ change)) * 2)
    return out


# ---------------------------------------------------------------- 30- and 80-digit tables
def neel_eigenvalue(sigma):
    """mu of d/dx[(1-x^2)(f' - 2 sigma x f)] = -mu f, odd f: dense matrix of the odd moments, 80 digits."""
    mp.mp.dps = 80
    size = 40 + int(2 * sigma)
    a = mp.matrix(size, size)
    s = mp.mpf(sigma)
    for i in range(size):
        n = 2 * i + 1
        a[i, i] = n * (n + 1) * (1 - 2 * s / ((2 * n - 1) * (2 * n + 3)))
        f = 2 * s * n * (n + 1) / mp.mpf(2 * n + 1)
        if i > 0:
            a[i, i - 1] = -f * (n - 1) / (2 * n - 1)
        if i + 1 < size:
            a[i, i + 1] = f * (n + 2) / (2 * n + 3)
    # inverse iteration from the first moment; the gap to the next odd mode is at least a factor of six
    v = mp.matrix(size, 1)
    v[0] = 1
    lu = a**-1
    mu = mp.mpf(0)
    for _ in range(80):
        u = lu * v
        mu = v[0] / u[0]
        v = u / u[0]
    return mp.nstr(mu, 25)


def static_harmonic(xi0, n):
    mp.mp.dps = 30
    lang = lambda x: mp.coth(x) - 1 / x if abs(x) > mp.mpf("1e-3") else x / 3 - x**3 / 45 + 2 * x**5 / 945 - x**7 / 4725
    points = [mp.pi * k / 32 for k in range(17)]
    return mp.nstr(4 / mp.pi * mp.quad(lambda t: lang(xi0 * mp.cos(t)) * mp.cos(n * t), points), 20)


def note(*what):
    print(f"{time.time() - began:7.1f} s ", *what, file=sys.stderr, flush=True)


began = time.time()


def main():
    brown_cases = [
        (0.1, 1, "cosine", {}), (1, 0.3, "cosine", {}), (5, 1, "cosine", {}), (5, 1, "sine", {}), (5, 0.05, "cosine", {}),
        (5, 5, "cosine", {}), (20, 1, "cosine", {}), (20, 0.2, "sine", {}), (20, 5, "cosine", {}), (60, 1, "cosine", {}),
        (60, 0.2, "cosine", {}), (10, 1, "cosine", {"bias": 0.5}), (5, 0.3, "pulses", {"rise": 0.05}),
        (20, 0.1, "pulses", {"rise": 0.02}),
    ]
    brown = []
    for xi0, tau, kind, how in brown_cases:
        m, mismatch, periods = brownian(xi0, tau, kind, **how)
        brown.append(dict(xi=xi0, omegaTau=tau, drive=kind, **how, periods=periods, mismatch=mismatch, m=list(map(float, m))))
        note("brown", xi0, tau, kind, periods, mismatch)
    cross, _, _ = brownian(5, 1, "cosine", method="Radau", rtol=1e-11, n_most=40)
    brown_gap = float(np.max(abs(cross - np.array(brown[2]["m"]))))
    note("LSODA against Radau", brown_gap)

    parallel = []
    for xi0, tau, sigma, lmax in [(5, 1, 0, 24), (5, 0.1, 3, 30), (10, 0.01, 8, 44), (20, 0.002, 10, 60)]:
        m, mismatch, periods = neel(xi0, tau, sigma, 0.0, lmax, 0)
        parallel.append(dict(xi=xi0, omegaTau=tau, sigma=sigma, periods=periods, mismatch=mismatch, m=list(map(float, m))))
        note("parallel", xi0, tau, sigma, periods, mismatch)
    oblique = []
    for xi0, tau, sigma, psi, lmax in [(5, 0.5, 2, 1.0, 16), (3, 0.2, 4, 0.6, 18), (8, 0.1, 3, 1.4, 20)]:
        m, mismatch, periods = neel(xi0, tau, sigma, psi, lmax, 10)
        oblique.append(dict(xi=xi0, omegaTau=tau, sigma=sigma, psi=psi, periods=periods, mismatch=mismatch, m=list(map(float, m))))
        note("oblique", xi0, tau, sigma, psi, periods, mismatch)
    nodes, weights = np.polynomial.legendre.leggauss(8)
    mean = sum(w / 2 * neel(4, 0.3, 3, np.arccos((1 + x) / 2), 16, 10)[0] for x, w in zip(nodes, weights))
    average = dict(xi=4, omegaTau=0.3, sigma=3, m=list(map(float, mean)))
    note("average")

    statics = [[s, x, random_axes(s, x), fixed_axis(s, x, 1.0)] for s, x in
               [(0.5, 1), (3, 5), (10, 5), (10, 0.1), (10, 20), (30, 10), (-3, 5)]]
    note("statics")
    times = [[x] + integral_times(x) for x in (0.1, 1, 3, 5, 10, 20)]
    eigen = [[s, neel_eigenvalue(s)] for s in (0, 0.5, 2, 5, 10, 20, 30)]
    note("eigenvalues")
    flat = [[x, n, static_harmonic(x, n)] for x in (0.1, 5, 10, 100) for n in (1, 3, 5, 7, 21)]
    lines = lambda rows: "[\n  " + ",\n  ".join(json.dumps(r) for r in rows) + "\n ]"
    parts = dict(
        brownian=brown, neelParallel=parallel, neelOblique=oblique, neelAverage=[average],
        fixedAxes=statics, integralTimes=times, neelEigenvalues=eigen, staticHarmonics=flat,
    )
    text = ",\n ".join(f'"{k}": {lines(v)}' for k, v in parts.items())
    versions = json.dumps(dict(numpy=np.__version__, scipy=scipy.__version__, mpmath=mp.__version__))
    head = f'"versions": {versions},\n "brownianRadauAgainstLsoda": {brown_gap}'
    pathlib.Path(__file__).with_name("truth.json").write_text("{\n " + head + ",\n " + text + "\n}\n")
    note("written")


if __name__ == "__main__":
    main()
