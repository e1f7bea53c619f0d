import { type LineRasterOperator, lineRasterOperator } from "./line-raster-operator.js";
import { type NormalSectors, normalSectors } from "./raster-factor.js";
import type { RasterGeometry } from "./raster-geometry.js";
import { buildKernels } from "./raster-kernels.js";
import { buildSpectrum, meanColumnEnergy } from "./raster-spectrum.js";
import { compressRows, type RowCompression } from "./row-compression.js";

/** A line raster ready for inversion: operator on compressed rows, the compression, the factored normal equations. */
export interface RasterModel {
  readonly geometry: RasterGeometry;
  readonly operator: LineRasterOperator;
  readonly compression: RowCompression;
  readonly sectors: NormalSectors;
  /** trace(AᵀA)/voxels, (V per kg/m³)² */
  readonly columnEnergy: number;
}

export function rasterModel(
  geometry: RasterGeometry,
  { onProgress }: { onProgress?: (fraction: number) => void } = {},
): RasterModel {
  const full = buildKernels(geometry, { onProgress: (fraction) => onProgress?.(fraction / 2) });
  const compressed = compressRows(geometry, full);
  const spectrum = buildSpectrum(geometry, compressed.kernels);
  const sectors = normalSectors(geometry, compressed, { onProgress: (fraction) => onProgress?.(0.5 + fraction / 2) });
  return {
    geometry,
    operator: lineRasterOperator(geometry, spectrum),
    compression: compressed.compression,
    sectors,
    columnEnergy: meanColumnEnergy(spectrum),
  };
}

/** The forward operator alone, on all rows: for asking what another tracer would have given. */
export function fullRasterOperator(geometry: RasterGeometry): LineRasterOperator {
  return lineRasterOperator(geometry, buildSpectrum(geometry, buildKernels(geometry)));
}
