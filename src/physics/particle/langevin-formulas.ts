import type { Formula, FormulaInput } from "../../units/index.js";
import { langevin, langevinSlope } from "./langevin.js";

const xiInput: FormulaInput = {
  name: "xi",
  kind: "dimensionless",
  summary: "magnetic over thermal energy, m mu0H / (kB T)",
  example: "5",
};

export const langevinFormula: Formula = {
  name: "langevin",
  subject: "particle",
  summary: "equilibrium alignment of a magnetic moment with the applied field",
  equation: "L(xi) = coth xi - 1/xi",
  inputs: [xiInput],
  outputs: [{ name: "langevin", kind: "dimensionless", unit: "1", summary: "M/Ms of independent equal cores" }],
  validity: "every xi; independent cores in equilibrium, without easy axes",
  source: { text: "Goodwill et al., IEEE TMI 29:1851 (2010); any ferrofluid text", status: "from memory" },
  compute: ({ xi }) => ({ langevin: langevin(xi) }),
};

export const langevinSlopeFormula: Formula = {
  name: "langevin-slope",
  subject: "particle",
  summary: "slope of the Langevin function: the static point spread function along the field",
  equation: "L'(xi) = 1/xi^2 - 1/sinh^2 xi",
  inputs: [xiInput],
  outputs: [{ name: "slope", kind: "dimensionless", unit: "1", summary: "dL/dxi, 1/3 at xi = 0" }],
  validity: "every xi; independent cores in equilibrium, without easy axes",
  source: { text: "derivative of the Langevin function", status: "derived" },
  compute: ({ xi }) => ({ slope: langevinSlope(xi) }),
};
