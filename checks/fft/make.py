"""Truth for checks/fft: numpy.fft (pocketfft, double). Run: python3 make.py  (writes truth.json)"""
import json
import pathlib

import numpy

rng = numpy.random.default_rng(20240502)
cases = []
for n in (1, 2, 3, 4, 5, 6, 7, 8, 9, 12, 15, 16, 17, 30, 31, 37, 49, 60, 64, 97, 121, 125, 128, 187, 210, 243, 340, 408, 509, 961):
    x = rng.standard_normal(n) + 1j * rng.standard_normal(n)
    y = numpy.fft.fft(x)
    cases.append(dict(n=n, x=x.view(float).tolist(), y=y.view(float).tolist()))
# Long ones: x_j = sin(j^2) + i cos(3 j^2 + 1), kept as some bins only
long = []
for n in (1632, 4096, 10007, 21542, 65536, 100000, 131072):
    j = numpy.arange(n, dtype=float)
    x = numpy.sin(0.001 * j * j) + 1j * numpy.cos(0.003 * j * j + 1)
    y = numpy.fft.fft(x)
    at = numpy.unique(numpy.concatenate([[0, 1, n // 2, n - 1], rng.integers(0, n, 60)]))
    long.append(dict(n=n, norm=float(numpy.linalg.norm(y)), at=at.tolist(), y=y[at].view(float).tolist()))
pathlib.Path(__file__).with_name("truth.json").write_text(
    json.dumps(dict(versions=dict(numpy=numpy.__version__), cases=cases, long=long)) + "\n")
