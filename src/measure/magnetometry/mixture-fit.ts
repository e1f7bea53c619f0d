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
import type { FitAdvisory } from "./fit-advisory.js";
import type { FittedParameters } from "./fit-report.js";
import type { CurveFit, DerivedValue } from "./fit-result.js";
import { type CoreConditions, logNormalStarts } from "./log-normal-model.js";
import { innerNames, mixtureBounds, mixtureProblem } from "./mixture-model.js";
import { orderedParameters } from "./mixture-parameters.js";
import { mixtureStarts } from "./mixture-starts.js";
import { comparePopulations, comparisonAdvisories, type PopulationComparison } from "./population-comparison.js";
import { derive } from "./propagate.js";

export interface MixtureFitOptions {
  readonly populations: 2 | 3;
  /** As in `fitLogNormal`. */
  readonly background?: BackgroundOption;
  /** Local fits, each from another choice of sizes; more costs time and finds no lower chi2 in our campaigns. */
  readonly starts?: number;
}

export interface MixtureFit extends CurveFit {
  readonly model: "log-normal-mixture";
  /** What `share-2`, `share-3` are shares of: core volume, and thereby saturation. */
  readonly shareWeighting: "volume";
  /** Against one population fewer. */
  readonly comparison: PopulationComparison;
}

/**
 * Fits a measured magnetisation curve by two or three log-normal populations of independent cores.
 *   M(B) = S sum_k w_k <d^3 L(xi)>_k / <d^3>_k + chi B,  sum_k w_k = 1 (shares of core volume)
 * Several local fits, the lowest chi2 kept; populations are ordered by their number-weighted medians, so that labels do
 * not swap from curve to curve. Estimates are biased where a share is near 0 or two sizes are near each other.
 *
 * @param curve  as `fitLogNormal`
 * @returns saturation, median-diameter, log-sd, share-2, median-diameter-2, log-sd-2, ..., background-slope; number shares
 *          derived; whether the last population is needed
 *
 * Valid for   as `fitLogNormal`; coverage of the intervals measured in campaigns/tracer-parameter-coverage
 * Source      as `relativeMagnetisation`; least squares as `leastSquares`
 * Checked by  checks/tracer-fit (scipy.optimize.least_squares on the same data)
 */
export function fitMixture(
  curve: MagnetisationCurve,
  { populations, background = "free", starts = 4 }: MixtureFitOptions,
): MixtureFit {
  const conditions = requireConditions(curve);
  requireData(curve, 3 * populations + 1);
  const slope = slopeBounds(background);
  const fits = ladder(curve, populations, { conditions, slope, starts });
  const [fewer, best] = fits.slice(-2) as [LeastSquaresResult, LeastSquaresResult];
  const hasSigma = curve.sigma !== undefined;
  const comparison = comparePopulations(fewer, best, { hasSigma });
  const parameters = orderedParameters(best, curve.magnetisationUnit);
  const undetermined = undeterminedOf(parameters, curve.field_T);
  const report = reportCurveFit(curve, best, {
    model: "log-normal-mixture",
    equation: "M(B) = S sum_k w_k <d^3 L(xi)>_k/<d^3>_k + chi B, xi = Ms pi d^3 B/(6 kB T), B = mu0H",
    weighting: "number",
    parameters,
    derived: derivedValues(parameters, populations),
    undetermined,
    held: slope.minimum === slope.maximum ? ["background-slope"] : [],
    advisories: () => [...vanishing(parameters, populations), ...comparisonAdvisories(comparison)],
  });
  return { ...report, model: "log-normal-mixture", shareWeighting: "volume", comparison };
}

/** Best fits with one population fewer, and with all; each starts from the other too, so that chi2 can only fall. */
function ladder(
  curve: MagnetisationCurve,
  populations: number,
  { conditions, slope, starts }: { conditions: CoreConditions; slope: SlopeBounds; starts: number },
): LeastSquaresResult[] {
  const { field_T, magnetisation: observed, sigma } = curve;
  const fitted = { ...conditions, grid: fieldGrid(field_T, { fieldsPerNode: 1.5 }) };
  const { model, jacobian } = mixtureProblem(field_T, fitted);
  const fits: LeastSquaresResult[] = [];
  for (let count = populations - 1; count <= populations; count++) {
    const first =
      count === 1
        ? singleStarts(curve, conditions, slope)
        : mixtureStarts(curve, count, { conditions: fitted, slope, count: starts });
    const split = fits.length > 0 ? [splitStart(fits[fits.length - 1].parameters)] : [];
    const options = { ...mixtureBounds(count, slope), names: innerNames(count) };
    const run = (start: Float64Array, maxIterations: number) =>
      leastSquares({ model, jacobian, observed, sigma }, inside(start, options), { ...options, maxIterations });
    const lowest = (tried: readonly LeastSquaresResult[]) =>
      tried.reduce((best, each) => (each.chiSquared < best.chiSquared ? each : best));
    // A dozen steps show which valley is the deepest; only that one is followed to its bottom.
    const short = lowest([...first, ...split].map((start) => run(start, 12)));
    fits.push(short.outcome === "converged" ? short : run(short.parameters, 100));
  }
  return fits;
}

function singleStarts(curve: MagnetisationCurve, conditions: CoreConditions, slope: SlopeBounds): Float64Array[] {
  return logNormalStarts(curve, conditions).map((start) => {
    start[3] = Math.min(slope.maximum, Math.max(slope.minimum, 0));
    return start;
  });
}

/** The last population in two halves, a third apart in size: at equal halves the fit could not tell which way to go. */
function splitStart(parameters: Float64Array): Float64Array {
  const p = parameters.length;
  const [amplitude, median_m, logSd] = parameters.slice(p - 4, p - 1);
  const narrower = Math.max(0.05, 0.7 * logSd);
  const halves = [0.85, 1.15].flatMap((factor) => [amplitude / 2, factor * median_m, narrower]);
  return Float64Array.from([...parameters.slice(0, p - 4), ...halves, parameters[p - 1]]);
}

function inside(start: Float64Array, { lower, upper }: { lower: readonly number[]; upper: readonly number[] }) {
  return start.map((value, j) => Math.min(upper[j], Math.max(lower[j], value)));
}

/** Names of what the data do not fix: a share known to no better than half, a size or width to no better than itself. */
function undeterminedOf({ names, values, covariance, atBound }: FittedParameters, field_T: Float64Array): string[] {
  const p = names.length;
  const largestField_T = field_T.reduce((most, field) => Math.max(most, Math.abs(field)), 0);
  return names.filter((name, j) => {
    const u = Math.sqrt(covariance[j * p + j]);
    const reach = name.startsWith("share") ? 0.5 : name === "background-slope" ? values[0] / largestField_T : values[j];
    return !atBound[j] && !(u <= Math.abs(reach));
  });
}

const suffix = (k: number): string => (k === 0 ? "" : `-${k + 1}`);

/** Position of the parameters of population k: [share or none, median, log-sd]. */
const medianIndex = (k: number): number => (k === 0 ? 1 : 3 * k + 1);

function shareOf(p: readonly number[], k: number, populations: number): number {
  if (k > 0) return p[medianIndex(k) - 1];
  let rest = 1;
  for (let other = 1; other < populations; other++) rest -= p[medianIndex(other) - 1];
  return rest;
}

/** Number shares and volume-weighted medians. */
function derivedValues(parameters: FittedParameters, populations: number): DerivedValue[] {
  const ks = Array.from({ length: populations }, (_, k) => k);
  // particles per unit of core volume: 1 / <d^3>
  const particles = (p: readonly number[], k: number) =>
    (Math.max(0, shareOf(p, k, populations)) / p[medianIndex(k)] ** 3) * Math.exp(-4.5 * p[medianIndex(k) + 1] ** 2);
  const numberShare = (k: number) => (p: readonly number[]) =>
    particles(p, k) / ks.reduce((sum, other) => sum + particles(p, other), 0);
  return [
    derive({ name: "share", unit: "1" }, (p) => shareOf(p, 0, populations), parameters),
    ...ks.map((k) => derive({ name: `number-share${suffix(k)}`, unit: "1" }, numberShare(k), parameters)),
    ...ks.map((k) =>
      derive(
        { name: `volume-weighted-median-diameter${suffix(k)}`, unit: "m" },
        (p) => p[medianIndex(k)] * Math.exp(3 * p[medianIndex(k) + 1] ** 2),
        parameters,
      ),
    ),
  ];
}

/** A population that is not there, or that takes everything. */
function vanishing({ names, values, atBound }: FittedParameters, populations: number): FitAdvisory[] {
  return Array.from({ length: populations - 1 }, (_, k) => k + 1)
    .filter((k) => atBound[names.indexOf(`share${suffix(k)}`)])
    .map((k) => {
      const share = values[names.indexOf(`share${suffix(k)}`)];
      const gone = share === 0 ? `population ${k + 1}` : "the first population";
      return {
        code: "population-vanishes" as const,
        message: `${gone} has no share: its median and log-sd mean nothing, and the curve is that of one population fewer`,
      };
    });
}
