import type { LineRaster, RasterGeometry } from "../../src/imaging/index.js";
import {
  type Axis,
  axisIndex,
  coreMaterials,
  ensembleResponse,
  momentPerIron_A_m2_per_kg,
  type ParticleEnsemble,
  type StaticResponse,
} from "../../src/physics/index.js";

/** The tracer of the fact sheet: 25 nm, 446 kA/m, 300 K, magnetite. */
export const tracer25: ParticleEnsemble = {
  sizes: { kind: "single", diameter_m: 25e-9 },
  saturation_A_per_m: 446e3,
  temperature_K: 300,
};
export const momentPerIron = momentPerIron_A_m2_per_kg(446e3, coreMaterials.magnetite);
export const response25: StaticResponse = ensembleResponse(tracer25, momentPerIron);

/** A field-free point, 7 T/m along z, and a receive coil of 20 mm radius at its centre (facts N13). */
export const pointGradient = [-3.5, -3.5, 7] as const;
export const loop20mm_T_per_A = 3.141592653589793e-5;

interface Small {
  readonly driveAxis?: Axis;
  /** Lines along the slow axes a and b. */
  readonly linesA?: number;
  readonly linesB?: number;
  readonly pitch_m?: number;
  readonly patches?: number;
  readonly patchStep_m?: number;
  readonly samplesPerPeriod?: number;
  readonly marginLines?: number;
  /** Voxels along the drive axis, centred on the patches. */
  readonly depth?: number;
  readonly voxelStep_m?: number;
  readonly lastHarmonic?: number;
  readonly patchesPerEmpty?: number;
  readonly framesPerEmpty?: number;
}

/** A raster centred on the origin, small enough for dense algebra; each default may be replaced. */
export function smallGeometry({
  driveAxis = "z",
  linesA = 4,
  linesB = 3,
  pitch_m = 2e-3,
  patches = 3,
  patchStep_m = 0.7 * (0.02 / Math.abs(pointGradient[axisIndex(driveAxis)])),
  samplesPerPeriod = 64,
  marginLines = 0,
  depth = 8,
  voxelStep_m = 1e-3,
  lastHarmonic = 9,
  patchesPerEmpty = 5,
  framesPerEmpty = 4,
}: Small = {}): RasterGeometry {
  const centred = (count: number, step_m: number) => ({ from_m: (-(count - 1) * step_m) / 2, step_m, count });
  const raster: LineRaster = {
    driveAxis,
    driveAmplitude_T: 0.02,
    frequency_Hz: 25e3,
    samplesPerPeriod,
    periodsPerFrame: 50,
    settle_s: 1e-3,
    lines: { a: centred(linesA, pitch_m), b: centred(linesB, pitch_m) },
    patches: centred(patches, patchStep_m),
    patchesPerEmpty,
    framesPerEmpty,
  };
  return {
    raster,
    gradient_T_per_m: pointGradient,
    sensitivity_T_per_A: loop20mm_T_per_A,
    response: response25,
    harmonics: { first: 2, last: lastHarmonic },
    voxels: { marginLines, drive: centred(depth, voxelStep_m) },
  };
}
