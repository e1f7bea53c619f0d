import { FerruleError } from "../../errors.js";
import { finishSteps, type LeastSquaresResult, leastSquares, type Steps } from "../../numerics/index.js";
import type { FitAdvisory } from "../magnetometry/fit-advisory.js";

/** One parameter of a block. */
export interface BlockParameter {
  readonly name: string;
  readonly unit: string;
  readonly lower: number;
  readonly upper: number;
}

/**
 * The data of one instrument with its model: what can be fitted alone or, over parameters of the same name, together with
 * others.
 */
export interface FitBlock {
  readonly instrument: "magnetometry" | "spectroscopy" | "susceptibility";
  readonly name: string;
  readonly model: string;
  readonly equation: string;
  readonly dataUnit: string;
  readonly parameters: readonly BlockParameter[];
  /** Names of the parameters that belong to the tracer and not to the instrument. */
  readonly shared: readonly string[];
  readonly observed: Float64Array;
  readonly sigma?: Float64Array;
  /** Parameters in the block's order -> predicted values, [n]. */
  readonly predict: (values: Float64Array, out: Float64Array) => Float64Array;
  /** Coarse choices of the tracer's parameters, from which `blockStarts` takes the best, scales included. */
  readonly candidates: () => readonly Float64Array[];
  readonly rowName: (row: number) => string;
  /** What is always to be said of this instrument's data and model. */
  readonly advisories: readonly FitAdvisory[];
}

/** The best few candidates by chi2, with parameters inside their bounds. */
export function blockStarts(block: FitBlock, count: number): Float64Array[] {
  const out = new Float64Array(block.observed.length);
  const misfit = (values: Float64Array) => {
    block.predict(values, out);
    let sum = 0;
    for (let i = 0; i < out.length; i++) sum += ((block.observed[i] - out[i]) / (block.sigma?.[i] ?? 1)) ** 2;
    return sum;
  };
  const tried = block.candidates().map((start) => {
    const values = start.map((value, j) => {
      const { lower, upper } = block.parameters[j];
      return Math.min(upper, Math.max(lower, value));
    });
    return { values, misfit: misfit(values) };
  });
  return tried
    .filter((each) => Number.isFinite(each.misfit))
    .sort((a, b) => a.misfit - b.misfit)
    .slice(0, count)
    .map(({ values }) => values);
}

/** Fits one block alone: a dozen steps from each start, then the best to its end. */
export function fitBlock(block: FitBlock, { starts = 3 }: { starts?: number } = {}): LeastSquaresResult {
  return finishSteps(fitBlockSteps(block, { starts }));
}

/** The same in steps, one after the search and one after each start: a Brownian table takes seconds to fill. */
export function* fitBlockSteps(block: FitBlock, { starts = 3 }: { starts?: number } = {}): Steps<LeastSquaresResult> {
  requireEnough(block.observed, block.parameters.length, block.name);
  const problem = { model: block.predict, observed: block.observed, sigma: block.sigma };
  const options = {
    names: block.parameters.map(({ name }) => name),
    lower: block.parameters.map(({ lower }) => lower),
    upper: block.parameters.map(({ upper }) => upper),
  };
  const found = blockStarts(block, starts);
  yield 0.2;
  let best: LeastSquaresResult | undefined;
  for (const [k, start] of found.entries()) {
    const short = leastSquares(problem, start, { ...options, maxIterations: 12 });
    if (best === undefined || short.chiSquared < best.chiSquared) best = short;
    yield 0.2 + (0.7 * (k + 1)) / found.length;
  }
  if (best === undefined) throw noStart(block);
  return best.outcome === "converged"
    ? best
    : leastSquares(problem, best.parameters, { ...options, maxIterations: 100 });
}

function noStart({ name, model }: FitBlock): FerruleError {
  return new FerruleError("NotIdentifiable", {
    path: "data",
    found: `"${name}", for which no choice of parameters of ${model} gives finite values`,
    accepted: "data within what the model can describe, e.g. a drive amplitude between 0.1 mT and 1 T",
  });
}

/** More values than parameters, and not all zero. */
export function requireEnough(observed: Float64Array, parameters: number, name: string): void {
  const refuse = (found: string, accepted: string): never => {
    throw new FerruleError("NotIdentifiable", { path: "data", found, accepted });
  };
  if (observed.length <= parameters)
    refuse(
      `${observed.length} values in "${name}" for ${parameters} parameters`,
      `at least ${parameters + 1} values, so that the fit can be checked; measure more points or hold a parameter`,
    );
  if (observed.every((value) => value === 0)) refuse(`zero throughout in "${name}"`, "a sample with a signal");
}

/**
 * Names of the parameters that the data do not determine: those that float together, and those whose standard uncertainty
 * exceeds their value.
 */
export function undeterminedParameters(
  { floating, standardErrors, parameters, atBound, names }: LeastSquaresResult,
  reach: (name: string, value: number) => number = (_, value) => Math.abs(value),
): string[] {
  const floats = new Set(floating.flatMap((direction) => direction.parameters.map(({ name }) => name)));
  return names.filter(
    (name, j) => floats.has(name) || (!atBound[j] && !(standardErrors[j] <= reach(name, parameters[j]))),
  );
}
