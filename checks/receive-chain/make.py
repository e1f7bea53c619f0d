"""Independent values for the receive chain: reciprocity, inductance, circuit noise, filters, matched filter, Allan deviation.

Run:  python3 checks/receive-chain/make.py      (python 3 with numpy, scipy, mpmath; under a minute)
Writes truth.json beside itself. Nothing here shares a formula with the program except where SOURCE.md says so.
"""
import json, pathlib
import mpmath as mp
import numpy as np
from scipy import integrate, linalg, signal

mp.mp.dps = 25
MU0 = 1.25663706127e-6
KB = 1.380649e-23


def text(v):
    return float(mp.nstr(mp.mpf(v), 17))


# --- flux of a dipole through a round loop: line integral of the dipole's vector potential around it ---------------
def dipole_flux(radius, position, moment, points=4096):
    t = 2 * np.pi * np.arange(points) / points
    wire = np.stack([radius * np.cos(t), radius * np.sin(t), 0 * t], 1)
    dl = np.stack([-radius * np.sin(t), radius * np.cos(t), 0 * t], 1) * (2 * np.pi / points)
    r = wire - np.asarray(position)
    a = MU0 / (4 * np.pi) * np.cross(np.asarray(moment), r) / np.linalg.norm(r, axis=1)[:, None] ** 3
    return float(np.sum(a * dl))


def flux_rows():
    rows = []
    for position, moment in [
        ([0, 0, 0], [0, 0, 1e-9]),
        ([0.003, -0.004, 0.006], [1e-9, 2e-9, -3e-9]),
        ([0.012, 0.005, -0.002], [-2e-9, 1e-9, 1e-9]),
        ([0.0, 0.03, 0.04], [1e-9, -1e-9, 2e-9]),
        ([0.2, -0.1, 0.3], [3e-9, 1e-9, 2e-9]),
    ]:
        rows.append([0.02, position, moment, dipole_flux(0.02, position, moment)])
    return rows


def moving_rows():
    """u = -dPhi/dt of a dipole that swings along z and turns about y: eighth-order central difference of the flux."""
    def flux(t):
        w = 2 * np.pi * 1000.0
        return dipole_flux(0.02, [0.002, 0.001, 0.008 * np.sin(w * t)], [1e-9 * np.sin(w * t), 0, 1e-9 * np.cos(w * t)])
    h = 2e-6
    c = [4 / 5, -1 / 5, 4 / 105, -1 / 280]
    rows = []
    for t in [0.0, 1.3e-4, 4.1e-4, 7.7e-4]:
        rows.append([t, -sum(a * (flux(t + k * h) - flux(t - k * h)) for k, a in enumerate(c, 1)) / h])
    return rows


# --- mutual inductance of coaxial loops: Maxwell's elliptic form ----------------------------------------------------
def maxwell(a, b, d):
    m = 4 * a * b / ((a + b) ** 2 + d**2)
    k = mp.sqrt(m)
    return MU0 * mp.sqrt(a * b) * ((2 / k - k) * mp.ellipk(m) - (2 / k) * mp.ellipe(m))


def mutual_rows():
    rows = [["loop", a, b, d, text(maxwell(mp.mpf(a), mp.mpf(b), mp.mpf(d)))]
            for a, b, d in [(0.05, 0.02, 0.0), (0.05, 0.02, 0.03), (0.02, 0.02, 0.01), (0.03, 0.02, 0.05)]]
    a, (ri, ro, length), d = 0.06, (0.018, 0.024, 0.02), 0.01
    stack = mp.quad(lambda r: mp.quad(lambda z: maxwell(mp.mpf(a), r, d + z), [-length / 2, length / 2]), [ri, ro])
    rows.append(["stack", a, [ri, ro, length], d, text(stack / ((ro - ri) * length))])
    return rows


# --- eddy-current loading: int sigma |A|^2 w^2 dV of a uniform field, A = b (-y, x, 0)/2 ----------------------------
def body_rows():
    sigma, f, b = 0.36, 1e5, 31.4159e-6
    density = lambda x, y: sigma * (2 * np.pi * f) ** 2 * b * b * (x * x + y * y) / 4
    a, l = 0.015, 0.06
    disc = integrate.dblquad(lambda y, x: density(x, y), -a, a, lambda x: -np.sqrt(a * a - x * x),
                             lambda x: np.sqrt(a * a - x * x), epsabs=0, epsrel=1e-12)[0]
    a2 = 0.09
    ball = integrate.dblquad(lambda r, z: 2 * np.pi * r * density(r, 0), -a2, a2, 0, lambda z: np.sqrt(a2 * a2 - z * z),
                             epsabs=0, epsrel=1e-12)[0]
    return [["cylinder", a, l, sigma, f, b, disc * l], ["sphere", a2, 0, sigma, f, b, ball]]


# --- circuit noise: modified nodal analysis in complex numbers -------------------------------------------------------
CHAIN = dict(R=0.8, L=60e-6, C=90e-12, Rb=2e-3, fb=1e5, T=295.0, Tb=310.0, en=0.9e-9, inn=2e-12, Rin=2e5, gain=50.0,
             bits=16, range=2.0, fs=2.5e6, hp=(45e3, 3), lp=(1.1e6, 4), notch=(25e3, 2e3, 60.0))


def filter_gain(f):
    c = CHAIN
    b, a = signal.butter(c["hp"][1], 2 * np.pi * c["hp"][0], "high", analog=True)
    h = signal.freqs(b, a, [2 * np.pi * f])[1][0]
    b, a = signal.butter(c["lp"][1], 2 * np.pi * c["lp"][0], "low", analog=True)
    h *= signal.freqs(b, a, [2 * np.pi * f])[1][0]
    f0, width, depth = c["notch"]
    w0, bw = 2 * np.pi * f0, 2 * np.pi * width
    d = 10 ** (-depth / 20)
    h *= signal.freqs([1, d * bw, w0 * w0], [1, bw, w0 * w0], [2 * np.pi * f])[1][0]
    return abs(h)


def solve_circuit(f, emf, injected):
    """Nodes: 1 after the source, 2 between R and L, 3 the coil's end; unknowns v1 v2 v3 and the source's current."""
    c = CHAIN
    w = 2 * np.pi * f
    r = c["R"] + c["Rb"] * (f / c["fb"]) ** 2
    y_l, y_c = 1 / (1j * w * c["L"]), 1j * w * c["C"] + 1 / c["Rin"]
    m = np.array([[1 / r, -1 / r, 0, 1], [-1 / r, 1 / r + y_l, -y_l, 0], [0, -y_l, y_l + y_c, 0], [1, 0, 0, 0]], complex)
    return linalg.solve(m, np.array([0, 0, injected, emf], complex))[2]


def noise_rows():
    c, rows = CHAIN, []
    for f in [30e3, 75e3, 125e3, 500e3, 1.1e6, 1.24e6]:
        g, z, h = abs(solve_circuit(f, 1, 0)), abs(solve_circuit(f, 0, 1)), filter_gain(f)
        coil, body = 4 * KB * c["T"] * c["R"], 4 * KB * c["Tb"] * c["Rb"] * (f / c["fb"]) ** 2
        step = c["range"] / 2 ** c["bits"] / c["gain"]
        at_input = (h * g) ** 2 * (coil + body) + c["en"] ** 2 + (c["inn"] * z) ** 2 + step**2 / 12 / (c["fs"] / 2)
        rows.append([f, g, z, h, float(np.sqrt(at_input) / (h * g))])
    return rows


def band_noise():
    def density(f):
        c = CHAIN
        g, z, h = abs(solve_circuit(f, 1, 0)), abs(solve_circuit(f, 0, 1)), filter_gain(f)
        step = c["range"] / 2 ** c["bits"] / c["gain"]
        rest = c["en"] ** 2 + (c["inn"] * z) ** 2 + step**2 / 12 / (c["fs"] / 2)
        return 4 * KB * (c["T"] * c["R"] + c["Tb"] * c["Rb"] * (f / c["fb"]) ** 2) + rest / (h * g) ** 2
    x, w = np.polynomial.legendre.leggauss(40)
    total = 0.0
    for lo, hi in [(60e3, 150e3), (150e3, 500e3), (500e3, 1.2e6)]:
        total += sum(wi * density(lo + (hi - lo) * (xi + 1) / 2) for xi, wi in zip(x, w)) * (hi - lo) / 2
    return [60e3, 1.2e6, float(np.sqrt(total))]


# --- mass by generalised least squares on the sampled signal, full covariance of the noise ---------------------------
def mass_rows():
    f0, fs, n = 25e3, 2e6, 800
    t = np.arange(n) / fs
    rows = []
    for orders, u, s in [([3], [1500.0], [1e-9]), ([3, 5, 7], [1500.0, 600.0, 200.0], [1e-9, 1e-9, 1e-9]),
                         ([2, 3, 5, 7, 9], [80.0, 1500.0, 600.0, 200.0, 60.0], [3e-9, 2e-9, 1e-9, 0.7e-9, 0.6e-9])]:
        shape = sum(a * np.cos(2 * np.pi * k * f0 * t + 0.3 * k) for k, a in zip(orders, u))
        # One-sided density per bin: that of the nearest given order; two-sided variance density S^2/2 times fs.
        bins = np.abs(np.fft.fftfreq(n, 1 / fs))
        density = np.array([s[int(np.argmin([abs(b - k * f0) for k in orders]))] for b in bins])
        acf = np.real(np.fft.ifft(density**2 / 2 * fs))
        cov = linalg.toeplitz(acf)
        information = shape @ linalg.solve(cov, shape, assume_a="pos")
        rows.append([orders, u, s, n / fs, float(1 / np.sqrt(information))])
    return rows


# --- Allan deviation ----------------------------------------------------------------------------------------------------
def overlapping_adev(y, m):
    means = np.convolve(y, np.ones(m) / m, "valid")
    return float(np.sqrt(np.mean((means[m:] - means[:-m]) ** 2) / 2))


def allan_rows():
    n, y = 1234567890, []
    for _ in range(1000):
        y.append(n / 2147483647)
        n = 16807 * n % 2147483647
    nine = [892, 809, 823, 798, 671, 644, 883, 903, 677]
    rows = [["thousand", m, overlapping_adev(np.array(y), m)] for m in (1, 2, 10, 32, 100, 250, 500)]
    return rows + [["nine", m, overlapping_adev(np.array(nine, float), m)] for m in (1, 2, 3, 4)]


def sampled_noise(exponent, count, burn):
    """Rows: how the values follow from independent normals."""
    if exponent == 0:
        return np.eye(count)
    if exponent == 2:
        return np.eye(count, count + 1, 1) - np.eye(count, count + 1)
    if exponent == -2:  # exact covariance of interval means of a Brownian path
        i = np.arange(count)
        cov = np.minimum.outer(i, i) + 0.5 + np.diag(np.full(count, -1 / 6))
        return linalg.cholesky(cov, lower=True)
    d = -exponent / 2  # (1 - B)^-d: fractionally integrated
    fine = 16 if exponent == -1 else 1  # flicker values are means over their interval: made on a finer grid
    size = count * fine + burn
    psi = np.ones(size)
    for k in range(1, size):
        psi[k] = psi[k - 1] * (k - 1 + d) / k
    full = linalg.toeplitz(psi, np.zeros(size))[burn:]
    return full.reshape(count, fine, size).mean(axis=1)


def freedom_rows():
    rows = []
    for exponent in (2, 1, 0, -1, -2):
        count = 128 if exponent == -1 else 256
        a = sampled_noise(exponent, count, 2000)
        for m in (1, 2, 8, 32, 60, 120)[: 5 if exponent == -1 else 6]:
            terms = count - 2 * m + 1
            d = np.zeros((terms, count))
            for j in range(terms):
                d[j, j:j + m], d[j, j + m:j + 2 * m] = -1, 1
            e = d @ a
            g = e @ e.T
            rows.append([exponent, count, m, float(np.trace(g) ** 2 / np.sum(g * g))])
    return rows


def scalars():
    f, amp, a = 25e3, 20e-3, 0.02
    w = lambda share: mp.findroot(lambda x: mp.pi * x / mp.expm1(mp.pi * x) - share, (0.01, 3), solver="bisect", maxsteps=200, tol=1e-26)
    values = {
        "feedthrough, 20 mm loop, 20 mT, 25 kHz, V": 2 * mp.pi * f * amp * mp.pi * mp.mpf(a) ** 2,
        "thermal noise, 50 Ohm, 300 K, V/Hz^0.5": mp.sqrt(4 * mp.mpf(KB) * 300 * 50),
        "omega at one half": w(mp.mpf("0.5")), "omega at 10 %": w(mp.mpf("0.1")), "omega at 1 %": w(mp.mpf("0.01")),
    }
    # Fourier transform of L'(xi) by quadrature: 2 int_0^inf L' cos(w xi).
    slope = lambda x: 1 / x**2 - 1 / mp.sinh(x) ** 2 if x > mp.mpf("1e-2") else mp.mpf(1) / 3 - x**2 / 15 + 2 * x**4 / 189
    for omega in ("0.5", "1", "2"):
        o = mp.mpf(omega)
        near = mp.quad(lambda x: slope(x) * mp.cos(o * x), mp.linspace(0, 40, 41))
        # Beyond 40 the slope is 1/x^2 to 1e-34: int cos(o x)/x^2 = cos(40 o)/40 + o (Si(40 o) - pi/2).
        far = mp.cos(40 * o) / 40 + o * (mp.si(40 * o) - mp.pi / 2)
        values[f"transform of L' at {omega}"] = 2 * (near + far)
    return {k: text(v) for k, v in values.items()}


def main():
    block = lambda rows: "[\n  " + ",\n  ".join(json.dumps(r) for r in rows) + "\n ]"
    tables = {
        "flux: loop radius m, position m, moment A.m2, flux Wb": flux_rows(),
        "moving: time s, voltage V": moving_rows(),
        "mutual: kind, drive radius m, receive m, distance m, H per turn": mutual_rows(),
        "body: kind, radius m, length m, S/m, Hz, T/A, Ohm": body_rows(),
        "noise: Hz, coil gain, |Z| Ohm, filter gain, total V/Hz^0.5": noise_rows(),
        "mass: orders, V/kg, V/Hz^0.5, time s, sd kg": mass_rows(),
        "allan: series, m, deviation": allan_rows(),
        "freedom: exponent, M, m, edf": freedom_rows(),
    }
    body = ",\n ".join(f"{json.dumps(k)}: {block(v)}" for k, v in tables.items())
    singles = {"scalars": scalars(), "band: from Hz, to Hz, rms V": band_noise()}
    singles["chain"] = CHAIN
    rest = ",\n ".join(f"{json.dumps(k)}: {json.dumps(v)}" for k, v in singles.items())
    pathlib.Path(__file__).with_name("truth.json").write_text("{\n " + body + ",\n " + rest + "\n}\n")


main()
