import { triangularise } from "../linear/householder.js";
import { jacobiSvd } from "../linear/jacobi-svd.js";

/** A direction in parameter space along which the data do not fix the model: these parameters float together. */
export interface FloatingDirection {
  /** Parameters with at least a tenth of the largest component, the largest first. */
  readonly parameters: readonly { readonly index: number; readonly name: string; readonly component: number }[];
}

export interface CovarianceAnalysis {
  /** (JᵀJ)⁻¹ for the free, determined parameters; NaN in the rows and columns of all others. Row-major, [p, p]. */
  readonly covariance: Float64Array;
  /** Ratio of the extreme singular values of the free Jacobian with unit columns; Infinity when one vanishes. */
  readonly conditionNumber: number;
  readonly floating: readonly FloatingDirection[];
}

/**
 * Covariance of fitted parameters from the weighted Jacobian, and what the data leave undetermined.
 *   J = U·S·Vᵀ·D (D: column lengths),  C = D⁻¹·V·S⁻²·Vᵀ·D⁻¹
 * A singular value below `degeneracy` of the largest has no finite variance: its direction is reported, and every
 * parameter with a part in it gets NaN instead of the large arbitrary number that inversion would give.
 *
 * @param jacobian  ∂f/∂p/σ, row-major, [n, p]
 * @param options.free  indices of the parameters that were fitted (not held at a bound)
 *
 * Source      Press et al., Numerical Recipes, ch. 15.4 (SVD form of the covariance); common practice.
 * Checked by  checks/least-squares, least-squares.test.ts
 */
export function analyseCovariance(
  jacobian: Float64Array,
  { free, names, degeneracy }: { free: readonly number[]; names: readonly string[]; degeneracy: number },
): CovarianceAnalysis {
  const p = names.length;
  const k = free.length;
  const lengths = free.map((j) => columnLength(jacobian, p, j));
  const { s, v } = scaledSvd(jacobian, { p, free, lengths });
  const floats = (i: number) => !(s[i] > degeneracy * s[0]);
  const undetermined = new Set<number>();
  const floating: FloatingDirection[] = [];
  for (let i = 0; i < k; i++) {
    if (!floats(i)) continue;
    const components = free.map((index, row) => ({ index, name: names[index], component: v[row * k + i] }));
    const largest = Math.max(...components.map(({ component }) => Math.abs(component)));
    // 1e-6: a true null vector is known to about rounding/degeneracy; parts below that are noise, not floating.
    components.forEach(({ component }, row) => {
      if (Math.abs(component) > 1e-6) undetermined.add(row);
    });
    floating.push({
      parameters: components
        .filter(({ component }) => Math.abs(component) >= 0.1 * largest)
        .sort((a, b) => Math.abs(b.component) - Math.abs(a.component)),
    });
  }
  const covariance = new Float64Array(p * p).fill(Number.NaN);
  for (let a = 0; a < k; a++)
    for (let b = 0; b < k; b++) {
      if (undetermined.has(a) || undetermined.has(b)) continue;
      let sum = 0;
      for (let i = 0; i < k; i++) if (!floats(i)) sum += (v[a * k + i] * v[b * k + i]) / s[i] ** 2;
      covariance[free[a] * p + free[b]] = sum / (lengths[a] * lengths[b]);
    }
  return {
    covariance,
    conditionNumber: k === 0 ? 1 : s[k - 1] > 0 ? s[0] / s[k - 1] : Number.POSITIVE_INFINITY,
    floating,
  };
}

function scaledSvd(
  jacobian: Float64Array,
  { p, free, lengths }: { p: number; free: readonly number[]; lengths: readonly number[] },
) {
  const n = jacobian.length / p;
  const k = free.length;
  const a = new Float64Array(n * k);
  for (let i = 0; i < n; i++)
    free.forEach((j, c) => {
      a[i * k + c] = lengths[c] === 0 ? 0 : jacobian[i * p + j] / lengths[c];
    });
  return jacobiSvd(triangularise(a, new Float64Array(n), k), [k, k]);
}

function columnLength(jacobian: Float64Array, p: number, j: number): number {
  let sum = 0;
  for (let k = j; k < jacobian.length; k += p) sum += jacobian[k] ** 2;
  return Math.sqrt(sum);
}

/** Correlation matrix of a covariance; NaN where that is NaN. Row-major, [p, p]. */
export function correlationOf(covariance: Float64Array, p: number): Float64Array {
  return covariance.map((value, k) => {
    const i = Math.floor(k / p);
    const j = k % p;
    if (i === j) return Number.isNaN(value) ? Number.NaN : 1;
    return value / Math.sqrt(covariance[i * p + i] * covariance[j * p + j]);
  });
}
