import { fullRasterOperator, type RasterGeometry, rasterSizes } from "../../src/imaging/index.js";
import { choleskyFactor, choleskyInverse, choleskySolve } from "../../src/numerics/index.js";

/**
 * The slow twin of the inversion: the operator's columns one by one on all rows, AᵀA written out, Cholesky.
 * It knows nothing of spectra, compression, mirror sectors or iterations.
 */
export interface DenseNormal {
  readonly rows: number;
  readonly voxels: number;
  /** [voxels × rows] the columns of A, one after the other */
  readonly columns: Float64Array;
  /** [voxels × voxels] AᵀA */
  readonly normal: Float64Array;
}

export function denseNormal(geometry: RasterGeometry): DenseNormal {
  const operator = fullRasterOperator(geometry);
  const { voxels, data: rows } = rasterSizes(geometry);
  const columns = new Float64Array(voxels * rows);
  const unit = new Float64Array(voxels);
  for (let j = 0; j < voxels; j++) {
    unit.fill(0);
    unit[j] = 1;
    columns.set(operator.forward(unit), j * rows);
  }
  const normal = new Float64Array(voxels * voxels);
  for (let i = 0; i < voxels; i++)
    for (let j = 0; j <= i; j++) {
      let sum = 0;
      for (let k = 0; k < rows; k++) sum += columns[i * rows + k] * columns[j * rows + k];
      normal[i * voxels + j] = sum;
      normal[j * voxels + i] = sum;
    }
  return { rows, voxels, columns, normal };
}

export const meanDiagonal = ({ normal, voxels }: DenseNormal): number =>
  Array.from({ length: voxels }, (_, i) => normal[i * voxels + i]).reduce((sum, value) => sum + value, 0) / voxels;

function damped({ normal, voxels }: DenseNormal, weight: number): Float64Array {
  const matrix = normal.slice();
  for (let i = 0; i < voxels; i++) matrix[i * voxels + i] += weight;
  const factor = choleskyFactor(matrix, voxels);
  if (factor === undefined) throw new Error("the dense normal matrix is not positive definite");
  return factor;
}

/** (AᵀA + λI)⁻¹ w */
export const denseSolve = (dense: DenseNormal, weight: number, w: Float64Array): Float64Array =>
  choleskySolve(damped(dense, weight), w);

/** Aᵀ y */
export function denseAdjoint({ columns, rows, voxels }: DenseNormal, y: Float64Array): Float64Array {
  return Float64Array.from({ length: voxels }, (_, j) => {
    let sum = 0;
    for (let k = 0; k < rows; k++) sum += columns[j * rows + k] * y[k];
    return sum;
  });
}

/** (AᵀA + λI)⁻¹ AᵀA (AᵀA + λI)⁻¹: the covariance of the estimate for unit white noise. */
export function denseCovariance(dense: DenseNormal, weight: number): Float64Array {
  const { normal, voxels: n } = dense;
  const inverse = choleskyInverse(damped(dense, weight), n);
  const product = (a: Float64Array, b: Float64Array) => {
    const out = new Float64Array(n * n);
    for (let i = 0; i < n; i++)
      for (let k = 0; k < n; k++) for (let j = 0; j < n; j++) out[i * n + j] += a[i * n + k] * b[k * n + j];
    return out;
  };
  return product(product(inverse, normal), inverse);
}
