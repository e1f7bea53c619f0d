import { nonNegativeQuadratic } from "../../numerics/index.js";
import { xiPerTesla } from "../../physics/index.js";
import type { MagnetisationCurve } from "./curve.js";
import type { SlopeBounds } from "./curve-requirements.js";
import type { FieldGrid } from "./field-grid.js";
import { logNormalAverage } from "./log-normal-average.js";
import { type CoreConditions, diameterBounds_m } from "./log-normal-model.js";

interface Candidate {
  readonly medianDiameter_m: number;
  readonly logSd: number;
  readonly column: Float64Array;
}

/**
 * Where to start a mixture: every choice of populations from a coarse set of medians and log-sds is fitted by its
 * amplitudes alone (non-negative least squares, a few unknowns), and the best choices come first. A mixture has several
 * valleys; the local fit needs to be put into the right one.
 *
 * @param populations  2 or 3
 * @param options.count  how many starts
 * @returns inner parameters, see `mixtureProblem`
 *
 * Source      derived
 */
export function mixtureStarts(
  curve: MagnetisationCurve,
  populations: number,
  {
    conditions,
    slope,
    count,
  }: { conditions: CoreConditions & { readonly grid?: FieldGrid }; slope: SlopeBounds; count: number },
): Float64Array[] {
  const { field_T, magnetisation, sigma } = curve;
  const weight = sigma ? sigma.map((value) => 1 / value) : new Float64Array(field_T.length).fill(1);
  const candidates = candidateCores(field_T, conditions);
  const isFree = slope.minimum < slope.maximum;
  const background = isFree ? unit(field_T.map((field, i) => field * weight[i])) : undefined;
  const project = (values: Float64Array) => without(values, background);
  const columns = candidates.map(({ column }) => project(column.map((value, i) => value * weight[i])));
  const data = project(
    magnetisation.map((value, i) => (value - (isFree ? 0 : slope.minimum * field_T[i])) * weight[i]),
  );
  const gram = columns.map((a) => columns.map((b) => dot(a, b)));
  const moments = columns.map((a) => dot(a, data));
  const tried = choices(candidates, populations).map((choice) => {
    const h = Float64Array.from(choice.flatMap((i) => choice.map((j) => gram[i][j])));
    const g = Float64Array.from(choice, (i) => moments[i]);
    const { solution } = nonNegativeQuadratic(h, g);
    const gain = solution.reduce((sum, x, i) => {
      const curvature = choice.reduce((total, j, k) => total + gram[choice[i]][j] * solution[k], 0);
      return sum + x * (2 * g[i] - curvature);
    }, 0);
    return { choice, solution, gain };
  });
  tried.sort((a, b) => b.gain - a.gain);
  return distinct(tried, count).map(({ choice, solution }) => {
    const total = solution.reduce((sum, value) => sum + value, 0);
    const cores = choice.flatMap((i, k) => [
      // A population that the coarse choice does without gets a hundredth: at 0 its size would have no effect.
      Math.max(solution[k], 0.01 * total),
      candidates[i].medianDiameter_m,
      candidates[i].logSd,
    ]);
    return Float64Array.from([...cores, Math.min(slope.maximum, Math.max(slope.minimum, 0))]);
  });
}

/** Medians whose xi runs from 1/2 at the largest field to 10 at the smallest, within what a curve can size. */
function candidateCores(
  field_T: Float64Array,
  conditions: CoreConditions & { readonly grid?: FieldGrid },
): Candidate[] {
  const sizes = field_T.map(Math.abs).filter((value) => value > 0);
  const [low, high] = [sizes.reduce((a, b) => Math.min(a, b)), sizes.reduce((a, b) => Math.max(a, b))];
  const perCubicMetre = xiPerTesla(1, conditions.coreSaturation_A_per_m, conditions.temperature_K);
  const smallest = Math.max(2 * diameterBounds_m.lower, Math.cbrt(0.5 / (perCubicMetre * high)));
  const largest = Math.min(0.4 * diameterBounds_m.upper, Math.cbrt(10 / (perCubicMetre * low)));
  const medians = Array.from(
    { length: 10 },
    (_, k) => smallest * (Math.max(largest, 2 * smallest) / smallest) ** (k / 9),
  );
  return medians.flatMap((volumeMedian_m) =>
    [0.1, 0.35].map((logSd) => {
      const medianDiameter_m = volumeMedian_m * Math.exp(-3 * logSd ** 2);
      return {
        medianDiameter_m,
        logSd,
        column: logNormalAverage(field_T, { medianDiameter_m, logSd }, conditions).value,
      };
    }),
  );
}

/** All sets of so many candidates with different volume medians, as ascending indices. */
function choices(candidates: readonly Candidate[], populations: number): number[][] {
  let sets: number[][] = candidates.map((_, i) => [i]);
  for (let k = 1; k < populations; k++)
    sets = sets.flatMap((set) => {
      const last = set[set.length - 1];
      // candidates come in pairs of one volume median
      const from = 2 * (Math.floor(last / 2) + 1);
      return Array.from({ length: Math.max(0, candidates.length - from) }, (_, j) => [...set, from + j]);
    });
  return sets;
}

/** The best of each choice of volume medians; the log-sds refine by themselves. */
function distinct<T extends { choice: readonly number[] }>(tried: readonly T[], count: number): T[] {
  const seen = new Set<string>();
  const list: T[] = [];
  for (const each of tried) {
    const key = each.choice.map((i) => Math.floor(i / 2)).join();
    if (seen.has(key)) continue;
    seen.add(key);
    list.push(each);
    if (list.length === count) break;
  }
  return list;
}

function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i] * b[i];
  return sum;
}

function unit(values: Float64Array): Float64Array {
  const length = Math.sqrt(dot(values, values));
  return values.map((value) => value / length);
}

function without(values: Float64Array, direction: Float64Array | undefined): Float64Array {
  if (direction === undefined) return values;
  const part = dot(values, direction);
  return values.map((value, i) => value - part * direction[i]);
}
