import { finishSteps, partOf, type Steps } from "../../numerics/index.js";
import { type LineRasterOperator, lineRasterOperator } from "./line-raster-operator.js";
import { type NormalSectors, normalTrace, sectorSteps } from "./raster-factor.js";
import { type RasterGeometry, rasterSizes } from "./raster-geometry.js";
import { kernelSteps } from "./raster-kernels.js";
import { buildSpectrum } from "./raster-spectrum.js";
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

export function* rasterModelSteps(geometry: RasterGeometry): Steps<RasterModel> {
  const full = yield* partOf(kernelSteps(geometry), 0, 0.4);
  const compressed = compressRows(geometry, full);
  yield 0.5;
  const spectrum = buildSpectrum(geometry, compressed.kernels);
  const sectors = yield* partOf(sectorSteps(geometry, compressed), 0.5, 1);
  return {
    geometry,
    operator: lineRasterOperator(geometry, spectrum),
    compression: compressed.compression,
    sectors,
    columnEnergy: normalTrace(sectors) / rasterSizes(geometry).voxels,
  };
}

/** The same at once. */
export const rasterModel = (geometry: RasterGeometry): RasterModel => finishSteps(rasterModelSteps(geometry));

/** The forward operator alone, on all rows: for asking what another tracer would have given. */
export function fullRasterOperator(geometry: RasterGeometry): LineRasterOperator {
  return lineRasterOperator(geometry, buildSpectrum(geometry, finishSteps(kernelSteps(geometry))));
}
