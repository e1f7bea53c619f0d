import { describe, expect, it } from "vitest";
import { smallGeometry } from "../../../checks/imaging/small-raster.js";
import { isKnownError } from "../../errors.js";
import { type RasterGeometry, rasterSizes, voxelCenter_m } from "../../imaging/index.js";
import type { Axis } from "../../physics/index.js";
import { grownRegion, type RegionShape, regionWeights, requireInside } from "./region-weights.js";
import { softRegionWeights } from "./soft-region.js";

type Vector = readonly [number, number, number];
const sphere = (diameter_m: number, center_m: Vector = [0, 0, 0]): RegionShape => ({
  kind: "sphere",
  center_m,
  diameter_m,
});
const box = (size_m: Vector, center_m: Vector = [0, 0, 0]): RegionShape => ({ kind: "box", center_m, size_m });
const geometryOf = (driveAxis: Axis) =>
  smallGeometry({ driveAxis, linesA: 9, linesB: 8, pitch_m: 1e-3, depth: 20, voxelStep_m: 0.5e-3 });

function moments(geometry: RasterGeometry, weights: Float64Array) {
  const { columnsA, depth } = rasterSizes(geometry);
  const mean = [0, 0, 0];
  const total = weights.reduce((sum, weight) => sum + weight, 0);
  weights.forEach((weight, i) => {
    const column = Math.floor(i / depth);
    const center = voxelCenter_m(geometry, column % columnsA, Math.floor(column / columnsA), i % depth);
    for (let axis = 0; axis < 3; axis++) mean[axis] += (weight * center[axis]) / total;
  });
  return { total, mean };
}

describe("volume of a region in the voxels", () => {
  it.each<[Axis, RegionShape, number]>([
    // A sphere of 3 mm takes some 3400 samples: measured up to 1.2 %. A box is exact, wherever its faces fall.
    ["z", sphere(3e-3, [0.3e-3, -0.2e-3, 0.4e-3]), 0.015],
    ["x", sphere(3e-3, [0.3e-3, -0.2e-3, 0.4e-3]), 0.015],
    ["y", sphere(4e-3, [-0.4e-3, 0.6e-3, 0.1e-3]), 0.015],
    ["z", box([2e-3, 3e-3, 1e-3]), 1e-9],
    ["x", box([1.37e-3, 2.1e-3, 0.33e-3], [0.11e-3, -0.27e-3, 0.4e-3]), 1e-9],
  ])("drive %s, %j: whole, and where it was drawn", (driveAxis, shape, tolerance) => {
    const geometry = geometryOf(driveAxis);
    const { total, mean } = moments(geometry, regionWeights(geometry, shape));
    const volume =
      shape.kind === "sphere" ? (Math.PI / 6) * shape.diameter_m ** 3 : shape.size_m.reduce((v, edge) => v * edge, 1);
    expect(Math.abs(total / volume - 1)).toBeLessThan(tolerance);
    // Iron counts for its voxel's centre: a thin box that lies askew to the voxels may be misplaced by 0.1 mm.
    mean.forEach((value, axis) => {
      expect(Math.abs(value - shape.center_m[axis])).toBeLessThan(0.11e-3);
    });
  });

  it("adds up: two halves of a box weigh what the box weighs", () => {
    const geometry = geometryOf("z");
    const whole = regionWeights(geometry, box([2e-3, 2e-3, 4e-3]));
    const left = regionWeights(geometry, box([2e-3, 2e-3, 2e-3], [0, 0, -1e-3]));
    const right = regionWeights(geometry, box([2e-3, 2e-3, 2e-3], [0, 0, 1e-3]));
    whole.forEach((weight, i) => {
      expect(left[i] + right[i]).toBeCloseTo(weight, 18);
    });
  });
});

describe("outside the map", () => {
  // The voxels reach to ±4.5 mm (x), ±4 mm (y), ±5 mm (z).
  const geometry = geometryOf("z");
  it.each<[string, RegionShape, string]>([
    ["a sphere over the edge", sphere(2e-3, [3.6e-3, 0, 0]), "along x"],
    ["a box over the edge", box([1e-3, 1e-3, 1e-3], [0, -3.6e-3, 0]), "along y"],
    ["a box longer than the map", box([1e-3, 1e-3, 11e-3]), "along z"],
    ["somewhere else", sphere(1e-3, [1, 0, 0]), "along x"],
    ["nowhere", sphere(Number.NaN), "along x"],
  ])("%s is refused, with the axis and the place", (_, shape, axis) => {
    let caught: unknown;
    try {
      regionWeights(geometry, shape, { path: 'region "tail"' });
    } catch (error) {
      caught = error;
    }
    if (!isKnownError(caught, "InvalidValue")) throw caught ?? new Error("accepted");
    expect(caught.place.path).toBe('region "tail"');
    expect(caught.found).toContain(axis);
    expect(caught.accepted).toContain("mm");
  });
  it("touching the edge from inside is not outside", () => {
    expect(() => requireInside(geometry, box([9e-3, 8e-3, 10e-3]), "region")).not.toThrow();
  });
});

it("a region grows and shrinks by its surface, and never turns inside out", () => {
  expect(grownRegion(sphere(2e-3), 0.5e-3)).toMatchObject({ diameter_m: 3e-3 });
  expect(grownRegion(sphere(2e-3), -2e-3)).toMatchObject({ diameter_m: 0 });
  expect(grownRegion(box([2e-3, 1e-3, 0.5e-3]), -0.25e-3)).toMatchObject({ size_m: [1.5e-3, 0.5e-3, 0] });
});

describe("soft margin", () => {
  const geometry = geometryOf("z");
  const { columnsA, depth } = rasterSizes(geometry);
  const halo = { across_m: 2e-3, along_m: 1e-3 };
  const shares = (shape: RegionShape, margin = halo) =>
    softRegionWeights(geometry, shape, margin).map((weight) => weight / 0.5e-9);
  const at = (values: Float64Array, a: number, b: number, d: number) => values[(b * columnsA + a) * depth + d];

  it("is whole inside, nothing beyond the halo, and falls in between, sooner along the drive", () => {
    const values = shares(box([4e-3, 4e-3, 4e-3]));
    expect(at(values, 4, 4, 10)).toBe(1);
    // Along z the voxel centres lie at 0.25, 0.75, ... mm; the contour ends at 2 mm, its halo at 3 mm.
    expect(at(values, 4, 4, 12)).toBeCloseTo(1, 12);
    expect(at(values, 4, 4, 14)).toBeLessThan(at(values, 4, 4, 13));
    expect(at(values, 4, 4, 16)).toBe(0);
    // Across, 1 mm outside the contour is half of the 2 mm halo.
    expect(at(values, 7, 4, 10)).toBeCloseTo(0.5, 1);
    values.forEach((value) => {
      expect(value >= 0 && value <= 1).toBe(true);
    });
  });

  it("weighs more than the bare region, and as much as it when there is no halo", () => {
    const bare = moments(geometry, regionWeights(geometry, sphere(3e-3))).total;
    expect(moments(geometry, softRegionWeights(geometry, sphere(3e-3), halo)).total).toBeGreaterThan(2 * bare);
    const none = softRegionWeights(geometry, sphere(3e-3), { across_m: 0, along_m: 0 });
    // 27 samples a voxel instead of 125: 3 % of a 3 mm sphere.
    expect(Math.abs(moments(geometry, none).total / bare - 1)).toBeLessThan(0.05);
  });

  it("is even about the region's centre", () => {
    const values = shares(sphere(3e-3));
    for (const [a, b, d] of [
      [1, 2, 3],
      [3, 0, 9],
      [4, 3, 4],
    ])
      expect(at(values, a, b, d)).toBeCloseTo(at(values, 8 - a, 7 - b, 19 - d), 12);
  });
});
