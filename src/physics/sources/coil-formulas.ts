import type { Formula, FormulaInput } from "../../units/index.js";
import { vacuumPermeability_T_m_per_A } from "../../units/index.js";
import { loopInMeridian } from "./loop-field.js";

type Inputs = Readonly<Record<string, number>>;

const radiusInput: FormulaInput = {
  name: "radius",
  kind: "length",
  summary: "radius of the loop or winding",
  example: "100 mm",
  minimum: 0,
  aboveMinimum: true,
};
const currentInput: FormulaInput = {
  name: "current",
  kind: "current",
  summary: "current in the wire (peak, if it alternates)",
  example: "100 A",
};
const turnsInput: FormulaInput = {
  name: "turns",
  kind: "dimensionless",
  summary: "turns of one coil",
  example: "50",
  minimum: 0,
  aboveMinimum: true,
};
const fieldOutput = { name: "field", kind: "appliedField", unit: "mT", summary: "mu0H on the axis" } as const;

const ampereTurns = (inputs: Inputs): number => inputs.turns * inputs.current;

export const loopFieldFormula: Formula = {
  name: "loop-field",
  subject: "field",
  summary: "field of a circular current loop at any point",
  equation:
    "B_rho = C z/(2 al^2 be rho) [(a^2+rho^2+z^2) E - al^2 K], B_z = C/(2 al^2 be) [(a^2-rho^2-z^2) E + al^2 K], C = mu0 I/pi, m = 1 - al^2/be^2",
  inputs: [
    radiusInput,
    currentInput,
    {
      name: "rho",
      kind: "length",
      summary: "distance of the point from the loop's axis",
      example: "50 mm",
      minimum: 0,
    },
    { name: "z", kind: "length", summary: "height of the point above the plane of the loop", example: "50 mm" },
  ],
  outputs: [
    { name: "axial", kind: "appliedField", unit: "mT", summary: "component along the axis" },
    { name: "radial", kind: "appliedField", unit: "mT", summary: "component away from the axis" },
    { name: "magnitude", kind: "appliedField", unit: "mT", summary: "|mu0H|" },
  ],
  validity: "thin wire in free space, quasi-static; not on the wire itself",
  source: {
    text: "Simpson, Lane, Immer & Youngquist, NASA (2001): components from memory, checked by Biot-Savart sums; computed by Bulirsch's cel, which keeps its digits near the axis and far away",
    status: "from memory",
  },
  compute: (inputs) => {
    const out = new Float64Array(2);
    loopInMeridian(inputs.radius, { rho_m: inputs.rho, z_m: inputs.z }, out);
    const strength = vacuumPermeability_T_m_per_A * inputs.current;
    const [radial, axial] = [strength * out[0] * inputs.rho, strength * out[1]];
    return { axial, radial, magnitude: Math.hypot(axial, radial) };
  },
};

export const helmholtzFieldFormula: Formula = {
  name: "helmholtz-field",
  subject: "field",
  summary: "field at the centre of a Helmholtz pair",
  equation: "B = (4/5)^(3/2) mu0 N I / R",
  inputs: [radiusInput, turnsInput, currentInput],
  outputs: [{ ...fieldOutput, summary: "mu0H at the centre" }],
  validity: "two thin coils one radius apart, currents in the same sense; turns per coil",
  source: { text: "textbook relation; recomputed from the loop's field on its axis", status: "from memory" },
  compute: (inputs) => ({
    field: (0.8 ** 1.5 * vacuumPermeability_T_m_per_A * ampereTurns(inputs)) / inputs.radius,
  }),
};

export const maxwellGradientFormula: Formula = {
  name: "maxwell-gradient",
  subject: "field",
  summary: "gradient at the centre of a Maxwell pair",
  equation: "dBz/dz = (48/49) sqrt(3/7) mu0 N I / a^2, dBx/dx = -half of it",
  inputs: [radiusInput, turnsInput, currentInput],
  outputs: [
    { name: "axial", kind: "fieldGradient", unit: "T/m", summary: "gradient along the coils' axis" },
    {
      name: "transverse",
      kind: "fieldGradient",
      unit: "T/m",
      summary: "gradient across the axis: half the axial one, opposite sign (div B = 0)",
    },
  ],
  validity: "two thin coils sqrt(3) radii apart, opposed currents; turns per coil",
  source: {
    text: "formula from memory; a public design document prints 1.4800e-4 T/m/A for a = 165 mm, N = 5, which it meets",
    status: "from memory",
  },
  compute: (inputs) => {
    const strength = vacuumPermeability_T_m_per_A * ampereTurns(inputs);
    const axial = ((48 / 49) * Math.sqrt(3 / 7) * strength) / inputs.radius ** 2;
    return { axial, transverse: -axial / 2 };
  },
};

export const solenoidFieldFormula: Formula = {
  name: "solenoid-field",
  subject: "field",
  summary: "field on the axis of a solenoid",
  equation: "B = (mu0 N I / (2 L)) (cos t1 + cos t2), cos t = s / sqrt(R^2 + s^2), s = L/2 +- z",
  inputs: [
    {
      name: "length",
      kind: "length",
      summary: "length of the winding",
      example: "200 mm",
      minimum: 0,
      aboveMinimum: true,
    },
    radiusInput,
    turnsInput,
    currentInput,
    {
      name: "z",
      kind: "length",
      summary: "height of the point on the axis above the centre",
      example: "0 mm",
      default: "0 mm",
    },
  ],
  outputs: [fieldOutput],
  validity: "thin winding, turns spread evenly; at the centre mu0 N I / sqrt(L^2 + 4 R^2)",
  source: { text: "textbook relation", status: "from memory" },
  compute: ({ length, radius, z, ...rest }) => {
    const cosine = (reach: number) => reach / Math.hypot(radius, reach);
    const density = (vacuumPermeability_T_m_per_A * ampereTurns(rest)) / length;
    return { field: (density / 2) * (cosine(length / 2 - z) + cosine(length / 2 + z)) };
  },
};
