import {
  compressData,
  type PreparedScan,
  periodBasis,
  projectFrames,
  type RasterModel,
  subtractEmpties,
} from "../../imaging/index.js";

/** A scan ready for inversion. */
export interface ScanRows {
  readonly prepared: PreparedScan;
  /** In-phase harmonics of every patch, V */
  readonly harmonics: Float64Array;
  /** The same on the model's compressed rows, V */
  readonly rows: Float64Array;
  /** sd of one harmonic (and of one compressed row) from the patch's own noise, V */
  readonly rowNoise_V: number;
  /** The same with the noise of the subtracted empties: what a row scatters by in all, V */
  readonly totalRowNoise_V: number;
  /** rms of the out-of-phase harmonics over `rowNoise_V`: 1 for an adiabatic tracer and a clean background */
  readonly quadratureRatio: number;
}

/** Background subtraction, harmonics in phase with the velocity, compression. */
export function voltageRows(voltage: Float64Array, { geometry, compression }: RasterModel): ScanRows {
  const { raster, harmonics } = geometry;
  const basis = periodBasis(raster.samplesPerPeriod, harmonics.first, harmonics.last);
  const prepared = subtractEmpties(voltage, raster);
  const inPhase = projectFrames(prepared.frames, basis.sine, raster.samplesPerPeriod);
  const quadrature = projectFrames(prepared.frames, basis.cosine, raster.samplesPerPeriod);
  const rowNoise_V = prepared.noise_V * Math.sqrt(2 / raster.samplesPerPeriod);
  const rms = Math.sqrt(quadrature.reduce((sum, value) => sum + value * value, 0) / quadrature.length);
  return {
    prepared,
    harmonics: inPhase,
    rows: compressData(inPhase, compression),
    rowNoise_V,
    totalRowNoise_V: rowNoise_V * Math.sqrt(1 + emptiesShare(prepared)),
    quadratureRatio: rms / rowNoise_V,
  };
}

/** Mean variance that the subtracted empties add to a patch, relative to the patch's own: ((1 − l)² + l²)/K. */
function emptiesShare({ emptyWeights: { late }, framesPerEmpty }: PreparedScan): number {
  return late.reduce((sum, l) => sum + (1 - l) ** 2 + l ** 2, 0) / late.length / framesPerEmpty;
}
