import { afterIterations, conjugateGradient, firstOf, residualBelow, run, sizeOf } from "../../numerics/index.js";
import { factorSectors } from "../operators/raster-factor.js";
import type { RasterModel } from "../operators/raster-model.js";

export interface TikhonovOptions {
  /** λ_rel: λ as a fraction of trace(AᵀA)/voxels. */
  readonly relativeWeight: number;
  /** Relative residual of the normal equations at which the solution counts as converged. */
  readonly tolerance?: number;
  readonly maximumIterations?: number;
}

export interface Solved {
  /** [voxels], in the operator's internal order */
  readonly estimate: Float64Array;
  readonly iterations: number;
  readonly outcome: "converged" | "iteration-limit" | "diverged" | "cancelled";
  /** ‖w − (AᵀA + λI)x‖ / ‖w‖ */
  readonly relativeResidual: number;
}

export interface TikhonovSolver {
  readonly relativeWeight: number;
  readonly weight: number;
  /** ĉ = (AᵀA + λI)⁻¹ Aᵀ y for compressed data y, kg Fe/m³ */
  invert(y: Float64Array): Solved;
  /** (AᵀA + λI)⁻¹ w for a voxel function w */
  solveNormal(w: Float64Array): Solved;
}

/**
 * Linear Tikhonov inversion of a line raster, by conjugate gradients to convergence.
 *   ĉ = argmin ‖A c − y‖² + λ ‖c‖²,  λ = λ_rel · trace(AᵀA)/voxels
 *
 * The mirror-sector factorisation preconditions the iteration, so that two or three steps reach rounding; the iteration
 * itself uses only the operator, so a fault of the factorisation shows as a count, not as a wrong map.
 * Noise is white over the rows with one sd, so rows carry no weights. The estimate is linear in y and unconstrained: it is
 * signed, and its covariance is closed.
 *
 * Source      relative weight: facts S14 (common practice)
 * Checked by  tikhonov.test.ts (dense normal equations of the operator's own columns; plain conjugate gradients)
 */
export function tikhonov({ operator, sectors, columnEnergy }: RasterModel, options: TikhonovOptions): TikhonovSolver {
  const { relativeWeight, tolerance = 1e-10, maximumIterations = 200 } = options;
  const weight = relativeWeight * columnEnergy;
  const factor = factorSectors(sectors, weight);
  const preconditioner = (r: Float64Array, out?: Float64Array) => {
    const solved = factor(r);
    if (out === undefined) return solved;
    out.set(solved);
    return out;
  };
  const data = new Float64Array(sizeOf(operator.range));
  const normal = (x: Float64Array, out: Float64Array = new Float64Array(x.length)) => {
    operator.adjoint(operator.forward(x, data), out);
    for (let i = 0; i < out.length; i++) out[i] += weight * x[i];
    return out;
  };
  const solveNormal = (w: Float64Array): Solved => {
    const stop = firstOf(residualBelow(tolerance), afterIterations(maximumIterations));
    const result = run(conjugateGradient(normal, w, { preconditioner }), stop);
    const { estimate, iterations, outcome, residualNorm } = result;
    return { estimate: estimate.slice(), iterations, outcome, relativeResidual: residualNorm / norm(w) };
  };
  return { relativeWeight, weight, solveNormal, invert: (y) => solveNormal(operator.adjoint(y)) };
}

const norm = (x: Float64Array) => Math.sqrt(x.reduce((sum, value) => sum + value * value, 0)) || 1;
