import { type LeastSquaresResult, leastSquares } from "../../numerics/index.js";
import { coresFromNodes, remanence, spinodal, xiPerTesla } from "../../physics/index.js";
import { type BranchComparison, compareBranches } from "./branches.js";
import { type BranchPart, branchParts, chainNodes, chainParameters, chainProblem } from "./chain-model.js";
import type { MagnetisationCurve } from "./curve.js";
import { branchWords } from "./curve-advisories.js";
import { reportCurveFit } from "./curve-fit-report.js";
import {
  type BackgroundOption,
  requireConditions,
  requireData,
  type SlopeBounds,
  slopeBounds,
} from "./curve-requirements.js";
import type { FitNumbers } from "./fit-advisories.js";
import type { FitAdvisory } from "./fit-advisory.js";
import { plainParameters } from "./fit-report.js";
import type { CurveFit, DerivedValue } from "./fit-result.js";
import { undeterminedNames } from "./identifiability.js";
import { fitLogNormal } from "./log-normal-fit.js";
import { type CoreConditions, diameterBounds_m, logSdBounds } from "./log-normal-model.js";
import { derive } from "./propagate.js";

export interface ChainFitOptions {
  /** As in `fitLogNormal`. */
  readonly background?: BackgroundOption;
  /** "single": all cores of one size, log-sd held at 0. */
  readonly cores?: "log-normal" | "single";
}

export interface ChainFit extends CurveFit {
  readonly model: "mean-field-chain";
  /** Which rows were taken for which branch. */
  readonly parts: readonly { readonly branch: BranchPart["branch"]; readonly rows: Int32Array }[];
  /** True when the coupling exceeds 3: the fitted curve has two branches. */
  readonly isHysteretic: boolean;
}

/** Hysteresis begins at 3; mean-field coercive fields beyond this coupling exceed any measured. */
const couplingBounds = { lower: 0, threshold: 3, upper: 20 } as const;

/**
 * Fits a magnetisation curve by chained cores: log-normal sizes in one mean field, on the branches in which the curve was
 * measured.
 *   M(B) = S m(B) + chi B,  m = <d^3 L(k (B + kappa m / mean k))> / <d^3>
 * kappa is an effective number, not a geometry: an endless chain overestimates measured coercive fields several times.
 * At small fields only d^3 / (3 - kappa) shows: what tells the two apart is how the curve bends.
 *
 * A coupling above 3 is considered only where the curve can show it: on a descending or ascending branch, or on two
 * branches that differ.
 *
 * @param curve  as `fitLogNormal`, in the order of acquisition
 * @returns saturation, median-diameter, log-sd, coupling, background-slope; initial slope, or coercive field and remanence
 *
 * Valid for   quasi-static curves
 * Source      facts C5 to C11 (derived), with one field common to all sizes
 * Checked by  checks/tracer-fit (scipy), campaigns/tracer-parameter-coverage
 */
export function fitChain(
  curve: MagnetisationCurve,
  { background = "free", cores = "log-normal" }: ChainFitOptions = {},
): ChainFit {
  const conditions = requireConditions(curve);
  requireData(curve, chainParameters.length);
  const slope = slopeBounds(background);
  const parts = branchParts(curve);
  const comparison = compareBranches(curve);
  const fit = bestFit(curve, { conditions, slope, parts, comparison, cores });
  const kappa = fit.parameters[3];
  const undetermined = undeterminedNames(fit, curve.field_T);
  const { magnetisationUnit: unit } = curve;
  const report = reportCurveFit(curve, fit, {
    model: "mean-field-chain",
    equation: "M(B) = S m + chi B, m = <d^3 L(k (B + kappa m/<k>))>/<d^3>, k = Ms pi d^3/(6 kB T), B = mu0H",
    weighting: "number",
    parameters: plainParameters(fit, [unit, "m", "1", "1", `${unit}/T`]),
    derived: derivedValues(fit, conditions, unit),
    undetermined,
    held: [...(slope.minimum === slope.maximum ? ["background-slope"] : []), ...(cores === "single" ? ["log-sd"] : [])],
    hasHysteresis: true, // knows of branches; `branchMismatch` speaks where they are not described
    advisories: (numbers) => [...chainAdvisories(numbers), ...branchMismatch(kappa, comparison, unit)],
  });
  return {
    ...report,
    model: "mean-field-chain",
    parts: parts.map(({ branch, rows }) => ({ branch, rows })),
    isHysteretic: kappa > couplingBounds.threshold,
  };
}

interface Setup {
  readonly conditions: CoreConditions;
  readonly slope: SlopeBounds;
  readonly parts: readonly BranchPart[];
  readonly comparison: BranchComparison | undefined;
  readonly cores: "log-normal" | "single";
}

/**
 * One local fit on either side of kappa = 3: the model has another number of branches there and no derivative across.
 * A dozen steps from each start, then the best two of each side to their ends.
 */
function bestFit(curve: MagnetisationCurve, setup: Setup): LeastSquaresResult {
  const { field_T, magnetisation: observed, sigma } = curve;
  const { conditions, slope, parts, cores } = setup;
  const problem = { ...chainProblem(field_T, parts, conditions), observed, sigma };
  const sd = cores === "single" ? { lower: 0, upper: 0 } : logSdBounds;
  const { lower, threshold, upper } = couplingBounds;
  const free = fitLogNormal(curve, { background: slope });
  const sides = [
    { from: lower, to: threshold, starts: weakStarts(free, slope) },
    ...(canShowHysteresis(setup) ? [{ from: threshold, to: upper, starts: strongStarts(free, setup) }] : []),
  ];
  const lowest = (fits: readonly LeastSquaresResult[]) =>
    fits.reduce((best, each) => (each.chiSquared < best.chiSquared ? each : best));
  return lowest(
    sides.map(({ from, to, starts }) => {
      const options = {
        names: chainParameters,
        lower: [0, diameterBounds_m.lower, sd.lower, from, slope.minimum],
        upper: [Number.POSITIVE_INFINITY, diameterBounds_m.upper, sd.upper, to, slope.maximum],
      };
      const run = (start: ArrayLike<number>, maxIterations: number) => {
        const inside = Array.from(start, (value, j) => Math.min(options.upper[j], Math.max(options.lower[j], value)));
        return leastSquares(problem, inside, { ...options, maxIterations });
      };
      const short = starts.map((start) => run(start, 12)).sort((a, b) => a.chiSquared - b.chiSquared);
      return lowest(short.slice(0, 2).map((each) => (each.outcome === "converged" ? each : run(each.parameters, 80))));
    }),
  );
}

function canShowHysteresis({ parts, comparison }: Setup): boolean {
  if (comparison !== undefined) return comparison.differ;
  return parts.some(({ branch }) => branch !== "initial");
}

/** From the fit without coupling, narrower (coupling sharpens) and smaller, so that the slope at zero field stays. */
function weakStarts(free: CurveFit, slope: SlopeBounds): number[][] {
  const [S, d, s, chi] = free.parameters.map(({ value }) => value);
  const narrowed = [
    [0.2, s],
    [1.2, 0.7 * s],
    [1.8, 0.5 * s],
    [2.5, 0.5 * s],
  ] as const;
  return narrowed.map(([kappa, logSd]) => {
    const same = Math.exp(13.5 * (s * s - logSd * logSd)) * ((3 - kappa) / 3);
    return [S, d * Math.cbrt(same), logSd, kappa, clampSlope(chi, slope)];
  });
}

/** Cores whose mean-field coercive field is the measured one. */
function strongStarts(free: CurveFit, { conditions, slope, comparison }: Setup): number[][] {
  const [S, d, s, chi] = free.parameters.map(({ value }) => value);
  const coercive_T = Math.abs(comparison?.coerciveField_T?.value ?? 0);
  return [3.3, 4, 6, 10].map((kappa) => {
    const narrow = Math.min(s, 0.3);
    const unit = chainNodes({ medianDiameter_m: 1e-8, logSd: narrow }, conditions);
    const { cores, meanXiPerTesla } = coresFromNodes(unit);
    const wanted = (spinodal(kappa, { cores })?.coerciveXi ?? 0) / coercive_T;
    const sized = coercive_T > 0 ? 1e-8 * Math.cbrt(wanted / meanXiPerTesla) : d;
    return [S, sized, narrow, kappa, clampSlope(chi, slope)];
  });
}

const clampSlope = (chi: number, { minimum, maximum }: SlopeBounds): number =>
  Math.min(maximum, Math.max(minimum, chi));

function derivedValues(fit: LeastSquaresResult, conditions: CoreConditions, unit: string): DerivedValue[] {
  const of = { values: fit.parameters, covariance: fit.covariance };
  const nodesOf = ([, medianDiameter_m, logSd]: readonly number[]) =>
    coresFromNodes(chainNodes({ medianDiameter_m, logSd: Math.max(0, logSd) }, conditions));
  const volumeMedian = derive(
    { name: "volume-weighted-median-diameter", unit: "m" },
    ([, d, s]) => d * Math.exp(3 * s * s),
    of,
  );
  if (fit.parameters[3] <= couplingBounds.threshold) {
    // <k> of log-normal cores by moment: k(d0) exp(13.5 s^2)
    const slopeAtZero = ([S, d, s, kappa]: readonly number[]) =>
      (S * xiPerTesla(d, conditions.coreSaturation_A_per_m, conditions.temperature_K) * Math.exp(13.5 * s * s)) /
      (3 - kappa);
    return [volumeMedian, derive({ name: "zero-field-slope", unit: `${unit}/T` }, slopeAtZero, of)];
  }
  const coercive = (p: readonly number[]) => {
    const { cores, meanXiPerTesla } = nodesOf(p);
    return (spinodal(p[3], { cores })?.coerciveXi ?? 0) / meanXiPerTesla;
  };
  const remanent = (p: readonly number[]) => p[0] * remanence(p[3], { cores: nodesOf(p).cores });
  return [
    volumeMedian,
    derive({ name: "coercive-field", unit: "T" }, coercive, of),
    derive({ name: "remanence", unit }, remanent, of),
  ];
}

/** Beyond this the coupling is little more than another word for the diameter. */
const tradeOff = 0.9;

function chainAdvisories({ parameters, correlation }: FitNumbers): FitAdvisory[] {
  const p = parameters.length;
  const at = (a: string, b: string) => {
    const [i, j] = [a, b].map((name) => parameters.findIndex((parameter) => parameter.name === name));
    return correlation[i * p + j];
  };
  const r = at("median-diameter", "coupling");
  const list: FitAdvisory[] = [
    {
      code: "effective-parameter",
      message:
        "the coupling is an effective parameter, not a geometry: no spacing or chain length follows from it, and a mean field overestimates coercive fields several times",
    },
  ];
  if (Math.abs(r) > tradeOff)
    list.push({
      code: "strongly-correlated-parameters",
      message: `coupling and median-diameter trade off (correlation ${r.toFixed(3)}): at small fields only d^3/(3 - kappa) shows; a size from elsewhere would fix the coupling`,
    });
  return list;
}

/** Branches that differ although the best coupling has no hysteresis. */
function branchMismatch(kappa: number, comparison: BranchComparison | undefined, unit: string): FitAdvisory[] {
  if (!comparison?.differ || kappa > couplingBounds.threshold) return [];
  const message = `${branchWords(comparison, unit)}; yet the best mean-field chain has no hysteresis (coupling ${kappa.toPrecision(3)}): the loop has another cause, or many unlike chains`;
  return [{ code: "branches-differ", message }];
}
