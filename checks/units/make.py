"""Make truth.json: unit factors and constants from general-purpose libraries.

Run with python 3, pint 0.25.3 and scipy 1.17.1:  python3 make.py > truth.json
Nothing of this project is used.
"""
import json

import pint
import scipy
import scipy.constants as constants

registry = pint.UnitRegistry()


def factor(expression: str, si: str, *context: str) -> float:
    return registry.Quantity(1.0, expression).to(si, *context).magnitude


def factors(rows):
    return [{"ours": ours, "theirs": theirs, "factor": factor(theirs, si, *context)} for ours, theirs, si, *context in rows]


GAUSSIAN = "Gaussian"

FACTORS = factors([
    ("Oe", "oersted", "A/m", GAUSSIAN),
    ("kOe", "kilooersted", "A/m", GAUSSIAN),
    ("G", "gauss", "T", GAUSSIAN),
    ("mG", "milligauss", "T", GAUSSIAN),
    ("emu", "erg/gauss", "A*m**2", GAUSSIAN),
    ("Ci", "curie", "Bq"),
    ("P", "poise", "Pa*s"),
    ("cP", "centipoise", "Pa*s"),
    ("deg", "degree", "rad"),
    ("min", "minute", "s"),
    ("h", "hour", "s"),
    ("d", "day", "s"),
    ("L", "liter", "m**3"),
    ("uL/min", "microliter/minute", "m**3/s"),
    ("mg/mL", "milligram/milliliter", "kg/m**3"),
    ("ug/mm2", "microgram/millimeter**2", "kg/m**2"),
    ("mmol/L", "millimole/liter", "mol/m**3"),
    ("mg/kg", "milligram/kilogram", ""),
    ("A.m2/kg", "ampere*meter**2/kilogram", "A*m**2/kg"),
    ("T/mu0", "tesla/mu_0", "A/m"),
    ("T/m/mu0", "tesla/meter/mu_0", "A/m**2"),
    ("nV/Hz^0.5", "nanovolt/hertz**0.5", "V*s**0.5"),
    ("kJ/m3", "kilojoule/meter**3", "Pa"),
    ("mPa.s", "millipascal*second", "Pa*s"),
    ("S/m", "siemens/meter", "1/(ohm*m)"),
    ("H", "henry", "ohm*s"),
    ("F", "farad", "s/ohm"),
    ("Sv", "sievert", "J/kg"),
    ("Gy", "gray", "J/kg"),
    ("ppm", "ppm", ""),
    ("%", "percent", ""),
])

TEMPERATURES = [
    {"degreeCelsius": t, "kelvin": registry.Quantity(t, "degC").to("kelvin").magnitude} for t in (-40.0, 0.0, 25.0, 37.0)
]

CONSTANTS = {
    ours: constants.physical_constants[theirs][0]
    for ours, theirs in {
        "vacuumPermeability_T_m_per_A": "vacuum mag. permeability",
        "boltzmannConstant_J_per_K": "Boltzmann constant",
        "avogadroConstant_per_mol": "Avogadro constant",
        "elementaryCharge_C": "elementary charge",
    }.items()
}

print(json.dumps({
    "made with": {"pint": pint.__version__, "scipy": scipy.__version__},
    "factors": FACTORS,
    "temperatures": TEMPERATURES,
    "constants": CONSTANTS,
}, indent=1))
