"""Outside truth for the log-normal Langevin fit: scipy on the measured file, and curves simulated from published numbers.

The model here is written on its own: the average over sizes is a plain Riemann sum of number density times d^3 over a
wide, fine grid in ln d (our code shifts the distribution instead), and L comes from its closed form with a Taylor series.
Run from the repository's root: python3 checks/curve-fit/make.py
"""
import json
import math
import pathlib

import numpy as np
import scipy
from scipy.optimize import curve_fit

MU0, KB = 1.25663706127e-6, 1.380649e-23
HERE = pathlib.Path(__file__).parent
CURVE = HERE / "../../shipped/curves/clustered-iron-oxide/FSL-DCM_data.txt"
MS, T = 446e3, 300.0


def langevin(x):
    small = np.abs(x) < 0.05
    safe = np.where(small, 1.0, x)
    return np.where(small, x / 3 - x**3 / 45 + 2 * x**5 / 945 - x**7 / 4725, 1 / np.tanh(safe) - 1 / safe)


def model(B, S, d_nm, s, chi):
    u = np.linspace(-10, 10 + 12 * s, 2401)  # (ln d - ln median) / s, far enough for d^3 and d^6
    d = d_nm * 1e-9 * np.exp(s * u)
    weight = np.exp(-u * u / 2) * d**3
    xi = MS * np.pi * d**3 / (6 * KB * T) * B[:, None]
    return S * (langevin(xi) * weight).sum(1) / weight.sum() + chi * B


def fit(B, M, sigma, p0):
    bounds = ([0, 0.1, 1e-3, -np.inf], [np.inf, 200, 1.2, np.inf])
    p, C = curve_fit(model, B, M, p0, sigma=sigma, absolute_sigma=True, bounds=bounds, jac="3-point",
                     x_scale=[100, 10, 0.3, 1], ftol=1e-15, xtol=1e-15, gtol=1e-15)
    return p, C, (M - model(B, *p)) / sigma


def runs_p(signs):
    """Two-sided exact p of the runs test in integers: twice the smaller tail."""
    n1, n2 = int((signs > 0).sum()), int((signs < 0).sum())
    runs = 1 + int((signs[1:] != signs[:-1]).sum())

    def ways(r):
        k = r // 2
        c = math.comb
        if r % 2 == 0:
            return 2 * c(n1 - 1, k - 1) * c(n2 - 1, k - 1)
        return c(n1 - 1, k) * c(n2 - 1, k - 1) + c(n1 - 1, k - 1) * c(n2 - 1, k)

    total = math.comb(n1 + n2, n1)
    low = sum(ways(r) for r in range(2, runs + 1)) / total
    high = sum(ways(r) for r in range(runs, n1 + n2 + 1)) / total
    return runs, min(1.0, 2 * min(low, high))


def measured():
    H, M, sd = np.loadtxt(CURVE).T
    p, C, r = fit(H * MU0, M, sd, [100, 10, 0.3, 0])
    runs, p_runs = runs_p(np.sign(r))
    return {
        "parameters": list(p), "covariance": C.ravel().tolist(),
        "reducedChiSquared": float((r**2).sum() / (len(M) - 4)), "degreesOfFreedom": len(M) - 4,
        "lag1": float((r[1:] * r[:-1]).sum() / (r**2).sum()), "runs": runs, "runsP": p_runs,
        "modelInadequacy": float(np.sqrt(np.mean((r * sd) ** 2))),
    }


def published(replicas=60, seed=20201):
    """Curves from the parameters printed by Bersweiler et al. (2020). Grid and noise are ours (the paper's are not
    known to us): 4 decades of field, and a noise at which the fit's uncertainties come near the printed ones."""
    true = [95.45, 12.24, 0.114, 3.19]
    B = np.concatenate([np.geomspace(5e-4, 1, 40), np.linspace(1.2, 5, 20)])
    noise = 1.42
    clean = model(B, *true)
    rng = np.random.default_rng(seed)
    curves = [(clean + noise * rng.standard_normal(B.size)).tolist() for _ in range(replicas)]
    p, C, _ = fit(B, clean, np.full(B.size, noise), true)
    return {"true": true, "printedUncertainty": [0.49, 0.26, 0.024, 0.17], "field_T": B.tolist(), "noise": noise,
            "clean": clean.tolist(), "curves": [[round(v, 4) for v in c] for c in curves],
            "expectedUncertainty": np.sqrt(np.diag(C)).tolist(),
            "expectedCorrelation": (C / np.sqrt(np.outer(np.diag(C), np.diag(C)))).ravel().tolist()}


truth = {"made": {"numpy": np.__version__, "scipy": scipy.__version__}, "units": ["A.m2/kg", "nm", "1", "A.m2/kg/T"],
         "coreSaturation_A_per_m": MS, "temperature_K": T, "measured": measured(), "published": published()}
(HERE / "truth.json").write_text(json.dumps(truth, separators=(",", ":")).replace("],[", "],\n[") + "\n")
print(json.dumps(truth["measured"], indent=1))
print(truth["published"]["expectedUncertainty"], np.round(truth["published"]["expectedCorrelation"], 3))
