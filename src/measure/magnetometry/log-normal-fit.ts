import { FerruleError } from "../../errors.js";
import { type LeastSquaresResult, lagOneAutocorrelation, leastSquares, runsTest } from "../../numerics/index.js";
import type { MagnetisationCurve } from "./curve.js";
import { fieldGrid } from "./field-grid.js";
import { fitAdvisories } from "./fit-advisories.js";
import type { CurveFit, FitParameter } from "./fit-result.js";
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
  readonly background?: "free" | "none" | { readonly minimum?: number; readonly maximum?: number };
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
  requireData(curve);
  const slope = slopeBounds(background);
  return report(curve, bestFit(curve, conditions, slope), slope.minimum === slope.maximum);
}

/** The fitted model at other fields, e.g. on a fine grid for a figure; unit of the curve. */
export function evaluateFit(
  fit: Pick<CurveFit, "parameters">,
  curve: MagnetisationCurve,
  field_T: Float64Array,
): Float64Array {
  const values = fit.parameters.map(({ value }) => value);
  return logNormalCurve(field_T, values, requireConditions(curve));
}

function requireConditions({ name, coreSaturation_A_per_m, temperature_K }: MagnetisationCurve): CoreConditions {
  const missing = (path: string, what: string, example: string) =>
    new FerruleError("MissingFact", {
      path: `facts.${path}`,
      found: `curve "${name}" without ${what}, which turns a moment into a core diameter`,
      accepted: `add it to the curve's descriptor, e.g. "${path}": { "value": "${example}", "status": "assumed", "note": "why" }`,
    });
  if (coreSaturation_A_per_m === undefined) throw missing("coreSaturation", "the saturation of its cores", "446 kA/m");
  if (temperature_K === undefined) throw missing("temperature", "its temperature", "300 K");
  return { coreSaturation_A_per_m, temperature_K };
}

function requireData({ field_T, magnetisation }: MagnetisationCurve): void {
  const p = logNormalParameters.length;
  const refuse = (found: string, accepted: string): never => {
    throw new FerruleError("NotIdentifiable", { path: "curve", found, accepted });
  };
  const distinct = new Set(Array.from(field_T, Math.abs)).size;
  if (distinct <= p)
    refuse(`${distinct} different field strengths`, `at least ${p + 1}, for ${p} parameters and a check`);
  if (magnetisation.every((value) => value === 0)) refuse("a magnetisation of zero throughout", "a magnetised sample");
}

function slopeBounds(background: NonNullable<LogNormalFitOptions["background"]>): { minimum: number; maximum: number } {
  if (background === "none") return { minimum: 0, maximum: 0 };
  const { minimum = -Infinity, maximum = Infinity } = background === "free" ? {} : background;
  if (minimum <= maximum) return { minimum, maximum };
  const found = `a minimum of ${minimum} above the maximum of ${maximum}`;
  throw new FerruleError("InvalidValue", {
    path: "background",
    found,
    accepted: "minimum <= maximum, e.g. { minimum: 0 }",
  });
}

/** Lowest chi2 over the starts; a start that fails to converge still counts when no other does better. */
function bestFit(
  curve: MagnetisationCurve,
  conditions: CoreConditions,
  slope: { minimum: number; maximum: number },
): LeastSquaresResult {
  const { field_T, magnetisation: observed, sigma } = curve;
  const grid = fieldGrid(field_T);
  const model = (parameters: Float64Array, out: Float64Array) =>
    logNormalCurve(field_T, parameters, { ...conditions, out, grid });
  const options = {
    names: logNormalParameters,
    lower: [0, diameterBounds_m.lower, logSdBounds.lower, slope.minimum],
    upper: [Infinity, diameterBounds_m.upper, logSdBounds.upper, slope.maximum],
  };
  const fits = logNormalStarts(curve, conditions).map((start) => {
    start[3] = Math.min(slope.maximum, Math.max(slope.minimum, 0));
    return leastSquares({ model, observed, sigma }, start, options);
  });
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

function fittedParameters({ magnetisationUnit }: MagnetisationCurve, fit: LeastSquaresResult): FitParameter[] {
  const units = [magnetisationUnit, "m", "1", `${magnetisationUnit}/T`];
  return logNormalParameters.map((name, j) => ({
    name,
    value: fit.parameters[j],
    standardUncertainty: fit.standardErrors[j],
    unit: units[j],
    atBound: fit.atBound[j],
  }));
}

const rootMeanSquare = (values: Float64Array): number =>
  Math.sqrt(values.reduce((sum, value) => sum + value * value, 0) / values.length);

/** Residuals in standard deviations; where there is no sigma, in units of their own standard deviation. */
function normalised({ normalisedResiduals, reducedChiSquared }: LeastSquaresResult, hasSigma: boolean): Float64Array {
  if (hasSigma || reducedChiSquared === 0) return normalisedResiduals;
  return normalisedResiduals.map((value) => value / Math.sqrt(reducedChiSquared));
}

function report(curve: MagnetisationCurve, fit: LeastSquaresResult, isSlopeHeld: boolean): CurveFit {
  const hasSigma = curve.sigma !== undefined;
  const residuals = normalised(fit, hasSigma);
  const runs = runsTest(residuals);
  const { r1: lag1 } = lagOneAutocorrelation(residuals);
  const reducedChiSquared = hasSigma ? fit.reducedChiSquared : 1;
  const residualScale = Math.sqrt((reducedChiSquared * (1 + lag1)) / (1 - lag1));
  const undetermined = undeterminedNames(fit, curve.field_T);
  const held = isSlopeHeld ? ["background-slope"] : [];
  return {
    model: "log-normal-langevin",
    equation: "M(B) = S <d^3 L(xi)>/<d^3> + chi B, xi = Ms pi d^3 B/(6 kB T), B = mu0H",
    weighting: "number",
    parameters: fittedParameters(curve, fit),
    derived: [volumeMedian(fit)],
    covariance: fit.covariance,
    correlation: fit.correlation,
    uncertaintyBasis: hasSigma ? "stated-sigma" : "residual-scatter",
    chiSquared: reducedChiSquared * fit.degreesOfFreedom,
    reducedChiSquared,
    degreesOfFreedom: fit.degreesOfFreedom,
    fitted: fit.predicted,
    residuals,
    runsTest: runs,
    lag1,
    modelInadequacy: { value: rootMeanSquare(fit.residuals), unit: curve.magnetisationUnit },
    residualScale,
    notIdentifiable: undetermined,
    outcome: fit.outcome,
    reason: fit.reason,
    advisories: fitAdvisories(curve, { fit, runs, lag1, residualScale, hasSigma, held, undetermined }),
  };
}
