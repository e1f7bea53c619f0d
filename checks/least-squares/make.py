"""Truth for checks/least-squares: scipy.optimize on invented data. Run: python3 make.py  (writes truth.json)"""
import json
import pathlib

import numpy
import scipy
from scipy.optimize import curve_fit, least_squares

rng = numpy.random.default_rng(20240501)


def decay(t, a, k, c):
    return a * numpy.exp(-k * t) + c


def saturating(x, s, w, chi):
    """s*(coth(x/w) - w/x) + chi*x, an S-shaped curve with a linear background; tiny and huge parameters."""
    z = x / w
    return s * (1 / numpy.tanh(z) - 1 / z) + chi * x


def two_decays(t, a, k1, b, k2):
    return a * numpy.exp(-k1 * t) + b * numpy.exp(-k2 * t)


def unbounded(name, f, x, truth, start, sigma):
    y = f(x, *truth) + sigma * rng.standard_normal(x.size)
    fits = {}
    for absolute in (True, False):
        p, c = curve_fit(f, x, y, p0=start, sigma=sigma, absolute_sigma=absolute, x_scale="jac",
                         ftol=1e-15, xtol=1e-15, gtol=1e-15, max_nfev=20000, method="trf")
        # polish by Gauss-Newton with a complex-step Jacobian, so that scipy's own differences do not limit the truth
        for _ in range(8):
            j = complex_jacobian(f, x, p) / sigma[:, None]
            r = (y - f(x, *p)) / sigma
            p = p + numpy.linalg.lstsq(j, r, rcond=None)[0]
        j = complex_jacobian(f, x, p) / sigma[:, None]
        r = (y - f(x, *p)) / sigma
        exact = numpy.linalg.inv((j / numpy.linalg.norm(j, axis=0)).T @ (j / numpy.linalg.norm(j, axis=0)))
        exact /= numpy.outer(numpy.linalg.norm(j, axis=0), numpy.linalg.norm(j, axis=0))
        chi2 = float(r @ r)
        if not absolute:
            exact *= chi2 / (x.size - p.size)
        error = numpy.sqrt(numpy.outer(numpy.diag(c), numpy.diag(c)))
        print(name, absolute, "curve_fit covariance against complex step:", numpy.max(numpy.abs(c - exact) / error))
        fits["absolute" if absolute else "scaled"] = exact.ravel().tolist()
    return dict(name=name, x=x.tolist(), y=y.tolist(), sigma=sigma.tolist(), start=list(start),
                parameters=p.tolist(), covariance=fits, chiSquared=chi2)


def complex_jacobian(f, x, p):
    h = 1e-30
    columns = []
    for i in range(len(p)):
        q = numpy.array(p, dtype=complex)
        q[i] += 1j * h * max(abs(p[i]), 1e-300)
        columns.append(numpy.imag(f(x, *q)) / (h * max(abs(p[i]), 1e-300)))
    return numpy.stack(columns, axis=1)


def bounded():
    """The linear term is truly negative and must stay at its bound 0."""
    x = numpy.linspace(-2, 2, 40) + 0.013
    truth = (3.0, 0.4, -0.05)
    sigma = numpy.full(x.size, 0.03)
    y = saturating(x, *truth) + sigma * rng.standard_normal(x.size)
    fit = least_squares(lambda p: (saturating(x, *p) - y) / sigma, (1, 1, 0.1), bounds=([0, 0.01, 0], [10, 5, 1]),
                        x_scale="jac", ftol=1e-15, xtol=1e-15, gtol=1e-15, max_nfev=20000)
    # scipy's trf stays strictly inside: refine with the bound imposed exactly
    two, c = curve_fit(lambda x, s, w: saturating(x, s, w, 0), x, y, p0=fit.x[:2], sigma=sigma, absolute_sigma=True,
                       ftol=1e-15, xtol=1e-15, gtol=1e-15, max_nfev=20000, method="trf", x_scale="jac")
    assert abs(fit.x[2]) < 1e-6 and fit.active_mask[2] == -1
    return dict(name="bounded", x=x.tolist(), y=y.tolist(), sigma=sigma.tolist(), start=[1, 1, 0.1],
                lower=[0, 0.01, 0], upper=[10, 5, 1], parameters=[*two.tolist(), 0.0], covariance=c.ravel().tolist())


t = numpy.linspace(0, 10, 30)
x = numpy.concatenate([-numpy.geomspace(5e5, 2e2, 60), numpy.geomspace(2e2, 5e5, 60)])
long = numpy.linspace(0, 60, 500)
truth = dict(
    versions=dict(numpy=numpy.__version__, scipy=scipy.__version__),
    problems=[
        unbounded("decay", decay, t, (5.0, 0.4, 1.0), (1.0, 1.0, 0.0), 0.02 + 0.03 * numpy.exp(-t)),
        unbounded("saturating", saturating, x, (75.0, 8e3, 1.5e-6), (50.0, 2e4, 0.0), 0.05 + 0.004 * numpy.abs(saturating(x, 75.0, 8e3, 0))),
        unbounded("two-decays", two_decays, long, (7.0, 0.31, 2.5, 0.04), (5.0, 0.5, 1.0, 0.02), numpy.full(long.size, 0.05)),
    ],
    bounded=bounded(),
)
pathlib.Path(__file__).with_name("truth.json").write_text(json.dumps(truth) + "\n")
