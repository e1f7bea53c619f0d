import { choleskyFactor, choleskyInverse } from "../../numerics/index.js";
import { mirrored } from "../operators/mirror-sectors.js";
import type { RasterModel } from "../operators/raster-model.js";

/**
 * Standard deviation of every voxel of the linear estimate from white noise of the rows.
 *   cov(ĉ) = σ² M N M,  N = AᵀA, M = (N + λI)⁻¹,  M N M = M − λ M²
 * A voxel meets each mirror sector in one component only, so its variance is a weighted sum of sector diagonals.
 *
 * @param rowNoise_V  σ, sd of one row, V
 * @returns [voxels], kg/m³, in the operator's internal order
 *
 * Valid for   coil noise in the patches. The noise of the empties is common to many patches; it enters region budgets
 *             exactly (`noiseCovariance`), not this map.
 * Source      closed form of linear Tikhonov inversion; derived
 * Checked by  voxel-variance.test.ts (replicas)
 */
export function voxelStandardDeviation(model: RasterModel, weight: number, rowNoise_V: number): Float64Array {
  const [nb, na, nd] = model.sectors.columns;
  const out = new Float64Array(nb * na * nd);
  for (const { a, b, d, gram, size } of model.sectors.sectors) {
    const diagonal = sectorVariance(gram, size, weight);
    let k = 0;
    for (const ib of b.representatives)
      for (const ia of a.representatives)
        for (const id of d.representatives) {
          const images = [
            [ib, mirrored(b, ib)],
            [ia, mirrored(a, ia)],
            [id, mirrored(d, id)],
          ].map((pair) => [...new Set(pair)]);
          const share = diagonal[k++] / images.reduce((product, { length }) => product * length, 1);
          for (const jb of images[0])
            for (const ja of images[1]) for (const jd of images[2]) out[(jb * na + ja) * nd + jd] += share;
        }
  }
  return out.map((variance) => rowNoise_V * Math.sqrt(Math.max(0, variance)));
}

/** diag(M − λ M²) */
function sectorVariance(gram: Float64Array, n: number, weight: number): Float64Array {
  const damped = gram.slice();
  for (let i = 0; i < n; i++) damped[i * n + i] += weight;
  const factor = choleskyFactor(damped, n);
  if (factor === undefined) return new Float64Array(n).fill(Number.NaN);
  const inverse = choleskyInverse(factor, n);
  return Float64Array.from({ length: n }, (_, i) => {
    let square = 0;
    for (let j = 0; j < n; j++) square += inverse[i * n + j] ** 2;
    return inverse[i * n + i] - weight * square;
  });
}
