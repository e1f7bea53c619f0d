import type { FitBlock } from "../joint/fit-block.js";
import type { MagnetisationCurve } from "./curve.js";
import { originAdvisories } from "./curve-advisories.js";
import { type BackgroundOption, requireConditions, requireData, slopeBounds } from "./curve-requirements.js";
import { fieldGrid } from "./field-grid.js";
import {
  diameterBounds_m,
  logNormalCurve,
  logNormalParameters,
  logNormalStarts,
  logSdBounds,
} from "./log-normal-model.js";

/** A magnetisation curve with the model of `fitLogNormal`, to be fitted with others. */
export function curveBlock(curve: MagnetisationCurve, background: BackgroundOption = "free"): FitBlock {
  const conditions = requireConditions(curve);
  requireData(curve, logNormalParameters.length);
  const slope = slopeBounds(background);
  const { field_T, magnetisation: observed, sigma, magnetisationUnit: unit, name } = curve;
  const grid = fieldGrid(field_T);
  return {
    instrument: "magnetometry",
    name,
    model: "log-normal-langevin",
    equation: "M(B) = S <d^3 L(xi)>/<d^3> + chi B, xi = Ms pi d^3 B/(6 kB T), B = mu0H",
    dataUnit: unit,
    parameters: [
      { name: "saturation", unit, lower: 0, upper: Number.POSITIVE_INFINITY },
      { name: "median-diameter", unit: "m", ...diameterBounds_m },
      { name: "log-sd", unit: "1", ...logSdBounds },
      { name: "background-slope", unit: `${unit}/T`, lower: slope.minimum, upper: slope.maximum },
    ],
    shared: ["median-diameter", "log-sd"],
    observed,
    ...(sigma ? { sigma } : {}),
    predict: (values, out) => logNormalCurve(field_T, values, { ...conditions, out, grid }),
    candidates: () => logNormalStarts(curve, conditions),
    rowName: (row) => `row ${row + 1} (${(field_T[row] * 1e3).toPrecision(4)} mT)`,
    advisories: originAdvisories(curve),
  };
}
