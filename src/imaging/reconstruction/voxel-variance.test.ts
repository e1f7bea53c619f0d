import { describe, expect, it } from "vitest";
import { denseCovariance, denseNormal } from "../../../checks/imaging/dense-normal.js";
import { smallGeometry } from "../../../checks/imaging/small-raster.js";
import { chiSquareQuantile, stream } from "../../numerics/index.js";
import { rasterModel } from "../operators/raster-model.js";
import { tikhonov } from "./tikhonov.js";
import { voxelStandardDeviation } from "./voxel-variance.js";

describe("standard deviation of the voxels", () => {
  it.each([
    { linesA: 4, linesB: 3, depth: 6 },
    { linesA: 3, linesB: 5, depth: 5, marginLines: -1 },
    { linesA: 2, linesB: 1, depth: 3, marginLines: 1 },
  ])("%j: equals the diagonal of the dense covariance", (shape) => {
    const geometry = smallGeometry(shape);
    const model = rasterModel(geometry);
    const weight = 1e-2 * model.columnEnergy;
    const dense = denseNormal(geometry);
    const covariance = denseCovariance(dense, weight);
    voxelStandardDeviation(model, weight, 3e-9).forEach((value, i) => {
      const expected = 3e-9 * Math.sqrt(covariance[i * dense.voxels + i]);
      expect(Math.abs(value / expected - 1)).toBeLessThan(1e-8);
    });
  });

  it("equals the scatter of 300 replicas, voxel by voxel (exact χ², Bonferroni 1e-3 over the voxels)", () => {
    const geometry = smallGeometry({ linesA: 3, linesB: 2, depth: 5, patches: 2 });
    const model = rasterModel(geometry);
    const solver = tikhonov(model, { relativeWeight: 1e-2 });
    const sd = voxelStandardDeviation(model, solver.weight, 2);
    const squares = new Float64Array(sd.length);
    for (let replica = 0; replica < 300; replica++) {
      const noise = stream(12, 0, replica).fillNormal(new Float64Array(6 * model.compression.rows));
      const { estimate } = solver.invert(noise.map((value) => 2 * value));
      estimate.forEach((value, i) => {
        squares[i] += (value / sd[i]) ** 2;
      });
    }
    const tail = 1e-3 / (2 * sd.length);
    for (const value of squares) {
      expect(value).toBeGreaterThan(chiSquareQuantile(tail, 300));
      expect(value).toBeLessThan(chiSquareQuantile(1 - tail, 300));
    }
  });
});
