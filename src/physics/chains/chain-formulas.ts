import type { Formula, FormulaInput } from "../../units/index.js";
import { meanFieldPeakGain, meanFieldWidth } from "./mean-field-width.js";
import { remanence, spinodal } from "./spinodal.js";

const couplingInput = {
  name: "coupling",
  kind: "dimensionless",
  summary: "mean-field coupling kappa of the chain, M = L(xi + kappa M); an effective parameter, not a geometry",
} as const;

const widthCoupling: FormulaInput = { ...couplingInput, example: "2", minimum: 0, maximum: 3 };
const jumpCoupling: FormulaInput = { ...couplingInput, example: "6", minimum: 3, aboveMinimum: true, maximum: 1e8 };
const anyCoupling: FormulaInput = { ...couplingInput, example: "6", minimum: 0, maximum: 1e8 };

const validity = "equal cores in an endless straight chain, mean field, quasi-static, no thermal jumps";
const effective =
  "kappa is an effective parameter to be fitted to a curve, not one to be computed from core size and spacing";
const overestimate =
  "mean field without nucleation: finite chains turn from their ends, so that measured thresholds lie far below";

export const chainPsfWidthFormula: Formula = {
  name: "chain-psf-width",
  subject: "particle",
  summary: "width and peak of the static point spread function of chained cores, below the onset of hysteresis",
  equation: "FWHM = 2 (u - kappa L(u)) with L'(u) = 1/(6 - kappa); peak dM/dxi = 1/(3 - kappa)",
  inputs: [widthCoupling],
  outputs: [
    {
      name: "static-width",
      kind: "dimensionless",
      unit: "1",
      summary: "full width at half maximum of dM/dxi, in xi = m mu0H / (kB T)",
      label: "static width in xi",
    },
    {
      name: "peak-gain",
      kind: "dimensionless",
      unit: "1",
      summary: "peak of dM/dxi over that of independent cores, 3/(3 - kappa)",
    },
    { name: "peak", kind: "dimensionless", unit: "1", summary: "peak of dM/dxi, 1/(3 - kappa)" },
  ],
  validity: `${validity}; 0 <= kappa < 3`,
  source: { text: "M = L(xi + kappa M) differentiated; feedback form from memory", status: "derived" },
  compute: ({ coupling }) => ({
    "static-width": meanFieldWidth(coupling),
    "peak-gain": meanFieldPeakGain(coupling),
    peak: meanFieldPeakGain(coupling) / 3,
  }),
  advise: ({ coupling }) => {
    const advice = [effective, "static width: a lower bound from the quasi-static curve; chains lag and widen it"];
    if (coupling > 2.8) advice.push("near kappa = 3 the width changes faster than any known kappa allows to tell");
    return advice;
  },
};

export const chainCoerciveFieldFormula: Formula = {
  name: "chain-coercive-field",
  subject: "particle",
  summary: "field at which the mean-field chain jumps, and the magnetisation before and after",
  equation: "xi_c = kappa L(u*) - u*, L'(u*) = 1/kappa",
  inputs: [jumpCoupling],
  outputs: [
    {
      name: "local-xi",
      kind: "dimensionless",
      unit: "1",
      summary: "size u* of the local field at the end of a branch",
    },
    { name: "coercive-xi", kind: "dimensionless", unit: "1", summary: "applied field there, in xi = m mu0H / (kB T)" },
    { name: "before", kind: "dimensionless", unit: "1", summary: "M/Ms before the jump of a rising field" },
    { name: "after", kind: "dimensionless", unit: "1", summary: "M/Ms after the jump" },
  ],
  validity: `${validity}; kappa > 3`,
  source: { text: "end of a branch of M = L(xi + kappa M); feedback form from memory", status: "derived" },
  compute: ({ coupling }) => {
    const { localXi, coerciveXi, before, after } = spinodal(coupling) ?? noJump;
    return { "local-xi": localXi, "coercive-xi": coerciveXi, before, after };
  },
  advise: () => [effective, overestimate],
};

/** At kappa = 3 the two branches meet in the origin. */
const noJump = { localXi: 0, coerciveXi: 0, before: 0, after: 0 };

export const chainRemanenceFormula: Formula = {
  name: "chain-remanence",
  subject: "particle",
  summary: "magnetisation that the mean-field chain keeps at zero field",
  equation: "M_r = L(kappa M_r)",
  inputs: [anyCoupling],
  outputs: [{ name: "remanence", kind: "dimensionless", unit: "1", summary: "M_r/Ms; 0 for kappa <= 3" }],
  validity,
  source: { text: "M = L(xi + kappa M) at xi = 0; feedback form from memory", status: "derived" },
  compute: ({ coupling }) => ({ remanence: remanence(coupling) }),
  advise: ({ coupling }) => [
    effective,
    coupling > 3
      ? "thermal jumps let the remanence decay with time; mean field has none"
      : "no hysteresis up to kappa = 3",
  ],
};
