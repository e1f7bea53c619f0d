import { FerruleError } from "../../errors.js";
import { type Axis, axes } from "../../physics/index.js";

/** Equidistant positions along an axis, m. */
export interface Positions {
  readonly from_m: number;
  readonly step_m: number;
  readonly count: number;
}

/**
 * Line raster with one drive axis: the field-free point oscillates along the drive axis around the centre of a patch
 * (a partial field of view) while slow shift fields step it over lines in the two other axes.
 *
 * Order of acquisition: slow axis B (outer), slow axis A, patch along the drive axis (inner). After every
 * `patchesPerEmpty` patches, and at both ends, a block of `framesPerEmpty` empty frames is recorded.
 */
export interface LineRaster {
  readonly driveAxis: Axis;
  readonly driveAmplitude_T: number;
  readonly frequency_Hz: number;
  readonly samplesPerPeriod: number;
  /** Periods averaged into one frame. */
  readonly periodsPerFrame: number;
  /** Time lost when the shift field steps, s. */
  readonly settle_s: number;
  readonly lines: Readonly<Record<"a" | "b", Positions>>;
  readonly patches: Positions;
  readonly patchesPerEmpty: number;
  readonly framesPerEmpty: number;
}

/** The two slow axes (a, b) of a drive axis, in the order x, y, z. */
export function slowAxes(driveAxis: Axis): readonly [Axis, Axis] {
  const [a, b] = axes.filter((axis) => axis !== driveAxis);
  return [a, b];
}

export const positionAt = ({ from_m, step_m }: Positions, index: number): number => from_m + step_m * index;

export interface RasterFrame {
  /** Index of the patch frame in [line b][line a][patch] order, or -1 for an empty frame. */
  readonly patch: number;
  /** Index of the block of empties, or -1. */
  readonly emptyBlock: number;
  /** Middle of the frame, s after the start. */
  readonly time_s: number;
}

/** Every frame in the order of acquisition, with wall-clock times that include empties and settling. */
export function rasterFrames(raster: LineRaster): RasterFrame[] {
  checkRaster(raster);
  const { lines, patches, patchesPerEmpty, framesPerEmpty, settle_s } = raster;
  const frame_s = raster.periodsPerFrame / raster.frequency_Hz;
  const frames: RasterFrame[] = [];
  let time_s = 0;
  const record = (patch: number, emptyBlock: number) => {
    frames.push({ patch, emptyBlock, time_s: time_s + frame_s / 2 });
    time_s += frame_s;
  };
  let block = 0;
  const empties = () => {
    time_s += settle_s;
    for (let i = 0; i < framesPerEmpty; i++) record(-1, block);
    block++;
  };
  empties();
  const patchCount = lines.a.count * lines.b.count * patches.count;
  for (let patch = 0; patch < patchCount; patch++) {
    time_s += settle_s;
    record(patch, -1);
    if ((patch + 1) % patchesPerEmpty === 0 || patch === patchCount - 1) empties();
  }
  return frames;
}

/** Wall-clock time of the whole raster, s: empties and moves included. */
export function scanTime_s(raster: LineRaster): number {
  const frames = rasterFrames(raster);
  return frames[frames.length - 1].time_s + raster.periodsPerFrame / raster.frequency_Hz / 2;
}

/** Drive field cos(θ_j) at the samples of a period, θ_j = 2π(j + 1/2)/N; the half keeps every sample off the turning points. */
export function driveCosines(samplesPerPeriod: number): Float64Array {
  return Float64Array.from({ length: samplesPerPeriod }, (_, j) => Math.cos(drivePhase(j, samplesPerPeriod)));
}

export const drivePhase = (sample: number, samplesPerPeriod: number): number =>
  (2 * Math.PI * (sample + 0.5)) / samplesPerPeriod;

export function checkRaster(raster: LineRaster): void {
  const refuse = (path: string, found: string, accepted: string): never => {
    throw new FerruleError("InvalidValue", { path, found, accepted });
  };
  const { samplesPerPeriod: n, lines, patches } = raster;
  if (!Number.isInteger(n) || n < 8 || n % 2 !== 0)
    refuse("sampling.rate", `${n} samples per drive period`, "an even whole number of at least 8");
  for (const [name, { count, step_m }] of Object.entries({ a: lines.a, b: lines.b, patches }))
    if (!Number.isInteger(count) || count < 1 || (count > 1 && !(step_m > 0)))
      refuse(`raster.${name}`, `${count} positions ${step_m} m apart`, "at least one position, and a positive step");
  if (!(raster.driveAmplitude_T > 0))
    refuse("drive.amplitude", `${raster.driveAmplitude_T} T`, "a positive peak field");
  if (!Number.isInteger(raster.patchesPerEmpty) || raster.patchesPerEmpty < 1)
    refuse("empties.every", String(raster.patchesPerEmpty), "a whole number of at least 1");
  if (!Number.isInteger(raster.framesPerEmpty) || raster.framesPerEmpty < 2)
    refuse(
      "empties.periods",
      String(raster.framesPerEmpty),
      "at least 2 frames, so that noise and drift can be told apart",
    );
}
