"""Straight calibration lines by general-purpose libraries.

Run:  python3 checks/calibration/make.py      (python 3 with numpy and scipy)
Writes truth.json beside itself.
W32: the calibration example of Miller & Miller, ordinary least squares by numpy.linalg, inverse prediction with its
covariance written out. Vials: five invented calibration vials with uncertainties of both coordinates, fitted by
orthogonal distance regression (scipy.odr, ODRPACK), which maximises the joint likelihood.
"""
import json, pathlib, warnings
import numpy as np

warnings.filterwarnings("ignore", category=DeprecationWarning)
from scipy import odr

x = np.arange(0.0, 13.0, 2.0)
y = np.array([2.1, 5.0, 9.0, 12.6, 17.3, 21.0, 24.7])
design = np.stack([np.ones_like(x), x], 1)
(a, b), rss = np.linalg.lstsq(design, y, rcond=None)[:2]
s = float(np.sqrt(rss[0] / (len(x) - 2)))
covariance = s**2 * np.linalg.inv(design.T @ design)


def inverse(y0, m=1):
    x0 = (y0 - a) / b
    gradient = np.array([-1 / b, -x0 / b])
    return {"reading": y0, "replicates": m, "x": x0, "standardUncertainty": float(np.sqrt(s**2 / m / b**2 + gradient @ covariance @ gradient))}


def vials(iron, reading, u_iron, u_reading):
    """Mass in ug: its known value and reading, and their standard uncertainties."""
    data = odr.RealData(iron, reading, sx=u_iron, sy=u_reading)
    fit = odr.ODR(data, odr.Model(lambda p, v: p[0] + p[1] * v), beta0=[0.0, 1.0])
    fit.set_job(fit_type=0)
    fit.sstol = fit.partol = 1e-14
    out = fit.run()
    return {"iron": list(iron), "reading": list(reading), "ironUncertainty": list(u_iron), "readingUncertainty": list(u_reading),
            "intercept": out.beta[0], "slope": out.beta[1], "chiSquared": out.sum_square,
            "covariance": [out.cov_beta[0, 0], out.cov_beta[0, 1], out.cov_beta[1, 1]]}


iron = np.array([2.0, 5.0, 10.0, 20.0, 40.0])
truth = {
    "W32": {"x": x.tolist(), "y": y.tolist(), "slope": b, "intercept": a, "residualSd": s,
            "slopeSd": float(np.sqrt(covariance[1, 1])), "interceptSd": float(np.sqrt(covariance[0, 0])),
            "inverse": [inverse(2.9), inverse(13.5), inverse(23.0), inverse(13.5, 4)]},
    "vials": vials(iron, np.array([2.13, 5.297, 10.4, 20.622, 41.449]), 0.01 * iron, np.full(5, 0.15)),
}
pathlib.Path(__file__).with_name("truth.json").write_text(json.dumps(truth, indent=1) + "\n")
print(json.dumps(truth, indent=1))
