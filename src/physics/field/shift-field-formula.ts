import type { Formula } from "../../units/index.js";
import { shiftFieldFor } from "./ideal-gradient.js";

export const shiftFieldFormula: Formula = {
  name: "shift-field",
  subject: "field",
  summary: "uniform field that moves the field-free region to a point along one axis",
  equation: "B_shift = -G x",
  inputs: [
    {
      name: "gradient",
      kind: "fieldGradient",
      summary: "signed gradient of mu0H along the axis",
      example: "7 T/m",
    },
    {
      name: "position",
      kind: "length",
      summary: "where the field-free region is to be, from the centre",
      example: "40 mm",
    },
  ],
  outputs: [
    { name: "shift", kind: "appliedField", unit: "mT", summary: "mu0H along the axis, sign included" },
    {
      name: "magnitude",
      kind: "appliedField",
      unit: "mT",
      summary: "its magnitude: a field of view of 2 x needs both signs",
    },
  ],
  validity: "uniform gradient, diagonal in the named axes",
  source: { text: "mu0H(r) = G r + shift, solved for zero", status: "derived" },
  compute: ({ gradient, position }) => {
    const along = { gradient_T_per_m: Float64Array.of(gradient, 0, 0, 0, 0, 0, 0, 0, 0) };
    const [shift] = shiftFieldFor(along, [position, 0, 0]);
    return { shift: shift === 0 ? 0 : shift, magnitude: Math.abs(shift) };
  },
};
