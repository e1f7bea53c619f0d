import { afterIterations, conjugateGradient, firstOf, residualBelow, run, sizeOf } from "../../numerics/index.js";
import type { LineRasterOperator } from "../operators/line-raster-operator.js";
import { meanColumnEnergy } from "../operators/raster-spectrum.js";

export interface TikhonovOptions {
  /** λ_rel: λ as a fraction of trace(AᵀA)/voxels. */
  readonly relativeWeight: number;
  /** Relative residual of the normal equations at which the solution counts as converged. */
  readonly tolerance?: number;
  readonly maximumIterations?: number;
  readonly signal?: AbortSignal;
}

export interface Solved {
  /** [voxels], in the operator's internal order */
  readonly estimate: Float64Array;
  readonly iterations: number;
  readonly outcome: "converged" | "iteration-limit" | "diverged" | "cancelled";
  readonly residualNorm: number;
}

export interface TikhonovSolver {
  readonly weight: number;
  /** ĉ = (AᵀA + λI)⁻¹ Aᵀ y, kg Fe/m³ */
  invert(y: Float64Array): Solved;
  /** (AᵀA + λI)⁻¹ w for a voxel function w */
  solveNormal(w: Float64Array): Solved;
}

/**
 * Linear Tikhonov inversion of a line raster, by conjugate gradients to convergence.
 *   ĉ = argmin ‖A c − y‖² + λ ‖c‖²,  λ = λ_rel · trace(AᵀA)/voxels
 *
 * Noise is white over the harmonics with one sd, so rows carry no weights. The estimate is linear in y and unconstrained:
 * it is signed, and its covariance is closed.
 *
 * Source      relative weight: facts S14 (common practice)
 * Checked by  tikhonov.test.ts (against a dense Cholesky solution)
 */
export function tikhonov(operator: LineRasterOperator, options: TikhonovOptions): TikhonovSolver {
  const { relativeWeight, tolerance = 1e-8, maximumIterations = 500, signal } = options;
  const weight = relativeWeight * meanColumnEnergy(operator.spectrum);
  const data = new Float64Array(sizeOf(operator.range));
  const normal = (x: Float64Array, out: Float64Array = new Float64Array(x.length)) => {
    operator.adjoint(operator.forward(x, data), out);
    for (let i = 0; i < out.length; i++) out[i] += weight * x[i];
    return out;
  };
  const solveNormal = (w: Float64Array): Solved => {
    const stop = firstOf(residualBelow(tolerance), afterIterations(maximumIterations));
    const { estimate, iterations, outcome, residualNorm } = run(conjugateGradient(normal, w), stop, {
      signal,
    });
    return { estimate: estimate.slice(), iterations, outcome, residualNorm };
  };
  return { weight, solveNormal, invert: (y) => solveNormal(operator.adjoint(y)) };
}
