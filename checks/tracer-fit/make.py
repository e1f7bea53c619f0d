"""Outside truth for the fits of tracers: scipy on the same invented data, with models written on their own.

Size averages are Riemann sums of number density times d^3 over a fine grid in ln d; the chain's common field is found by
monotone iteration and Newton steps; the Brownian Fokker-Planck equation is solved by harmonic balance (one sparse linear system in Legendre order and
harmonic number), not in time.
Run from the repository's root: python3 checks/tracer-fit/make.py   (some minutes)
"""
import json
import pathlib

import numpy as np
import scipy
from scipy.optimize import least_squares, nnls
from scipy.sparse import coo_matrix
from scipy.sparse.linalg import spsolve

KB, MU0 = 1.380649e-23, 1.25663706127e-6
MS, T, ETA = 446e3, 300.0, 0.89e-3
HERE = pathlib.Path(__file__).parent
CURVE = HERE / "../../shipped/curves/clustered-iron-oxide/FSL-DCM_data.txt"


def langevin(x):
    small = np.abs(x) < 0.05
    safe = np.where(small, 1.0, x)
    return np.where(small, x / 3 - x**3 / 45 + 2 * x**5 / 945 - x**7 / 4725, 1 / np.tanh(safe) - 1 / safe)


def k_of(d):
    return MS * np.pi * d**3 / (6 * KB * T)


def cores(d_nm, s, count=1201):
    """Diameters and weights by volume of a number-weighted log-normal."""
    u = np.linspace(-9, 9 + 6 * s, count)
    d = d_nm * 1e-9 * np.exp(s * u)
    w = np.exp(-u * u / 2) * (d / (d_nm * 1e-9)) ** 3
    return d, w / w.sum()


def relative(B, d_nm, s):
    d, w = cores(d_nm, s)
    return langevin(k_of(d) * B[:, None]) @ w


def fit(residual, p0, lower, upper, scale):
    r = least_squares(residual, p0, bounds=(lower, upper), jac="3-point", x_scale=scale, xtol=1e-15, ftol=1e-15, gtol=1e-15,
                      max_nfev=400)
    C = np.linalg.inv(r.jac.T @ r.jac)
    return {"parameters": r.x.tolist(), "covariance": C.ravel().tolist(), "chiSquared": float(2 * r.cost)}


def mixture_model(B, p):
    total = p[-1] * B
    share_rest = 1 - p[3]
    total = total + p[0] * (share_rest * relative(B, p[1], p[2]) + p[3] * relative(B, p[4], p[5]))
    return total


MIX_BOUNDS = ([0, 0.5, 1e-3, 0, 0.5, 1e-3, -np.inf], [np.inf, 200, 1.2, 1, 200, 1.2, np.inf])
MIX_SCALE = [100, 10, 0.2, 0.5, 20, 0.2, 1]


def mixture():
    rng = np.random.default_rng(41)
    B = np.geomspace(1e-4, 5, 60)
    true = [100, 7, 0.2, 0.4, 20, 0.15, 1]
    M = np.round(mixture_model(B, true) + 0.3 * rng.standard_normal(B.size), 4)
    out = fit(lambda p: (M - mixture_model(B, p)) / 0.3, true, *MIX_BOUNDS, MIX_SCALE)
    return {"field_T": B.tolist(), "magnetisation": M.tolist(), "sigma": 0.3, **out}


def measured():
    H, M, sd = np.loadtxt(CURVE).T
    B = H * MU0
    starts = [[105, 1, 0.9, 0.6, 17, 0.2, -0.5], [105, 5, 0.5, 0.7, 17, 0.2, 0], [100, 8, 0.3, 0.5, 20, 0.3, 0]]
    fits = [fit(lambda p: (M - mixture_model(B, p)) / sd, s, *MIX_BOUNDS, MIX_SCALE) for s in starts]
    return {"mixtureChiSquared": min(f["chiSquared"] for f in fits)}


def free_form():
    """Amplitudes by nnls of the stacked system; the background of either sign is two columns."""
    rng = np.random.default_rng(42)
    B = np.geomspace(1e-4, 5, 50)
    M = np.round(60 * relative(B, 7, 0.2) + 40 * relative(B, 20, 0.15) + B + 0.3 * rng.standard_normal(B.size), 4)
    cases = []
    for count, weight, penalty in [(30, 1e-2, "second-difference"), (40, 1e-1, "second-difference"), (30, 1e-3, "size")]:
        d = np.geomspace(2e-9, 60e-9, count)
        K = langevin(k_of(d) * B[:, None]) / 0.3
        b = B / 0.3
        P = np.eye(len(b)) - np.outer(b, b) / (b @ b)
        D = np.diag(-2 * np.ones(count)) + np.diag(np.ones(count - 1), 1) + np.diag(np.ones(count - 1), -1)
        if penalty == "size":
            D = np.eye(count)
        scale = np.trace(K.T @ P @ K) / np.trace(D.T @ D)
        A = np.vstack([np.column_stack([K, b, -b]), np.column_stack([np.sqrt(weight * scale) * D, np.zeros((count, 2))])])
        x, _ = nnls(A, np.concatenate([M / 0.3, np.zeros(count)]), maxiter=100000)
        r = M / 0.3 - np.column_stack([K, b, -b]) @ x
        cases.append({"from_m": 2e-9, "to_m": 60e-9, "count": count, "relativeWeight": weight, "penalty": penalty,
                      "amplitude": x[:count].tolist(), "slope": float(x[count] - x[count + 1]), "chiSquared": float(r @ r)})
    return {"field_T": B.tolist(), "magnetisation": M.tolist(), "sigma": 0.3, "cases": cases}


def plain_nnls():
    rng = np.random.default_rng(43)
    cases = []
    for m, n in [(8, 5), (30, 20), (60, 40)]:
        A, b = rng.standard_normal((m, n)), rng.standard_normal(m)
        x, norm = nnls(A, b)
        cases.append({"matrix": A.ravel().tolist(), "data": b.tolist(), "solution": x.tolist(), "norm": float(norm)})
    d = np.geomspace(2e-9, 40e-9, 12)  # a smooth kernel: condition about 1e8
    B = np.geomspace(1e-3, 5, 40)
    A = langevin(k_of(d) * B[:, None])
    b = relative(B, 9, 0.3) + 1e-3 * rng.standard_normal(40)
    x, norm = nnls(A, b)
    cases.append({"matrix": A.ravel().tolist(), "data": b.tolist(), "solution": x.tolist(), "norm": float(norm)})
    return cases


def chain_relative(B, d_nm, s, kappa, branch):
    """Common field: the highest root for descending, the lowest for ascending."""
    d, w = cores(d_nm, s, 401)
    k = k_of(d)
    c = kappa / (w @ k)

    def upper(b):
        # the upper state is the largest m with m = F(b + c m); start above, iterate down monotonically, then polish
        m = 1.0
        for _ in range(4000):
            new = langevin(k * (b + c * m)) @ w
            if abs(new - m) < 1e-15:
                break
            m = new
        return m

    def newton(b, m):
        for _ in range(60):
            x = k * (b + c * m)
            safe = np.where(np.abs(x) < 1e-3, 1.0, np.minimum(np.abs(x), 300))
            slope = np.where(np.abs(x) < 1e-3, 1 / 3 - x * x / 15, 1 / safe**2 - 1 / np.sinh(safe) ** 2)
            step = (langevin(x) @ w - m) / (1 - c * (w * k) @ slope)
            m += step
            if abs(step) < 1e-16:
                break
        return m

    sign = {"initial": 1, "descending": 1, "ascending": -1}[branch]
    if branch == "initial":
        return np.array([np.sign(b) * newton(abs(b), upper(abs(b))) for b in B])
    return np.array([sign * newton(sign * b, upper(sign * b)) for b in B])


def chain():
    rng = np.random.default_rng(44)
    B = np.geomspace(1e-4, 1, 50)
    true = [100, 10, 0.2, 1.5, 1]
    model = lambda p: p[0] * chain_relative(B, p[1], p[2], p[3], "initial") + p[4] * B
    M = np.round(model(true) + 0.3 * rng.standard_normal(B.size), 4)
    low = fit(lambda p: (M - model(p)) / 0.3, true, [0, 0.5, 1e-3, 0, -np.inf], [np.inf, 200, 1.2, 2.99, np.inf], [100, 10, 0.2, 1, 1])
    down = np.concatenate([np.linspace(0.2, 0.02, 10), np.linspace(0.016, -0.016, 17), np.linspace(-0.02, -0.2, 10)])
    loop = np.concatenate([down, -down[1:]])
    n = down.size
    true = [100, 12, 0.15, 4, 1]

    def loop_model(p):
        m = np.concatenate([chain_relative(loop[:n], p[1], p[2], p[3], "descending"),
                            chain_relative(loop[n:], p[1], p[2], p[3], "ascending")])
        return p[0] * m + p[4] * loop

    L = np.round(loop_model(true) + 0.3 * rng.standard_normal(loop.size), 4)
    high = fit(lambda p: (L - loop_model(p)) / 0.3, true, [0, 0.5, 1e-3, 3.01, -np.inf], [np.inf, 200, 1.2, 20, np.inf], [100, 12, 0.2, 4, 1])
    return {"initial": {"field_T": B.tolist(), "magnetisation": M.tolist(), "sigma": 0.3, **low},
            "loop": {"field_T": loop.tolist(), "magnetisation": L.tolist(), "sigma": 0.3, **high}}


def static_harmonics(xi, harmonics, samples=4096):
    theta = 2 * np.pi * np.arange(samples) / samples
    m = langevin(np.multiply.outer(xi, np.cos(theta)))
    return np.stack([2 / samples * m @ np.cos(h * theta) for h in harmonics], -1)


def ensemble_harmonics(p, A, omega, harmonics, tau=0.0):
    d, w = cores(p[0], p[1], 201)
    h = w @ static_harmonics(np.minimum(k_of(d) * A, 2000), harmonics)
    return h / (1 + 1j * np.array(harmonics) * omega * tau)


def balance(xi, omega_tau, harmonics):
    """Harmonic balance of 2 tau/(n(n+1)) a_n' = -a_n + xi cos(t) (a_(n-1) - a_(n+1)) / (2n+1), a_0 = 1 = <P_0>."""
    N, Q = int(12 + 2.5 * np.sqrt(xi) + xi / 3), int(max(harmonics) + 16 + 5 * np.sqrt(xi) + xi / 2)
    width = 2 * Q + 1
    index = lambda n, q: (n - 1) * width + q + Q
    rows, cols, vals = [], [], []
    rhs = np.zeros(N * width, complex)
    for n in range(1, N + 1):
        for q in range(-Q, Q + 1):
            i = index(n, q)
            rows.append(i), cols.append(i), vals.append(1 + 2j * omega_tau * q / (n * (n + 1)))
            for dq in (-1, 1):
                if not -Q <= q + dq <= Q:
                    continue
                g = xi / 2 / (2 * n + 1)
                if n > 1:
                    rows.append(i), cols.append(index(n - 1, q + dq)), vals.append(-g)
                elif q + dq == 0:
                    rhs[i] += g
                if n < N:
                    rows.append(i), cols.append(index(n + 1, q + dq)), vals.append(g)
    a = spsolve(coo_matrix((vals, (rows, cols)), shape=(N * width, N * width)).tocsc(), rhs)
    return np.array([2 * a[index(1, h)] for h in harmonics])


def brown_ensemble(p, A, omega, harmonics):
    """Gauss-Hermite over the volume-weighted sizes."""
    z, w = np.polynomial.hermite_e.hermegauss(15)
    d = p[0] * 1e-9 * np.exp(3 * p[1] ** 2 + p[1] * z)
    tau = np.pi * ETA * (p[2] * 1e-9) ** 3 / (2 * KB * T)
    h = np.array([balance(k_of(x) * A, omega * tau, harmonics) for x in d])
    return (w / w.sum()) @ h


def stacked(h):
    return np.column_stack([h.real, h.imag]).ravel()


def harmonics():
    rng = np.random.default_rng(45)
    A, f = 0.02, 25e3
    omega = 2 * np.pi * f
    H = [1, 3, 5, 7, 9, 11]
    out = {"driveAmplitude_T": A, "frequency_Hz": f, "harmonic": H, "viscosity_Pa_s": ETA, "sigma": 1e-3}
    models = {
        "none": ([1, 18, 0.15], lambda p: p[0] * ensemble_harmonics(p[1:], A, omega, H)),
        "debye": ([1, 18, 0.15, 2], lambda p: p[0] * ensemble_harmonics(p[1:3], A, omega, H, p[3] * 1e-6)),
        "brownian": ([1, 18, 0.15, 32], lambda p: p[0] * brown_ensemble(p[1:], A, omega, H)),
    }
    for name, (true, model) in models.items():
        data = np.round(stacked(model(true)) + 1e-3 * rng.standard_normal(2 * len(H)), 8)
        n = len(true)
        found = fit(lambda p: (data - stacked(model(p))) / 1e-3, true, [0, 3, 0.01, 0.01][:n], [np.inf, 60, 0.8, 200][:n],
                    [1, 18, 0.2, 10][:n])
        out[name] = {"moment": data.tolist(), **found}
        print(name, found["parameters"], np.sqrt(np.diag(np.reshape(found["covariance"], (n, n)))))
    return out


def debye(f, p):
    return p[1] + (p[0] - p[1]) / (1 + 2j * np.pi * f * p[2] * 1e-6)


def brown_chi(f, p):
    z = np.linspace(-9, 9, 1801)
    w = np.exp(-z * z / 2)
    tau = np.pi * ETA * (p[2] * 1e-9 * np.exp(p[3] * z)) ** 3 / (2 * KB * T)
    return p[1] + (p[0] - p[1]) * ((1 / (1 + 2j * np.pi * f[:, None] * tau)) @ w) / w.sum()


def parts(chi):
    return np.concatenate([chi.real, -chi.imag])


def susceptibility():
    rng = np.random.default_rng(46)
    out = {}
    for name, model, true, f in [("debye", debye, [1, 0.1, 100], np.geomspace(10, 1e5, 25)),
                                 ("brown-log-normal", brown_chi, [1, 0.1, 60, 0.2], np.geomspace(10, 1e5, 25))]:
        data = np.round(parts(model(f, true)) + 0.01 * rng.standard_normal(50), 6)
        n = len(true)
        found = fit(lambda p: (data - parts(model(f, p))) / 0.01, true, [0, -1, 1e-3, 1e-3][:n], [np.inf, np.inf, 1e6, 1.2][:n],
                    [1, 0.1, 50, 0.2][:n])
        out[name] = {"frequency_Hz": f.tolist(), "real": data[:25].tolist(), "imaginary": data[25:].tolist(), "sigma": 0.01,
                     "viscosity_Pa_s": ETA, **found}
    return out


def joint():
    """Curve, harmonics with a Debye time, susceptibility with the same time."""
    rng = np.random.default_rng(47)
    B, A, fd, H = np.geomspace(1e-4, 1, 40), 0.02, 25e3, [3, 5, 7, 9, 11]
    f = np.geomspace(1e3, 1e6, 20)
    omega = 2 * np.pi * fd
    # saturation, median, log-sd, slope, scale, time in us, chi_0, chi_inf: the order of our joint fit
    true = [100, 18, 0.15, 1, 1, 2, 1, 0.1]
    curve = lambda p: p[0] * relative(B, p[1], p[2]) + p[3] * B
    spectrum = lambda p: stacked(p[4] * ensemble_harmonics(p[1:3], A, omega, H, p[5] * 1e-6))
    chi = lambda p: parts(debye(f, [p[6], p[7], p[5]]))
    M = np.round(curve(true) + 0.5 * rng.standard_normal(40), 4)
    S = np.round(spectrum(true) + 5e-4 * rng.standard_normal(10), 8)
    X = np.round(chi(true) + 0.01 * rng.standard_normal(40), 6)
    r = lambda p: np.concatenate([(M - curve(p)) / 0.5, (S - spectrum(p)) / 5e-4, (X - chi(p)) / 0.01])
    found = fit(r, true, [0, 3, 0.01, -np.inf, 0, 1e-3, 0, -1], [np.inf, 60, 0.8, np.inf, np.inf, 1e3, np.inf, np.inf],
                [100, 18, 0.2, 1, 1, 2, 1, 0.1])
    return {"field_T": B.tolist(), "magnetisation": M.tolist(), "magnetisationSigma": 0.5, "driveAmplitude_T": A,
            "frequency_Hz": fd, "harmonic": H, "moment": S.tolist(), "momentSigma": 5e-4, "frequencies_Hz": f.tolist(),
            "real": X[:20].tolist(), "imaginary": X[20:].tolist(), "chiSigma": 0.01, **found}


truth = {"made": {"numpy": np.__version__, "scipy": scipy.__version__}, "coreSaturation_A_per_m": MS, "temperature_K": T}
for part in [plain_nnls, mixture, measured, free_form, chain, harmonics, susceptibility, joint]:
    truth[part.__name__] = part()
    print(part.__name__, flush=True)
(HERE / "truth.json").write_text(json.dumps(truth, separators=(",", ":")).replace("},{", "},\n{") + "\n")
