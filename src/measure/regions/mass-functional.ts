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
  /** On all rows, [lines × patches × harmonics], kg per V */
  readonly z: Float64Array;
  /** The same on the compressed rows of the model. */
  readonly compressed: Float64Array;
}

export function massFunctional(
  { operator, compression }: RasterModel,
  solver: TikhonovSolver,
  { label, weights }: { label: string; weights: Float64Array },
): MassFunctional {
  const compressed = operator.forward(solver.solveNormal(weights).estimate);
  return { label, compressed, z: expandData(compressed, compression) };
}

/** Σ_j w_j z_j as a functional of its own. */
export function combineFunctionals(
  label: string,
  functionals: readonly MassFunctional[],
  weights: readonly number[],
): MassFunctional {
  const mix = (pick: (functional: MassFunctional) => Float64Array) => {
    const out = new Float64Array(pick(functionals[0]).length);
    functionals.forEach((functional, j) => {
      const part = pick(functional);
      for (let i = 0; i < out.length; i++) out[i] += weights[j] * part[i];
    });
    return out;
  };
  return { label, z: mix(({ z }) => z), compressed: mix(({ compressed }) => compressed) };
}

/** zᵀ y: the mass, kg. */
export const applyFunctional = ({ z }: MassFunctional, y: Float64Array): number => innerProduct(z, y);

export function innerProduct(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i] * b[i];
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
  const blocksA = spreadOverBlocks(a.z, scan, basis);
  const blocksB = a === b ? blocksA : spreadOverBlocks(b.z, scan, basis);
  return perHarmonic * (innerProduct(a.z, b.z) + innerProduct(blocksA, blocksB) / scan.framesPerEmpty);
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
