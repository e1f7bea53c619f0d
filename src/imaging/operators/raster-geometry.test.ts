import { describe, expect, it } from "vitest";
import { smallGeometry } from "../../../checks/imaging/small-raster.js";
import { isKnownError } from "../../errors.js";
import type { Axis } from "../../physics/index.js";
import { gridOf, mapTotal, toWorldOrder } from "../grid-map.js";
import { type RasterGeometry, rasterSizes, voxelCenter_m, voxelSize_m, voxelVolume_m3 } from "./raster-geometry.js";

const shapes: [Axis, number, number, number][] = (["x", "y", "z"] as const).flatMap((axis) => [
  [axis, 4, 3, 0],
  [axis, 3, 5, 2],
  [axis, 7, 6, -2],
  [axis, 1, 3, 1],
]);

describe("voxels of a raster", () => {
  it.each(shapes)("drive %s, %i by %i lines, margin %i: the world grid agrees with every voxel centre", (...shape) => {
    const [driveAxis, linesA, linesB, marginLines] = shape;
    const geometry = smallGeometry({ driveAxis, linesA, linesB, marginLines, depth: 5, pitch_m: 1.5e-3 });
    const { columnsA, columnsB, depth, voxels } = rasterSizes(geometry);
    const grid = gridOf(geometry);
    expect(grid.shape.reduce((product, extent) => product * extent, 1)).toBe(voxels);
    // Number every voxel by its own world coordinates, and look for it in the world order.
    const tag = ([x, y, z]: readonly number[]) => x + 1e3 * y + 1e6 * z;
    const values = new Float64Array(voxels);
    for (let b = 0; b < columnsB; b++)
      for (let a = 0; a < columnsA; a++)
        for (let d = 0; d < depth; d++) values[(b * columnsA + a) * depth + d] = tag(voxelCenter_m(geometry, a, b, d));
    const world = toWorldOrder(geometry, values);
    const [nz, ny, nx] = grid.shape;
    for (let k = 0; k < nz; k++)
      for (let j = 0; j < ny; j++)
        for (let i = 0; i < nx; i++) {
          const center = [i, j, k].map((index, axis) => grid.origin_m[axis] + index * grid.spacing_m[axis]);
          expect(Math.abs(world[(k * ny + j) * nx + i] - tag(center))).toBeLessThan(1e-9);
        }
  });

  it("a single line has the other axis' pitch, also without a step of its own", () => {
    const geometry = smallGeometry({ linesA: 1, linesB: 3, pitch_m: 1.5e-3, marginLines: 1 });
    const { raster } = geometry;
    const alone = {
      ...geometry,
      raster: { ...raster, lines: { ...raster.lines, a: { ...raster.lines.a, step_m: 0 } } },
    };
    for (const one of [geometry, alone]) {
      expect(voxelSize_m(one)).toEqual([1.5e-3, 1.5e-3, 1e-3]);
      expect(gridOf(one).spacing_m.map((edge) => Math.round(edge * 1e9))).toEqual([1_500_000, 1_500_000, 1_000_000]);
      expect(voxelCenter_m(one, 0, 1, 0)[0]).toBeCloseTo(-1.5e-3, 12);
    }
  });

  it("a map's total is its concentration times its whole volume", () => {
    const geometry = smallGeometry({ driveAxis: "x" });
    const grid = gridOf(geometry);
    const { voxels } = rasterSizes(geometry);
    const total = mapTotal({ kind: "signal", unit: "A.m2/T", grid, values: new Float64Array(voxels).fill(3) });
    expect(total / (3 * voxels * voxelVolume_m3(geometry))).toBeCloseTo(1, 12);
    expect(total / (3 * 4 * 2e-3 * 3 * 2e-3 * 8 * 1e-3)).toBeCloseTo(1, 12);
  });
});

describe("refusals", () => {
  const geometry = smallGeometry();
  const change = (part: Partial<RasterGeometry>): RasterGeometry => ({ ...geometry, ...part });
  const drive = geometry.voxels.drive;
  const single = { from_m: 0, step_m: 0, count: 1 };
  it.each<[string, RasterGeometry, string]>([
    ["the lost fundamental", change({ harmonics: { first: 1, last: 9 } }), "reconstruction.harmonics"],
    ["no harmonics", change({ harmonics: { first: 5, last: 4 } }), "reconstruction.harmonics"],
    ["harmonics beyond the sampling", change({ harmonics: { first: 2, last: 32 } }), "reconstruction.harmonics"],
    ["a margin that leaves no column", change({ voxels: { marginLines: -2, drive } }), "reconstruction.marginLines"],
    ["half a margin", change({ voxels: { marginLines: 0.5, drive } }), "reconstruction.marginLines"],
    [
      "voxels without an edge",
      change({ voxels: { marginLines: 0, drive: { ...drive, step_m: 0 } } }),
      "reconstruction.voxelsAlongDrive",
    ],
    [
      "no voxels",
      change({ voxels: { marginLines: 0, drive: { ...drive, count: 0 } } }),
      "reconstruction.voxelsAlongDrive",
    ],
    [
      "one line only: voxels without a width",
      change({ raster: { ...geometry.raster, lines: { a: single, b: single } } }),
      "raster.lines",
    ],
  ])("%s", (_, wrong, path) => {
    let caught: unknown;
    try {
      rasterSizes(wrong);
      voxelVolume_m3(wrong);
    } catch (error) {
      caught = error;
    }
    if (!isKnownError(caught, "InvalidValue")) throw caught ?? new Error("accepted");
    expect(caught.place.path).toBe(path);
  });
});
