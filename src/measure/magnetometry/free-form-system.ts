import { choleskyFactor, choleskySolve, nonNegativeQuadratic } from "../../numerics/index.js";
import { langevin, xiPerTesla } from "../../physics/index.js";
import type { MagnetisationCurve } from "./curve.js";
import type { CoreConditions } from "./log-normal-model.js";

export type SmoothnessPenalty = "second-difference" | "size";

/**
 * The linear problem of a size distribution on a grid, weighted by sigma, its background projected out.
 *   M(B) = sum_j a_j L(k_j B) + chi B,  a_j >= 0;  minimise ||A a - b||^2 + weight * w0 * a' P a
 */
export interface FreeFormSystem {
  readonly diameter_m: Float64Array;
  readonly rows: number;
  /** L(k_j B_i) / sigma_i, row-major, [n, m]; not projected. */
  readonly kernel: Float64Array;
  /** B_i / sigma_i, or absent without a background. */
  readonly background: Float64Array | undefined;
  /** A' A and P scaled to the same trace, row-major, [m, m]. */
  readonly gram: Float64Array;
  readonly penalty: Float64Array;
}

/** A solution for one weight. */
export interface FreeFormSolution {
  readonly relativeWeight: number;
  /** Saturation carried by each size, unit of the curve, [m]. */
  readonly amplitude: Float64Array;
  readonly passive: readonly number[];
  readonly slope: number;
  /** Weighted, [n]. */
  readonly residuals: Float64Array;
  readonly chiSquared: number;
  readonly roughness: number;
  /** Trace of the influence matrix over the sizes that are not at 0, and the background. */
  readonly effectiveParameters: number;
}

export function freeFormSystem(
  { field_T, sigma }: MagnetisationCurve,
  { coreSaturation_A_per_m, temperature_K }: CoreConditions,
  {
    diameter_m,
    penalty,
    hasBackground,
  }: { readonly diameter_m: Float64Array; readonly penalty: SmoothnessPenalty; readonly hasBackground: boolean },
): FreeFormSystem {
  const [n, m] = [field_T.length, diameter_m.length];
  const weight = sigma ? sigma.map((value) => 1 / value) : new Float64Array(n).fill(1);
  const kernel = new Float64Array(n * m);
  const slopes = diameter_m.map((d) => xiPerTesla(d, coreSaturation_A_per_m, temperature_K));
  for (let i = 0; i < n; i++)
    for (let j = 0; j < m; j++) kernel[i * m + j] = weight[i] * langevin(slopes[j] * field_T[i]);
  const background = hasBackground ? field_T.map((field, i) => field * weight[i]) : undefined;
  const gram = projectedGram(kernel, background, [n, m]);
  const raw = penaltyMatrix(m, penalty);
  const scale = trace(gram, m) / trace(raw, m);
  return { diameter_m, rows: n, kernel, background, gram, penalty: raw.map((value) => value * scale) };
}

/** The distribution for one weight and one set of weighted data. `passive` starts the active set. */
export function solveFreeForm(
  system: FreeFormSystem,
  data: Float64Array,
  { relativeWeight, passive = [] }: { readonly relativeWeight: number; readonly passive?: readonly number[] },
): FreeFormSolution {
  const { rows, kernel, background, gram, penalty, diameter_m } = system;
  const m = diameter_m.length;
  const h = gram.map((value, k) => value + relativeWeight * penalty[k]);
  const solved = nonNegativeQuadratic(h, projectedMoments(system, data), { passive });
  const amplitude = solved.solution;
  const residuals = new Float64Array(rows);
  for (let i = 0; i < rows; i++) {
    let sum = data[i];
    for (const j of solved.passive) sum -= kernel[i * m + j] * amplitude[j];
    residuals[i] = sum;
  }
  const slope = background ? dot(background, residuals) / dot(background, background) : 0;
  if (background) for (let i = 0; i < rows; i++) residuals[i] -= slope * background[i];
  let roughness = 0;
  for (const i of solved.passive)
    for (const j of solved.passive) roughness += amplitude[i] * penalty[i * m + j] * amplitude[j];
  return {
    relativeWeight,
    amplitude,
    passive: solved.passive,
    slope,
    residuals,
    chiSquared: dot(residuals, residuals),
    roughness,
    effectiveParameters: (background ? 1 : 0) + influenceTrace(h, gram, { m, passive: solved.passive }),
  };
}

/** tr(H_F^-1 G_F) over the free sizes F. */
function influenceTrace(
  h: Float64Array,
  gram: Float64Array,
  { m, passive }: { m: number; passive: readonly number[] },
): number {
  const k = passive.length;
  const sub = new Float64Array(k * k);
  for (let a = 0; a < k; a++) for (let b = 0; b < k; b++) sub[a * k + b] = h[passive[a] * m + passive[b]];
  const factor = choleskyFactor(sub, k);
  if (factor === undefined) return k;
  let sum = 0;
  for (let b = 0; b < k; b++) {
    const column = Float64Array.from(passive, (row) => gram[row * m + passive[b]]);
    sum += choleskySolve(factor, column, column)[b];
  }
  return sum;
}

function projectedGram(kernel: Float64Array, background: Float64Array | undefined, [n, m]: [number, number]) {
  const gram = new Float64Array(m * m);
  for (let i = 0; i < n; i++)
    for (let a = 0; a < m; a++) for (let b = 0; b <= a; b++) gram[a * m + b] += kernel[i * m + a] * kernel[i * m + b];
  const overlap = backgroundOverlap(kernel, background, [n, m]);
  const length = background ? dot(background, background) : 1;
  for (let a = 0; a < m; a++)
    for (let b = 0; b <= a; b++) {
      gram[a * m + b] -= (overlap[a] * overlap[b]) / length;
      gram[b * m + a] = gram[a * m + b];
    }
  return gram;
}

function projectedMoments({ kernel, background, rows, diameter_m }: FreeFormSystem, data: Float64Array): Float64Array {
  const m = diameter_m.length;
  const share = background ? dot(background, data) / dot(background, background) : 0;
  const moments = new Float64Array(m);
  for (let i = 0; i < rows; i++) {
    const value = data[i] - (background ? share * background[i] : 0);
    for (let j = 0; j < m; j++) moments[j] += kernel[i * m + j] * value;
  }
  return moments;
}

function backgroundOverlap(kernel: Float64Array, background: Float64Array | undefined, [n, m]: [number, number]) {
  const overlap = new Float64Array(m);
  if (background)
    for (let i = 0; i < n; i++) for (let j = 0; j < m; j++) overlap[j] += background[i] * kernel[i * m + j];
  return overlap;
}

/** D'D of second differences with zeros beyond both ends, or the identity. */
function penaltyMatrix(m: number, penalty: SmoothnessPenalty): Float64Array {
  const p = new Float64Array(m * m);
  if (penalty === "size") {
    for (let j = 0; j < m; j++) p[j * m + j] = 1;
    return p;
  }
  for (let row = 0; row < m; row++) {
    const entries = (
      [
        [row - 1, 1],
        [row, -2],
        [row + 1, 1],
      ] as const
    ).filter(([j]) => j >= 0 && j < m);
    for (const [a, x] of entries) for (const [b, y] of entries) p[a * m + b] += x * y;
  }
  return p;
}

function trace(a: Float64Array, m: number): number {
  let sum = 0;
  for (let j = 0; j < m; j++) sum += a[j * m + j];
  return sum;
}

export function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i] * b[i];
  return sum;
}
