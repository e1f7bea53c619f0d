import { predictInverse } from "../../numerics/index.js";
import type { Formula, FormulaInput } from "../../units/index.js";

const number = (
  name: string,
  summary: string,
  rest: Omit<FormulaInput, "name" | "kind" | "summary">,
): FormulaInput => ({
  name,
  kind: "dimensionless",
  summary,
  ...rest,
});
const positive = { minimum: 0, aboveMinimum: true } as const;

export const inversePredictionFormula: Formula = {
  name: "inverse-prediction",
  subject: "metrology",
  summary: "the x of a new reading on an unweighted calibration line, with its standard uncertainty",
  equation: "x0 = (y0 - a)/b, s_x0 = (s_y/b) sqrt(1/m + 1/n + (y0 - ymean)^2/(b^2 Sxx))",
  inputs: [
    number("reading", "y0, mean of the new readings", { example: "13.5" }),
    number("slope", "b of the line", { example: "1.930357" }),
    number("intercept", "a of the line", { example: "1.517857" }),
    number("residual-sd", "s_y, residual standard deviation of the line", { example: "0.432848", minimum: 0 }),
    number("standards", "n, how many standards the line was fitted to", { example: "7", minimum: 3 }),
    number("mean-reading", "ymean of the standards", { example: "13.1" }),
    number("sxx", "Sxx, sum of (x - xmean)^2 of the standards", { example: "112", ...positive }),
    number("replicates", "m, how many new readings were averaged", { example: "1", default: "1", minimum: 1 }),
  ],
  outputs: [
    { name: "x", kind: "dimensionless", unit: "1", summary: "in the unit of the standards' x" },
    { name: "standard-uncertainty", kind: "dimensionless", unit: "1", summary: "s_x0, k = 1, same unit" },
  ],
  validity: "equal, independent scatter of all readings; first order: (t s_b/b)^2 well below 1, s_b = s_y/sqrt Sxx",
  source: { text: "Miller & Miller, Statistics and Chemometrics for Analytical Chemistry", status: "from memory" },
  compute: (inputs) => {
    const { x, standardUncertainty } = predictInverse(
      {
        slope: inputs.slope,
        intercept: inputs.intercept,
        residualScale: inputs["residual-sd"],
        slopeStandardError: inputs["residual-sd"] / Math.sqrt(inputs.sxx),
        weightSum: inputs.standards,
        degreesOfFreedom: inputs.standards - 2,
        covarianceScale: "reduced-chi-squared",
        yMean: inputs["mean-reading"],
        sxx: inputs.sxx,
      },
      inputs.reading,
      { replicates: inputs.replicates },
    );
    return { x, "standard-uncertainty": standardUncertainty };
  },
  advise: ({ slope, sxx, "residual-sd": sd }) =>
    4 * (sd / slope) ** 2 < 0.05 * sxx
      ? []
      : ["the slope is known too poorly for the first-order formula: use Fieller's"],
};
