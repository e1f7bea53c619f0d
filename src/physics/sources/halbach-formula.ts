import { FerruleError } from "../../errors.js";
import type { Formula } from "../../units/index.js";
import { type HalbachDimensions, halbachField_T, halbachGradient_T_per_m } from "./halbach-centre.js";

type Inputs = Readonly<Record<string, number>>;

/** The formula's inputs always have a value: 0 stands for "long" and for "not in segments". */
function dimensionsOf(inputs: Inputs): HalbachDimensions {
  return {
    remanence_T: inputs.remanence,
    innerRadius_m: inputs["inner-radius"],
    outerRadius_m: inputs["outer-radius"],
    length_m: inputs.length === 0 ? Number.POSITIVE_INFINITY : inputs.length,
    segments: inputs.segments === 0 ? Number.POSITIVE_INFINITY : inputs.segments,
  };
}

function requireRing(inputs: Inputs): void {
  const refuse = (path: string, found: string, accepted: string): never => {
    throw new FerruleError("InvalidValue", { path, found, accepted });
  };
  const { segments, poles } = inputs;
  if (poles !== 2 && poles !== 4) refuse("poles", `${poles} poles`, "2 (uniform field) or 4 (field-free line)");
  if (!(inputs["outer-radius"] > inputs["inner-radius"]))
    refuse("outer-radius", `${inputs["outer-radius"]} m`, "a radius above the inner one, e.g. 100 mm");
  const least = poles / 2 + 3;
  if (segments !== 0 && !(Number.isInteger(segments) && segments >= least))
    refuse("segments", String(segments), `0 (continuous) or a whole number of at least ${least}, e.g. 16`);
}

export const halbachFieldFormula: Formula = {
  name: "halbach-field",
  subject: "field",
  summary: "field or gradient at the centre of a Halbach ring of permanent magnets",
  equation:
    "2 poles: B = Br ln(Ro/Ri) sin(2pi/N)/(2pi/N); 4 poles: G = 2 Br (1/Ri - 1/Ro) sin(3pi/N)/(3pi/N); finite length in closed form",
  inputs: [
    {
      name: "remanence",
      kind: "appliedField",
      summary: "remanence Br = mu0 M of the magnets",
      example: "1.3 T",
      minimum: 0,
      aboveMinimum: true,
    },
    { name: "inner-radius", kind: "length", summary: "inner radius", example: "50 mm", minimum: 0, aboveMinimum: true },
    {
      name: "outer-radius",
      kind: "length",
      summary: "outer radius",
      example: "100 mm",
      minimum: 0,
      aboveMinimum: true,
    },
    {
      name: "length",
      kind: "length",
      summary: "length along the axis; 0 stands for a long ring (two-dimensional limit)",
      example: "200 mm",
      default: "0 mm",
      minimum: 0,
    },
    {
      name: "segments",
      kind: "dimensionless",
      summary: "equal sectors, each uniformly magnetised; 0 stands for magnetisation that turns continuously",
      example: "16",
      default: "0",
      minimum: 0,
    },
    {
      name: "poles",
      kind: "dimensionless",
      summary: "2: uniform field (dipole); 4: field-free line (quadrupole)",
      example: "2",
      default: "2",
    },
  ],
  outputs: [
    { name: "field", kind: "appliedField", unit: "T", summary: "at the centre; 0 for 4 poles, by symmetry" },
    { name: "gradient", kind: "fieldGradient", unit: "T/m", summary: "at the centre; 0 for 2 poles, by symmetry" },
  ],
  validity: "rigid magnetisation, relative permeability 1, no gaps between sectors",
  source: {
    text: "dipole: three public repository texts, finite length from a fourth; quadrupole: Halbach, NIM 169:1 (1980), from memory, its finite length derived",
    status: "read (secondary)",
  },
  compute: (inputs) => {
    requireRing(inputs);
    const ring = dimensionsOf(inputs);
    return inputs.poles === 2
      ? { field: halbachField_T(ring), gradient: 0 }
      : { field: 0, gradient: halbachGradient_T_per_m(ring) };
  },
  advise: (inputs) => [
    ...(inputs.length === 0
      ? [
          "no length given: a long ring; a ring as long as its bore is wide loses 12 to 24 % of a dipole field (Ro/Ri 1.1 to 2)",
        ]
      : []),
    ...(inputs.segments === 0
      ? ["no segments given: continuous magnetisation; 8 sectors lose 10 % (2 poles) or 22 % (4 poles)"]
      : []),
  ],
};
