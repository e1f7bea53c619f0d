import type { MagnetisationCurve } from "./curve.js";
import { reportCurveFit } from "./curve-fit-report.js";
import type { FitAdvisory } from "./fit-advisory.js";
import type { CurveFit } from "./fit-result.js";
import type { FreeFormSolution, FreeFormSystem, SmoothnessPenalty } from "./free-form-system.js";
import type { ChosenWeight } from "./free-form-weight.js";
import { gridQuantile, numberShares, sampleQuantile } from "./size-quantiles.js";

/** A number with the quantiles of its replicas: not a two-sided standard interval, and blind to the smoothing bias. */
export interface ReplicaRange {
  readonly name: string;
  readonly unit: string;
  readonly value: number;
  /** 2.5 % and 97.5 % of the replicas. */
  readonly low: number;
  readonly high: number;
  /** Standard deviation of the replicas; the range above is the interval, not plus or minus 1.96 of these. */
  readonly replicaSd: number;
  /** Mean of the replicas minus the value they were drawn from: the part of the bias that the replicas can see. */
  readonly replicaBias: number;
}

export interface FreeFormFit extends CurveFit {
  readonly model: "free-form";
  readonly weighting: "volume";
  readonly distribution: {
    readonly diameter_m: Float64Array;
    /** Shares of core volume, sum 1. */
    readonly volumeShare: Float64Array;
    readonly low: Float64Array;
    readonly high: Float64Array;
    /** Shares of particle number, sum 1; those of small cores hang on little magnetisation. */
    readonly numberShare: Float64Array;
  };
  readonly regularisation: {
    readonly method: ChosenWeight["method"];
    readonly reason: string;
    readonly penalty: SmoothnessPenalty;
    readonly relativeWeight: number;
    readonly effectiveParameters: number;
  };
  readonly ranges: readonly ReplicaRange[];
  readonly replicas: number;
  readonly seed: number;
}

/** What is read off every solution. */
const readings = [
  "saturation",
  "volume-weighted-median-diameter",
  "background-slope",
  "volume-weighted-diameter-10",
  "volume-weighted-diameter-90",
  "number-weighted-diameter-10",
  "number-weighted-median-diameter",
  "number-weighted-diameter-90",
] as const;

/** Readings of one solution, in the order of `readings`. */
export function readSolution({ amplitude, slope }: FreeFormSolution, diameter_m: Float64Array): number[] {
  const byVolume = (q: number) => gridQuantile(diameter_m, amplitude, q);
  const numbers = numberShares(diameter_m, amplitude);
  const byNumber = (q: number) => gridQuantile(diameter_m, numbers, q);
  const total = amplitude.reduce((sum, value) => sum + value, 0);
  return [total, byVolume(0.5), slope, byVolume(0.1), byVolume(0.9), byNumber(0.1), byNumber(0.5), byNumber(0.9)];
}

export interface Drawn {
  /** Readings of each replica. */
  readonly readings: readonly (readonly number[])[];
  /** Volume shares of each replica. */
  readonly shares: readonly Float64Array[];
}

interface Parts {
  readonly system: FreeFormSystem;
  readonly chosen: ChosenWeight;
  readonly drawn: Drawn;
  readonly penalty: SmoothnessPenalty;
  readonly seed: number;
}

export function freeFormReport(
  curve: MagnetisationCurve,
  { system, chosen, drawn, penalty, seed }: Parts,
): FreeFormFit {
  const { solution } = chosen;
  const { diameter_m } = system;
  const unit = curve.magnetisationUnit;
  const values = readSolution(solution, diameter_m);
  const units = [unit, "m", `${unit}/T`, "m", "m", "m", "m", "m"];
  const ranges = readings.map((name, j) =>
    rangeOf(
      { name, unit: units[j], value: values[j] },
      drawn.readings.map((r) => r[j]),
    ),
  );
  const isFree = system.background !== undefined;
  const parameters = {
    names: readings.slice(0, 3),
    values: values.slice(0, 3),
    units: units.slice(0, 3),
    atBound: [false, false, !isFree],
    covariance: replicaCovariance(drawn.readings, isFree ? 3 : 2),
  };
  const base = reportCurveFit(curve, endOf(curve, solution), {
    model: "free-form",
    equation: "M(B) = sum_j a_j L(xi_j) + chi B, a_j >= 0, xi_j = Ms pi d_j^3 B/(6 kB T), B = mu0H",
    weighting: "volume",
    parameters,
    derived: ranges.slice(3).map(({ name, value, replicaSd, unit: of }) => ({
      name,
      value,
      standardUncertainty: replicaSd,
      unit: of,
    })),
    undetermined: [],
    held: isFree ? [] : ["background-slope"],
    advisories: ({ reducedChiSquared }) => {
      // Outside 0.5 to 2 the residuals have said so already.
      const isUnsaid = curve.sigma !== undefined && reducedChiSquared > 0.5 && reducedChiSquared < 2;
      return designAdvisories(chosen, { ranges, penalty, sayOfSigma: isUnsaid });
    },
  });
  const total = solution.amplitude.reduce((sum, value) => sum + value, 0);
  const volumeShare = solution.amplitude.map((value) => value / total);
  const shareAt = (q: number) =>
    diameter_m.map((_, j) =>
      sampleQuantile(
        drawn.shares.map((share) => share[j]).sort((a, b) => a - b),
        q,
      ),
    );
  return {
    ...base,
    model: "free-form",
    weighting: "volume",
    distribution: {
      diameter_m,
      volumeShare,
      low: shareAt(0.025),
      high: shareAt(0.975),
      numberShare: numberShares(diameter_m, volumeShare),
    },
    regularisation: {
      method: chosen.method,
      reason: chosen.reason,
      penalty,
      relativeWeight: solution.relativeWeight,
      effectiveParameters: solution.effectiveParameters,
    },
    ranges,
    replicas: drawn.readings.length,
    seed,
  };
}

function rangeOf(of: { name: string; unit: string; value: number }, replicas: readonly number[]): ReplicaRange {
  const sorted = [...replicas].sort((a, b) => a - b);
  const mean = replicas.reduce((sum, value) => sum + value, 0) / replicas.length;
  const squares = replicas.reduce((sum, value) => sum + (value - mean) ** 2, 0);
  const [low, high] = [0.025, 0.975].map((q) => sampleQuantile(sorted, q));
  return { ...of, low, high, replicaSd: Math.sqrt(squares / (replicas.length - 1)), replicaBias: mean - of.value };
}

/** Covariance of the first readings over the replicas; NaN for what was held. */
function replicaCovariance(replicas: readonly (readonly number[])[], free: number): Float64Array {
  const mean = [0, 1, 2].map((j) => replicas.reduce((sum, r) => sum + r[j], 0) / replicas.length);
  return Float64Array.from({ length: 9 }, (_, k) => {
    const [i, j] = [Math.floor(k / 3), k % 3];
    if (i >= free || j >= free) return Number.NaN;
    return replicas.reduce((sum, r) => sum + (r[i] - mean[i]) * (r[j] - mean[j]), 0) / (replicas.length - 1);
  });
}

function endOf(curve: MagnetisationCurve, solution: FreeFormSolution) {
  const { residuals: weighted, effectiveParameters, chiSquared } = solution;
  const residuals = weighted.map((value, i) => value * (curve.sigma?.[i] ?? 1));
  const degreesOfFreedom = weighted.length - effectiveParameters;
  return {
    names: [],
    atBound: [],
    covariance: new Float64Array(0),
    standardErrors: new Float64Array(0),
    weightedJacobian: new Float64Array(0),
    predicted: curve.magnetisation.map((value, i) => value - residuals[i]),
    residuals,
    normalisedResiduals: weighted,
    reducedChiSquared: chiSquared / degreesOfFreedom,
    degreesOfFreedom,
    outcome: "converged" as const,
    reason: "a convex problem, solved to its conditions",
  };
}

function designAdvisories(
  { method, reason, solution, sigmaIsBelieved }: ChosenWeight,
  { ranges, penalty, sayOfSigma }: { ranges: readonly ReplicaRange[]; penalty: SmoothnessPenalty; sayOfSigma: boolean },
): FitAdvisory[] {
  const list: FitAdvisory[] = [
    {
      code: "regularisation",
      message: `smoothness (${penalty}) weighed by ${method} (${reason}): relative weight ${solution.relativeWeight.toPrecision(2)}, ${solution.effectiveParameters.toPrecision(3)} effective parameters${method === "discrepancy" ? "; chi2 equals the number of points by construction" : ""}`,
    },
    {
      code: "biased-by-design",
      message:
        "a smoothed, non-negative distribution is biased: ranges are quantiles of replicas about the fitted curve, which do not see what smoothing has already widened; on 2000 invented curves of two populations such 95 % ranges held the truth in 21 to 61 % of cases",
    },
  ];
  if (sayOfSigma && !sigmaIsBelieved)
    list.unshift({
      code: "sigma-not-independent-noise",
      message:
        "the sd column is not independent noise: the scatter that a smooth distribution leaves is another; replicas were drawn with that scatter",
    });
  const small = ranges.find(({ name }) => name === "number-weighted-median-diameter");
  if (small !== undefined && small.high / small.low > 1.3)
    list.push({
      code: "not-identifiable",
      message: `the number-weighted median is only known to lie between ${nm(small.low)} and ${nm(small.high)}: many small cores carry little magnetisation; use the volume-weighted quantiles`,
    });
  return list;
}

const nm = (value_m: number): string => `${(value_m * 1e9).toPrecision(3)} nm`;
