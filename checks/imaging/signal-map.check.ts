import { describe, expect, it } from "vitest";
import {
  cutIntoPoints,
  directSummation,
  type IronObject,
  nativeSignalMap,
  type PointSources,
  type RasterGeometry,
  rasterSizes,
  removeFundamental,
  voxelCenter_m,
  voxelVolume_m3,
} from "../../src/imaging/index.js";
import { type Axis, axisIndex, initialSlope_per_T } from "../../src/physics/index.js";
import { momentPerIron, pointGradient, smallGeometry, tracer25 } from "./small-raster.js";
import { truth } from "./truth.js";

const n = 4000;
const point: IronObject = { kind: "point", center_m: [0, 0, 0], iron_kg: 1e-12 };
const cut = (object: IronObject) => cutIntoPoints([object], [0.4e-3, 0.4e-3, 0.2e-3]);

/** Lines along one slow axis only, through the origin, 0.1 mm apart; bins of 0.02 mm along the drive. */
function cross(driveAxis: "x" | "z", slow: "a" | "b"): RasterGeometry {
  const reach_m = 0.02 / Math.abs(pointGradient[axisIndex(driveAxis)]);
  const voxelStep_m = 0.02e-3;
  const patches = driveAxis === "z" ? 9 : 5;
  const depth = 2 * Math.floor(((patches - 1) * 0.35 * reach_m + 0.99 * reach_m) / voxelStep_m) + 1;
  const lines = 41;
  return smallGeometry({
    driveAxis,
    linesA: slow === "a" ? lines : 1,
    linesB: slow === "b" ? lines : 1,
    pitch_m: 0.1e-3,
    patches,
    samplesPerPeriod: n,
    depth,
    voxelStep_m,
  });
}

function mapOf(points: PointSources, geometry: RasterGeometry, isFiltered: boolean): Float64Array {
  const voltage = directSummation(points, geometry);
  if (isFiltered) removeFundamental(voltage, geometry.raster.samplesPerPeriod);
  return nativeSignalMap(voltage, geometry);
}

/** Full width at half maximum about the middle of a profile, by linear interpolation. */
function fullWidth(profile: Float64Array, step_mm: number): number {
  const middle = (profile.length - 1) / 2;
  const half = profile[middle] / 2;
  const reach = (direction: 1 | -1) => {
    let k = 0;
    while (profile[middle + direction * (k + 1)] > half) k++;
    const [inside, outside] = [profile[middle + direction * k], profile[middle + direction * (k + 1)]];
    return k + (inside - half) / (inside - outside);
  };
  return (reach(1) + reach(-1)) * step_mm;
}

describe("native widths of a point, surprise 1 (gradients -3.5, -3.5, 7 T/m)", () => {
  for (const driveAxis of ["z", "x"] as const)
    for (const isFiltered of [false, true])
      for (const slow of ["a", "b"] as const) {
        const across = (["x", "y", "z"] as Axis[]).filter((axis) => axis !== driveAxis)[slow === "a" ? 0 : 1];
        it(`drive ${driveAxis}, along and across ${across}, ${isFiltered ? "fundamental lost and recovered" : "whole"}`, () => {
          const geometry = cross(driveAxis, slow);
          const { depth } = rasterSizes(geometry);
          const map = mapOf(cut(point), geometry, isFiltered);
          const along = fullWidth(map.subarray(20 * depth, 21 * depth), 0.02);
          const profile = Float64Array.from({ length: 41 }, (_, line) => map[line * depth + (depth - 1) / 2]);
          const expected = truth.widths_mm[driveAxis];
          // Along: samples count for their bin's middle and the ends are taken as free of tracer (the tail is 4e-4 there):
          // measured 0.1 to 0.3 %. Across: linear interpolation over 0.1 mm.
          expect(Math.abs(along / Number(expected[driveAxis]) - 1)).toBeLessThan(0.005);
          expect(Math.abs(fullWidth(profile, 0.1) / Number(expected[across]) - 1)).toBeLessThan(0.005);
          const peak = Math.max(...map) / (1e-12 * momentPerIron * initialSlope_per_T(tracer25));
          expect(Math.abs(peak - 1)).toBeLessThan(0.003);
        });
      }
});

describe("the native map has no mass, surprise 2", () => {
  const unit = 1e-12 * momentPerIron * initialSlope_per_T(tracer25);
  /** Cube of this half width: lines 1 mm apart, bins of 0.5 mm. */
  const cube = (half_mm: number) =>
    smallGeometry({
      linesA: 2 * half_mm + 1,
      linesB: 2 * half_mm + 1,
      pitch_m: 1e-3,
      patches: 2 * Math.ceil((half_mm - 2.8) / 2.5) + 1,
      patchStep_m: 2.5e-3,
      samplesPerPeriod: 64,
      depth: 4 * half_mm + 1,
      voxelStep_m: 0.5e-3,
    });
  const filtered = (object: IronObject, geometry: RasterGeometry) =>
    mapOf(cutIntoPoints([object], [1e-3, 1e-3, 0.5e-3]), geometry, true);

  /** Sum over the part of the map within `half_mm` along x, y, z, in mm³ of peak response per equal iron. */
  function windowed(map: Float64Array, geometry: RasterGeometry, half_mm: readonly number[]): number {
    const { columnsA, columnsB, depth } = rasterSizes(geometry);
    let sum = 0;
    for (let b = 0; b < columnsB; b++)
      for (let a = 0; a < columnsA; a++)
        for (let d = 0; d < depth; d++) {
          const at = voxelCenter_m(geometry, a, b, d).map((value) => Math.abs(value) * 1e3);
          if (at.every((value, axis) => value <= half_mm[axis] + 1e-6)) sum += map[(b * columnsA + a) * depth + d];
        }
    return (sum * voxelVolume_m3(geometry) * 1e9) / unit;
  }

  it("has a truth that agrees with the printed 31, 360 and 1449 mm³ within 1.2 %", () => {
    const printed = [31, 360, 1449];
    truth.integrals.forEach(({ value_mm3 }, i) => {
      expect(Math.abs(value_mm3 / printed[i] - 1)).toBeLessThan(0.012);
    });
  });

  it("the integral of a point grows with the field of view: the map's own sums say so", () => {
    const readings = [3, 10].map((half) => {
      const geometry = cube(half);
      return windowed(filtered(point, geometry), geometry, [half, half, half]);
    });
    const expected = truth.integrals.slice(0, 2).map(({ value_mm3 }) => value_mm3);
    // Against the integral of the response: lines 1 mm apart sum half a pitch beyond the cube (+10 % at 10 mm), and taking
    // every line's ends as free of tracer removes its tail (surprise 3: -14 %). Measured +2 % and -7 %.
    readings.forEach((value, i) => {
      expect(Math.abs(value / expected[i] - 1)).toBeLessThan(0.1);
    });
    expect(readings[1] / readings[0]).toBeGreaterThan(10);
  });

  it("a slab and a ball of equal iron read otherwise than the point, each in its contour and 2 mm around it", () => {
    const slab: IronObject = { kind: "box", center_m: [0, 0, 0], size_m: [12e-3, 12e-3, 1e-3], iron_kg: 1e-12 };
    const ball: IronObject = { kind: "sphere", center_m: [0, 0, 0], diameter_m: 8e-3, iron_kg: 1e-12 };
    const geometry = cube(10);
    const reading = (object: IronObject, half_mm: readonly number[]) =>
      windowed(filtered(object, geometry), geometry, half_mm);
    const [p, s, b] = [reading(point, [2, 2, 2]), reading(slab, [8, 8, 2.5]), reading(ball, [6, 6, 6])];
    // A map that may claim mass would give 1 within 2u = 20 %. Measured 7.4 and 6.4: the tails of all the iron gather in the
    // larger contour.
    expect(p).toBeGreaterThan(0);
    expect(s / p).toBeGreaterThan(5);
    expect(b / p).toBeGreaterThan(5);
  });
});
