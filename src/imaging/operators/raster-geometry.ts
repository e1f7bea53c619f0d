import { FerruleError } from "../../errors.js";
import { axisIndex, type StaticResponse } from "../../physics/index.js";
import { type LineRaster, type Positions, positionAt, slowAxes } from "../acquisition/line-raster.js";

/**
 * Everything that fixes how iron becomes voltage in a line raster: where the lines and patches are, which voxels may
 * hold iron, which harmonics are kept, and the physics between them.
 *
 * Voxel columns lie on the lines' own pitch and may reach `marginLines` beyond them on each side, so that iron outside
 * the measured lines has a place to go. Internal order of voxels: [b][a][d] with the drive axis d fastest.
 */
export interface RasterGeometry {
  readonly raster: LineRaster;
  /** Diagonal gradient, T/m, in axis order x, y, z. */
  readonly gradient_T_per_m: readonly [number, number, number];
  /** B_R/I times the coil's polarity, T/A. */
  readonly sensitivity_T_per_A: number;
  readonly response: StaticResponse;
  /** First and last harmonic of the drive that are kept; the fundamental (1) is lost to the receive filter. */
  readonly harmonics: { readonly first: number; readonly last: number };
  readonly voxels: { readonly marginLines: number; readonly drive: Positions };
}

export interface RasterSizes {
  readonly linesA: number;
  readonly linesB: number;
  readonly columnsA: number;
  readonly columnsB: number;
  readonly depth: number;
  readonly patches: number;
  readonly harmonics: number;
  /** Numbers measured per line: patches × harmonics. */
  readonly rows: number;
  readonly voxels: number;
  readonly data: number;
}

export function rasterSizes({ raster, harmonics, voxels }: RasterGeometry): RasterSizes {
  const kept = harmonics.last - harmonics.first + 1;
  if (harmonics.first < 2 || kept < 1 || harmonics.last > raster.samplesPerPeriod / 2 - 1)
    throw new FerruleError("InvalidValue", {
      path: "reconstruction.harmonics",
      found: `harmonics ${harmonics.first} to ${harmonics.last} of a period with ${raster.samplesPerPeriod} samples`,
      accepted: `2 to at most ${raster.samplesPerPeriod / 2 - 1}, the first not above the last`,
    });
  const [linesA, linesB] = [raster.lines.a.count, raster.lines.b.count];
  const [columnsA, columnsB] = [linesA + 2 * voxels.marginLines, linesB + 2 * voxels.marginLines];
  const depth = voxels.drive.count;
  if (!Number.isInteger(voxels.marginLines) || columnsA < 1 || columnsB < 1)
    throw new FerruleError("InvalidValue", {
      path: "reconstruction.marginLines",
      found: `a margin of ${voxels.marginLines} around ${linesA} by ${linesB} lines`,
      accepted: "a whole number that leaves at least one column of voxels, e.g. 0",
    });
  if (!Number.isInteger(depth) || depth < 1 || !(voxels.drive.step_m > 0))
    throw new FerruleError("InvalidValue", {
      path: "reconstruction.voxelsAlongDrive",
      found: `${depth} voxels ${voxels.drive.step_m} m apart`,
      accepted: "at least one voxel and a positive edge, e.g. 40 voxels of 0.5 mm",
    });
  const rows = raster.patches.count * kept;
  return {
    linesA,
    linesB,
    columnsA,
    columnsB,
    depth,
    patches: raster.patches.count,
    harmonics: kept,
    rows,
    voxels: columnsA * columnsB * depth,
    data: linesA * linesB * rows,
  };
}

/** Voxel edges along a, b, d in metres. A single line has the other slow axis' pitch. */
export function voxelSize_m({ raster, voxels }: RasterGeometry): readonly [number, number, number] {
  const { a, b } = raster.lines;
  const [edgeA, edgeB] = [a.count > 1 ? a.step_m : b.step_m, b.count > 1 ? b.step_m : a.step_m];
  if (!(edgeA > 0 && edgeB > 0))
    throw new FerruleError("InvalidValue", {
      path: "raster.lines",
      found: `voxels of ${edgeA} m by ${edgeB} m across the lines`,
      accepted: "a positive step along at least one slow axis (it sizes the voxels of both), e.g. 1.25 mm",
    });
  return [edgeA, edgeB, voxels.drive.step_m];
}

export function voxelVolume_m3(geometry: RasterGeometry): number {
  const [a, b, d] = voxelSize_m(geometry);
  return a * b * d;
}

/** Centre of voxel (ia, ib, id) in world coordinates x, y, z. */
export function voxelCenter_m(geometry: RasterGeometry, ia: number, ib: number, id: number): [number, number, number] {
  const { raster, voxels } = geometry;
  const [axisA, axisB] = slowAxes(raster.driveAxis);
  const [edgeA, edgeB] = voxelSize_m(geometry);
  const point: [number, number, number] = [0, 0, 0];
  // The edge, not the step: a single line has no step of its own.
  point[axisIndex(axisA)] = raster.lines.a.from_m + edgeA * (ia - voxels.marginLines);
  point[axisIndex(axisB)] = raster.lines.b.from_m + edgeB * (ib - voxels.marginLines);
  point[axisIndex(raster.driveAxis)] = positionAt(voxels.drive, id);
  return point;
}
