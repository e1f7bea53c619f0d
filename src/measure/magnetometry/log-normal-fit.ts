import { type LeastSquaresResult, leastSquares } from "../../numerics/index.js";
import type { MagnetisationCurve } from "./curve.js";
import { reportCurveFit } from "./curve-fit-report.js";
import {
  type BackgroundOption,
  requireConditions,
  requireData,
  type SlopeBounds,
  slopeBounds,
} from "./curve-requirements.js";
import { fieldGrid } from "./field-grid.js";
import { plainParameters } from "./fit-report.js";
import type { CurveFit } from "./fit-result.js";
import { undeterminedNames } from "./identifiability.js";
import {
  type CoreConditions,
  diameterBounds_m,
  logNormalCurve,
  logNormalParameters,
  logNormalStarts,
  logSdBounds,
} from "./log-normal-model.js";

export interface LogNormalFitOptions {
  /**
   * Linear background, unit of the curve per tesla: "free" (default), "none", or held between bounds, e.g.
   * `{ minimum: 0 }` where a diamagnetic holder has been subtracted.
   */
  readonly background?: BackgroundOption;
}

/**
 * Fits a measured magnetisation curve by independent cores of log-normal diameters and a linear background.
 *   M(B) = S <d^3 L(xi)> / <d^3> + chi B,  xi = Ms pi d^3 B / (6 kB T),  B = mu0H
 * Weighted by the sd column; without one all values count alike and the scatter of the residuals stands for sigma.
 * The median is that of particle numbers; the volume-weighted one, d exp(3 s^2), is derived beside it.
 *
 * Uncertainties are those of the fit alone: the core saturation Ms and the temperature are taken as exact. The diameter
 * scales as (T / Ms)^(1/3), so 10 % of Ms is 3 % of the diameter. Assumed facts come back as advisories.
 *
 * @param curve  field [n], magnetisation [n], sigma [n] or none; core saturation and temperature must be known
 * @returns parameters in SI (diameter in m), covariance, goodness of fit, advisories
 * @throws FerruleError MissingFact (temperature, core saturation), NotIdentifiable (fewer than five values, all zero)
 *
 * Valid for   equilibrium curves without interaction; log-sd 0.001 to 1.2, diameters 0.5 to 200 nm
 * Source      as `relativeMagnetisation`; least squares as `leastSquares`
 * Checked by  checks/curve-fit (a published fit recovered; scipy on a measured file)
 */
export function fitLogNormal(curve: MagnetisationCurve, { background = "free" }: LogNormalFitOptions = {}): CurveFit {
  const conditions = requireConditions(curve);
  requireData(curve, logNormalParameters.length);
  const slope = slopeBounds(background);
  return report(curve, bestFit(curve, conditions, slope), slope.minimum === slope.maximum);
}

/** Lowest chi2 over the starts; a start that fails to converge still counts when no other does better. */
function bestFit(curve: MagnetisationCurve, conditions: CoreConditions, slope: SlopeBounds): LeastSquaresResult {
  const starts = logNormalStarts(curve, conditions).map((start) => {
    start[3] = Math.min(slope.maximum, Math.max(slope.minimum, 0));
    return start;
  });
  const tried = curve.field_T.length > 2 * triedRows ? thinnedRows(curve) : curve;
  const best = fitFrom(tried, starts, { conditions, slope });
  return tried === curve ? best : fitFrom(curve, [best.parameters], { conditions, slope });
}

/** On a long table the starts are tried on this many rows, evenly picked; only the best is followed on all. */
const triedRows = 4000;

function thinnedRows(curve: MagnetisationCurve): Pick<MagnetisationCurve, "field_T" | "magnetisation" | "sigma"> {
  const every = Math.floor(curve.field_T.length / triedRows);
  const pick = (values: Float64Array) => values.filter((_, i) => i % every === 0);
  const { field_T, magnetisation, sigma } = curve;
  return {
    field_T: pick(field_T),
    magnetisation: pick(magnetisation),
    ...(sigma === undefined ? {} : { sigma: pick(sigma) }),
  };
}

function fitFrom(
  { field_T, magnetisation: observed, sigma }: Pick<MagnetisationCurve, "field_T" | "magnetisation" | "sigma">,
  starts: readonly Float64Array[],
  { conditions, slope }: { conditions: CoreConditions; slope: SlopeBounds },
): LeastSquaresResult {
  const grid = fieldGrid(field_T);
  const model = (parameters: Float64Array, out: Float64Array) =>
    logNormalCurve(field_T, parameters, { ...conditions, out, grid });
  const options = {
    names: logNormalParameters,
    lower: [0, diameterBounds_m.lower, logSdBounds.lower, slope.minimum],
    upper: [Infinity, diameterBounds_m.upper, logSdBounds.upper, slope.maximum],
  };
  const fits = starts.map((start) => leastSquares({ model, observed, sigma }, start, options));
  return fits.reduce((best, each) => (each.chiSquared < best.chiSquared ? each : best));
}

/** Volume-weighted median, d exp(3 s^2); uncertainty to first order through the covariance of d and s. */
function volumeMedian({ parameters, covariance }: LeastSquaresResult): CurveFit["derived"][number] {
  const [, d, s] = parameters as unknown as [number, number, number];
  const p = parameters.length;
  const growth = Math.exp(3 * s * s);
  const [byD, byS] = [growth, 6 * s * d * growth];
  const variance = byD ** 2 * covariance[p + 1] + 2 * byD * byS * covariance[p + 2] + byS ** 2 * covariance[2 * p + 2];
  const standardUncertainty = Math.sqrt(Math.max(0, variance));
  return { name: "volume-weighted-median-diameter", value: d * growth, standardUncertainty, unit: "m" };
}

function report(curve: MagnetisationCurve, fit: LeastSquaresResult, isSlopeHeld: boolean): CurveFit {
  const { magnetisationUnit: unit } = curve;
  return reportCurveFit(curve, fit, {
    model: "log-normal-langevin",
    equation: "M(B) = S <d^3 L(xi)>/<d^3> + chi B, xi = Ms pi d^3 B/(6 kB T), B = mu0H",
    weighting: "number",
    parameters: plainParameters(fit, [unit, "m", "1", `${unit}/T`]),
    derived: [volumeMedian(fit)],
    undetermined: undeterminedNames(fit, curve.field_T),
    held: isSlopeHeld ? ["background-slope"] : [],
  });
}
