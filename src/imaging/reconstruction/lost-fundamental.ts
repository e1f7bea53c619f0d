import { FerruleError } from "../../errors.js";
import { choleskyFactor, choleskySolve } from "../../numerics/index.js";

/**
 * Baseline that an ideal notch at the drive frequency takes from a patch's velocity-normalised image:
 *   b = (2/π) ∫_{−1}^{1} ρ̂(y) √(1 − y²) dy
 * by Gauss-Chebyshev quadrature of the second kind (exact for polynomials to degree 2n − 1).
 *
 * Source      facts D3 (derived from S5)
 * Checked by  checks/lost-fundamental (W21: 1/4, 4/(3π), 1.1303182)
 */
export function removedBaseline(image: (y: number) => number, { nodes = 20001 }: { nodes?: number } = {}): number {
  let sum = 0;
  for (let k = 1; k <= nodes; k++) {
    const angle = (k * Math.PI) / (nodes + 1);
    sum += Math.sin(angle) ** 2 * image(Math.cos(angle));
  }
  return (2 / (nodes + 1)) * sum;
}

/** One patch's image on the bins of its line: value and weight per bin, weight 0 where it saw nothing. */
export interface PatchImage {
  readonly value: Float64Array;
  readonly weight: Float64Array;
}

/**
 * Constant offsets d_p that join overlapping patches of one line:
 *   minimise Σ_overlaps w (f_p + d_p − f_{p+1} − d_{p+1})² + Σ_ends (f + d)²
 * where the ends are the outermost bins of the first and last patch, taken as free of tracer. With one end this is the
 * chain d_{p+1} = d_p + mean_overlap(f_p − f_{p+1}) of facts D4; with two it also spreads the closing error.
 *
 * @returns offsets [patches]
 * Source      facts D2, D4 (from memory; derived)
 */
export function stitchOffsets(
  patches: readonly PatchImage[],
  { edgeBins = 2, ends = "both" }: { edgeBins?: number; ends?: "both" | "first" } = {},
): Float64Array {
  const n = patches.length;
  const matrix = new Float64Array(n * n);
  const right = new Float64Array(n);
  for (let p = 0; p + 1 < n; p++) {
    const { weight, difference } = overlap(patches[p], patches[p + 1]);
    if (weight === 0)
      throw new FerruleError("InvalidValue", {
        path: "raster.patches.step",
        found: `patches ${p} and ${p + 1} that do not overlap`,
        accepted: "a step below the width of a patch, 2 · amplitude / gradient",
      });
    addPair(matrix, right, n, p, weight, difference);
  }
  addEnd(matrix, right, n, 0, edgeMean(patches[0], edgeBins, "start"));
  if (ends === "both") addEnd(matrix, right, n, n - 1, edgeMean(patches[n - 1], edgeBins, "end"));
  const factor = choleskyFactor(matrix, n);
  if (factor === undefined)
    throw new FerruleError("NotIdentifiable", { found: "patches that no overlap ties together", accepted: "a chain" });
  return choleskySolve(factor, right);
}

function overlap(a: PatchImage, b: PatchImage) {
  let weight = 0;
  let difference = 0;
  for (let i = 0; i < a.value.length; i++) {
    if (a.weight[i] === 0 || b.weight[i] === 0) continue;
    const w = (a.weight[i] * b.weight[i]) / (a.weight[i] + b.weight[i]);
    weight += w;
    difference += w * (a.value[i] - b.value[i]);
  }
  return { weight, difference: weight === 0 ? 0 : difference / weight };
}

/** w (d_p − d_{p+1} + difference)² */
function addPair(m: Float64Array, right: Float64Array, n: number, p: number, w: number, difference: number): void {
  m[p * n + p] += w;
  m[(p + 1) * n + p + 1] += w;
  m[p * n + p + 1] -= w;
  m[(p + 1) * n + p] -= w;
  right[p] -= w * difference;
  right[p + 1] += w * difference;
}

/** weight (d_p + mean)² */
function addEnd(
  m: Float64Array,
  right: Float64Array,
  n: number,
  p: number,
  edge: { mean: number; weight: number },
): void {
  m[p * n + p] += edge.weight;
  right[p] -= edge.weight * edge.mean;
}

function edgeMean({ value, weight }: PatchImage, bins: number, side: "start" | "end") {
  const seen = [...weight.keys()].filter((i) => weight[i] > 0);
  const edge = side === "start" ? seen.slice(0, bins) : seen.slice(-bins);
  const total = edge.reduce((sum, i) => sum + weight[i], 0);
  return { weight: total, mean: edge.reduce((sum, i) => sum + weight[i] * value[i], 0) / total };
}
