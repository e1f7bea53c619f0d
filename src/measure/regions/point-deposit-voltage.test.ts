import { describe, expect, it } from "vitest";
import { smallGeometry } from "../../../checks/imaging/small-raster.js";
import {
  cutIntoPoints,
  directSummation,
  fullRasterOperator,
  periodBasis,
  projectFrames,
  voxelVolume_m3,
} from "../../imaging/index.js";
import type { Axis } from "../../physics/index.js";
import { unitMassOver } from "./point-deposit.js";
import { type RegionShape, regionWeights } from "./region-weights.js";

const norm = (x: Float64Array) => Math.sqrt(x.reduce((sum, value) => sum + value * value, 0));
const off = [0.31e-3, -0.44e-3, 0.23e-3] as const;
const geometryOf = (driveAxis: Axis) =>
  smallGeometry({ driveAxis, linesA: 9, linesB: 9, pitch_m: 1.25e-3, depth: 21, voxelStep_m: 0.5e-3, patches: 5 });

type Geometry = ReturnType<typeof geometryOf>;

/** Rows of the shape itself, summed over points fine along the steep axis (7 T/m along z). */
function summed(geometry: Geometry, shape: RegionShape): Float64Array {
  const points = cutIntoPoints([{ ...shape, iron_kg: 1 }], [0.25e-3, 0.25e-3, 0.1e-3], { offset: [0, 0, 0] });
  return projectFrames(directSummation(points, geometry), periodBasis(64, 2, 9).sine, 64);
}

function filled(geometry: Geometry, shape: RegionShape): Float64Array {
  const weights = regionWeights(geometry, shape);
  const total = weights.reduce((sum, weight) => sum + weight, 0) * voxelVolume_m3(geometry);
  return weights.map((weight) => weight / total);
}

describe("a unit mass deposited on voxels acts like the shape it was cut from", () => {
  // Box voxels of 1.25 × 1.25 × 0.5 mm under a response 3.1 mm and 0.67 mm wide. Measured 0.8, 0.8, 5.1 and 2.2 % of the
  // voltage: the rest is of fourth order in voxel over response, and a speck has the finest detail to lose.
  it.each<[string, Axis, RegionShape, number]>([
    ["a cube of 2 mm", "z", { kind: "box", center_m: off, size_m: [2e-3, 2e-3, 2e-3] }, 0.012],
    ["a sphere of 2.5 mm", "z", { kind: "sphere", center_m: off, diameter_m: 2.5e-3 }, 0.012],
    ["a speck", "z", { kind: "sphere", center_m: off, diameter_m: 0.2e-3 }, 0.06],
    ["a cube of 2 mm, steep across", "x", { kind: "box", center_m: off, size_m: [2e-3, 2e-3, 2e-3] }, 0.03],
  ])("%s, drive %s", (_, driveAxis, shape, most) => {
    const geometry = geometryOf(driveAxis);
    const operator = fullRasterOperator(geometry);
    const expected = summed(geometry, shape);
    const gap = (map: Float64Array) =>
      norm(operator.forward(map).map((value, i) => value - expected[i])) / norm(expected);
    const deposited = gap(unitMassOver({ geometry }, shape));
    expect(deposited).toBeLessThan(most);
    // Filling voxels by overlap blurs by the voxels' width: it has to be clearly worse.
    expect(gap(filled(geometry, shape)) / deposited).toBeGreaterThan(2);
  });

  it("holds one kilogram", () => {
    const geometry = geometryOf("y");
    const map = unitMassOver({ geometry }, { kind: "sphere", center_m: off, diameter_m: 2.5e-3 });
    expect(map.reduce((sum, value) => sum + value, 0) * voxelVolume_m3(geometry)).toBeCloseTo(1, 12);
  });
});
