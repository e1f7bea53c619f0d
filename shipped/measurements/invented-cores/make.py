"""Writes the three invented measurements of one invented tracer (see SOURCE.md). Run: python3 make.py"""

import json
import numpy as np

KB, T, MS = 1.380649e-23, 300.0, 446e3
MEDIAN, LOGSD, S, TAU = 19e-9, 0.12, 115.0, 1.5e-6  # by number; A.m2/kg Fe; one effective time
rng = np.random.default_rng(20261125)
z, w = np.polynomial.hermite_e.hermegauss(40)
w = w / w.sum()
d = MEDIAN * np.exp(3 * LOGSD**2 + LOGSD * z)  # weighted by volume
k = MS * np.pi * d**3 / 6 / (KB * T)


def langevin(x):
    x = np.where(np.abs(x) < 1e-6, 1e-6, x)
    return 1 / np.tanh(x) - 1 / x


def fact(value, status="stated", note="invented"):
    return {"value": value, "status": status, "note": note}


core = {
    "temperature": fact("300 K"),
    "coreMaterial": fact("magnetite", "assumed", "the synthesis aims at magnetite"),
    "coreSaturation": fact("446 kA/m", "assumed", "bulk magnetite"),
}


def write(name, header, rows, descriptor):
    with open(name, "w") as file:
        file.write("# invented for demonstration\n" + header + "\n")
        file.writelines(",".join(f"{v:.7g}" for v in row) + "\n" for row in rows)
    with open(name + ".descriptor.json", "w") as file:
        json.dump(descriptor, file, indent=2)
        file.write("\n")


field = np.concatenate([np.geomspace(5, 3e4, 60)])  # Oe
b = field * 1e-4
moment = S * (w * langevin(k * b[:, None])).sum(1) + 0.8 * b
sd = np.full(b.size, 0.25)
write(
    "curve.csv",
    "field (Oe),moment per iron (emu/g),sd (emu/g)",
    np.column_stack([field, moment + sd * rng.standard_normal(b.size), sd]),
    {
        "schema": "urn:ferrule:curve-descriptor:1",
        "name": "Invented cores, curve",
        "columns": ["field", "magnetisation", "sigma"],
        "facts": {"fieldUnit": fact("Oe"), "magnetisationUnit": fact("emu/g"), "basis": fact("per-iron-mass"), "branch": fact("initial"), **core},
    },
)

A, F = 20e-3, 25e3
phase = 2 * np.pi * np.arange(512) / 512
wave = (w * langevin(k * A * np.cos(phase)[:, None])).sum(1)
order = np.arange(1, 20, 2)
c = np.array([2 / 512 * (wave * np.exp(-1j * n * phase)).sum() for n in order])
m = S * c / (1 + 1j * order * 2 * np.pi * F * TAU)
sd = np.full(order.size, 0.02)
m = m + sd * (rng.standard_normal(order.size) + 1j * rng.standard_normal(order.size))
write(
    "harmonics.csv",
    "harmonic,real (A.m2/kg),imaginary (A.m2/kg),sd (A.m2/kg)",
    np.column_stack([order, m.real, m.imag, sd]),
    {
        "schema": "urn:ferrule:harmonics-descriptor:1",
        "name": "Invented cores, harmonics",
        "columns": ["harmonic", "real", "imaginary", "sigma"],
        "facts": {
            "quantity": fact("moment"),
            "valueUnit": fact("A.m2/kg"),
            "valueMeaning": fact("peak"),
            "basis": fact("per-iron-mass"),
            "driveWaveform": fact("cosine"),
            "phaseConvention": fact("exp(+iwt)"),
            "driveAmplitude": fact("20 mT"),
            "driveAmplitudeMeaning": fact("peak"),
            "driveFrequency": fact("25 kHz"),
            "biasField": fact("0 mT"),
            "medium": fact("water"),
            "viscosity": fact("0.85 mPa.s", "assumed", "water at 27 degrees"),
            **core,
        },
    },
)

frequency = np.geomspace(1e3, 1e6, 25)
chi0, chi_inf = 0.040, 0.002
chi = chi_inf + (chi0 - chi_inf) / (1 + 1j * 2 * np.pi * frequency * TAU)
sd = np.full(frequency.size, 1.5e-4)
write(
    "susceptibility.csv",
    "frequency (Hz),chi' (1),chi'' (1),sd (1)",
    np.column_stack([frequency, chi.real + sd * rng.standard_normal(25), -chi.imag + sd * rng.standard_normal(25), sd]),
    {
        "schema": "urn:ferrule:susceptibility-descriptor:1",
        "name": "Invented cores, susceptibility",
        "columns": ["frequency", "real", "imaginary", "sigma"],
        "facts": {
            "unitSystem": fact("SI"),
            "basis": fact("per-sample-volume"),
            "fieldAmplitude": fact("100 A/m"),
            "fieldAmplitudeMeaning": fact("peak"),
            "viscosity": fact("0.85 mPa.s", "assumed", "water at 27 degrees"),
            **core,
        },
    },
)
