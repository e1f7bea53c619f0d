import {
  expandData,
  type PeriodBasis,
  type PreparedScan,
  type RasterModel,
  type TikhonovSolver,
} from "../../imaging/index.js";

/**
 * The mass of a region as one linear functional of the measured voltage harmonics.
 *   m̂ = wᵀ ĉ = zᵀ y,  z = A (AᵀA + λI)⁻¹ w
 * With z in hand a region's mass is an inner product, and its variance is closed: no voxel map enters it, so correlated
 * voxel noise is accounted for exactly.
 */
export interface MassFunctional {
  readonly label: string;
  /** [data] kg per V */
  readonly z: Float64Array;
  readonly iterations: number;
}

export function massFunctional(
  { operator, compression }: RasterModel,
  solver: TikhonovSolver,
  { label, weights }: { label: string; weights: Float64Array },
): MassFunctional {
  const { estimate, iterations } = solver.solveNormal(weights);
  return { label, z: expandData(operator.forward(estimate), compression), iterations };
}

/** zᵀ y: the mass, kg. */
export function applyFunctional({ z }: MassFunctional, y: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < z.length; i++) sum += z[i] * y[i];
  return sum;
}

/**
 * Covariance of two functionals from coil noise in patches and empties.
 *   σ_h² [ z₁ᵀz₂ + (1/K) Σ_blocks (Wᵀz₁)ᵀ(Wᵀz₂) ],  σ_h = σ √(2/N)
 * K frames a block; W distributes each block's noise to the patches it is subtracted from (common to all of them).
 *
 * @returns kg²
 */
export function noiseCovariance(a: MassFunctional, b: MassFunctional, scan: PreparedScan, basis: PeriodBasis): number {
  const perHarmonic = (scan.noise_V ** 2 * 2) / basis.samplesPerPeriod;
  let direct = 0;
  for (let i = 0; i < a.z.length; i++) direct += a.z[i] * b.z[i];
  const blocksA = spreadOverBlocks(a.z, scan, basis);
  const blocksB = a === b ? blocksA : spreadOverBlocks(b.z, scan, basis);
  let common = 0;
  for (let i = 0; i < blocksA.length; i++) common += blocksA[i] * blocksB[i];
  return perHarmonic * (direct + common / scan.framesPerEmpty);
}

/** Wᵀ z: [blocks × harmonics] */
function spreadOverBlocks(z: Float64Array, { emptyWeights, blocks }: PreparedScan, basis: PeriodBasis): Float64Array {
  const kept = basis.last - basis.first + 1;
  const out = new Float64Array(blocks * kept);
  for (let p = 0; p < emptyWeights.block.length; p++) {
    const block = emptyWeights.block[p];
    const late = emptyWeights.late[p];
    for (let h = 0; h < kept; h++) {
      out[block * kept + h] += (1 - late) * z[p * kept + h];
      out[(block + 1) * kept + h] += late * z[p * kept + h];
    }
  }
  return out;
}

/**
 * Variance that background drift between the empties adds to a functional, kg².
 *
 * Each interior block's miss by its neighbours' interpolation, less its own noise, shows how far the background strays
 * from a straight line over twice the gap. Over one gap a smooth drift strays a quarter, a random walk half of that
 * variance: half is taken. The stray is a parabola over the gap, common to its patches, and independent between gaps.
 */
export function driftVariance(functional: MassFunctional, scan: PreparedScan, basis: PeriodBasis): number {
  const kept = basis.last - basis.first + 1;
  const n = basis.samplesPerPeriod;
  const misses = scan.leaveOneOut.length / n;
  if (misses === 0) return Number.NaN;
  const gaps = new Float64Array((scan.blocks - 1) * kept);
  for (let p = 0; p < scan.emptyWeights.block.length; p++) {
    const late = scan.emptyWeights.late[p];
    const bump = 4 * late * (1 - late);
    for (let h = 0; h < kept; h++) gaps[scan.emptyWeights.block[p] * kept + h] += bump * functional.z[p * kept + h];
  }
  const harmonics = new Float64Array(misses * kept);
  for (let b = 0; b < misses; b++)
    for (let h = 0; h < kept; h++)
      for (let j = 0; j < n; j++) harmonics[b * kept + h] += basis.sine[h * n + j] * scan.leaveOneOut[b * n + j];
  const noise = (1.5 * scan.noise_V ** 2 * 2) / n / scan.framesPerEmpty;
  let total = 0;
  for (let g = 0; g < scan.blocks - 1; g++) {
    let squares = 0;
    let own = 0;
    for (let b = 0; b < misses; b++) {
      let inner = 0;
      for (let h = 0; h < kept; h++) inner += gaps[g * kept + h] * harmonics[b * kept + h];
      squares += inner * inner;
    }
    for (let h = 0; h < kept; h++) own += noise * gaps[g * kept + h] ** 2;
    total += squares / misses - own;
  }
  return Math.max(0, total / 2);
}
