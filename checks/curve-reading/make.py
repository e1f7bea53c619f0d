"""Truth for checks/curve-reading. Run: python3 make.py  (writes truth.json)

harmonics: a lagging saturating moment m(t) = m0 tanh(b0 + a cos(w t - delay)) is sampled over one period; its complex
amplitudes m_k = (2/N) sum m e^{-i k w t} come from numpy's FFT. The same sample is then recorded as a laboratory might:
moment, dm/dt or coil voltage (derivatives in closed form), under a cosine or a sine drive, with either sign of the
exponent, as peak, peak-to-peak or rms, cartesian, polar or amplitude alone. Each record is a table with its facts.

numbers: decimal texts and what Python's float makes of them (correctly rounded), as hexadecimal floats.
"""
import json
import pathlib
import random

import numpy as np

N = 4096
F = 25e3
W = 2 * np.pi * F
M0, DELAY = 3.2e-9, 0.37
SENSITIVITY = 31.4e-6
PEAK = {"peak": 1.0, "peak-to-peak": 2.0, "rms": 1 / np.sqrt(2)}


def record(quantity, waveform, polarity, b0):
    """One period of what the instrument sees, in the instrument's own time."""
    wt = 2 * np.pi * np.arange(N) / N
    drive, slope = (np.cos, lambda x: -np.sin(x)) if waveform == "cosine" else (np.sin, np.cos)
    argument = b0 + 2.5 * drive(wt - DELAY)
    if quantity == "moment":
        return M0 * np.tanh(argument)
    rate = M0 / np.cosh(argument) ** 2 * 2.5 * slope(wt - DELAY) * W
    return rate if quantity == "moment-rate" else -SENSITIVITY * rate * (1 if polarity == "normal" else -1)


def amplitudes(samples, ks):
    return 2 / N * np.fft.fft(samples)[ks]


def case(quantity, waveform, convention, meaning, form, number="harmonic", polarity="normal", b0=0.0):
    ks = [1, 2, 3, 4, 5] if b0 else [1, 3, 5, 7]
    truth = amplitudes(record("moment", "cosine", "normal", b0), ks)
    values = amplitudes(record(quantity, waveform, polarity, b0), ks)
    if convention == "exp(-iwt)":
        values = values.conj()
    values = values * PEAK[meaning]
    first = [repr(k) if number == "harmonic" else repr(k * F / 1e3) for k in ks]
    if form == "cartesian":
        cells = [[repr(float(v.real)), repr(float(v.imag))] for v in values]
    elif form == "polar":
        cells = [[repr(float(abs(v))), repr(float(np.degrees(np.angle(v))))] for v in values]
    else:
        cells = [[repr(float(abs(v)))] for v in values]
        truth = abs(truth).astype(complex)
    second = {"cartesian": ["real", "imaginary"], "polar": ["amplitude", "phase"], "amplitude": ["amplitude"]}[form]
    facts = {
        "quantity": quantity, "valueUnit": {"moment": "A.m2", "moment-rate": "A.m2/s", "voltage": "V"}[quantity],
        "valueMeaning": meaning, "driveAmplitude": "20 mT", "driveAmplitudeMeaning": "peak",
        "driveFrequency": "25 kHz", "biasField": "5 mT" if b0 else "0 mT",
    }
    if form != "amplitude":
        facts |= {"phaseConvention": convention, "driveWaveform": waveform}
    if form == "polar":
        facts["phaseUnit"] = "deg"
    if number == "frequency":
        facts["frequencyUnit"] = "kHz"
    if quantity == "voltage":
        facts["receiveSensitivity"] = "31.4 uT/A"
        if form != "amplitude":
            facts["coilPolarity"] = polarity
    return {
        "name": f"{quantity}, {waveform}, {convention}, {meaning}, {form}, {polarity}" + (", bias" if b0 else ""),
        "columns": [number, *second], "facts": facts,
        "text": "".join(" ".join([k, *row]) + "\n" for k, row in zip(first, cells)),
        "harmonic": ks, "moment": truth.view(float).tolist(),
    }


def numbers():
    draw = random.Random(20250111)
    texts = []
    for _ in range(400):
        digits = "".join(draw.choice("0123456789") for _ in range(draw.randint(1, 21)))
        cut = draw.randint(0, len(digits))
        exponent = draw.choice(["", "", f"e{draw.randint(-40, 40)}", f"E+{draw.randint(0, 9):02d}"])
        texts.append(draw.choice(["", "-", "+"]) + digits[:cut] + "." + digits[cut:] + exponent)
    texts += ["9007199254740993", "1.7976931348623157e308", "2.2250738585072014e-308", "5e-324", "0.1", "8.41e21"]
    return [[text, float(text).hex()] for text in texts]


cases = [
    case(quantity, waveform, convention, "peak", "cartesian")
    for quantity in ("moment", "moment-rate", "voltage")
    for waveform in ("cosine", "sine")
    for convention in ("exp(+iwt)", "exp(-iwt)")
] + [
    case("moment", "sine", "exp(-iwt)", "rms", "polar"),
    case("voltage", "sine", "exp(+iwt)", "peak-to-peak", "polar", number="frequency"),
    case("voltage", "cosine", "exp(-iwt)", "rms", "cartesian", polarity="reversed"),
    case("voltage", "cosine", "exp(+iwt)", "rms", "amplitude", number="frequency"),
    case("moment-rate", "sine", "exp(+iwt)", "peak", "amplitude"),
    case("voltage", "sine", "exp(-iwt)", "peak", "polar", b0=0.8),
    case("moment-rate", "cosine", "exp(+iwt)", "peak-to-peak", "cartesian", b0=0.8),
]
pathlib.Path(__file__).with_name("truth.json").write_text(
    json.dumps(dict(versions=dict(numpy=np.__version__), cases=cases, numbers=numbers())) + "\n")
