import { describe, expect, it } from "vitest";
import { denseNormal, denseSolve, meanDiagonal } from "../../../checks/imaging/dense-normal.js";
import { smallGeometry } from "../../../checks/imaging/small-raster.js";
import { isKnownError } from "../../errors.js";
import { stream } from "../../numerics/index.js";
import type { Axis } from "../../physics/index.js";
import { fromHalf, mirrorHalf, toHalf } from "./mirror-sectors.js";
import { factorSectors } from "./raster-factor.js";
import { rasterModel } from "./raster-model.js";

const norm = (x: Float64Array) => Math.sqrt(x.reduce((sum, value) => sum + value * value, 0));
const relativeGap = (x: Float64Array, y: Float64Array) => norm(x.map((value, i) => value - y[i])) / norm(y);

describe("mirror halves", () => {
  it.each([1, 2, 5, 6])("of %i positions: orthonormal, complete, and adjoint to each other", (count) => {
    const [outer, inner] = [2, 3];
    const x = stream(1).fillNormal(new Float64Array(outer * count * inner));
    const whole = new Float64Array(x.length);
    let energy = 0;
    for (const parity of [1, -1] as const) {
      const half = mirrorHalf(count, parity);
      const part = toHalf(half, outer, inner, x);
      energy += part.reduce((sum, value) => sum + value * value, 0);
      fromHalf(half, outer, inner, part).forEach((value, i) => {
        whole[i] += value;
      });
      const y = stream(2).fillNormal(new Float64Array(part.length));
      const dot = (a: Float64Array, b: Float64Array) => a.reduce((sum, value, i) => sum + value * b[i], 0);
      expect(dot(part, y)).toBeCloseTo(dot(x, fromHalf(half, outer, inner, y)), 12);
    }
    expect(relativeGap(whole, x)).toBeLessThan(1e-15);
    expect(energy / norm(x) ** 2).toBeCloseTo(1, 13);
  });
});

describe("factored normal equations", () => {
  // [drive, lines a, lines b, margin, patches, depth]: every mixture of even and odd, margins inside and outside.
  it.each<[Axis, number, number, number, number, number]>([
    ["z", 4, 3, 0, 3, 6],
    ["z", 3, 4, 1, 2, 5],
    ["z", 7, 6, -2, 3, 5],
    ["x", 5, 2, 0, 1, 6],
    ["y", 2, 3, 1, 2, 3],
    ["z", 1, 4, 0, 4, 7],
    ["x", 6, 5, -1, 5, 1],
  ])("drive %s, %i by %i lines, margin %i, %i patches, %i deep: equal dense Cholesky", (...shape) => {
    const [driveAxis, linesA, linesB, marginLines, patches, depth] = shape;
    const geometry = smallGeometry({ driveAxis, linesA, linesB, marginLines, patches, depth });
    const dense = denseNormal(geometry);
    const model = rasterModel(geometry);
    // trace(AᵀA)/voxels is what the relative weight refers to (facts S14); compression drops at most 1e-12 of it.
    expect(model.columnEnergy / meanDiagonal(dense)).toBeCloseTo(1, 11);
    const w = stream(3).fillNormal(new Float64Array(dense.voxels));
    for (const relative of [1, 1e-3]) {
      const weight = relative * model.columnEnergy;
      const found = factorSectors(model.sectors, weight)(w);
      // Condition up to 1e6 (largest eigenvalue over λ) times rounding: measured 1e-13; compression's 1e-12/λ.
      expect(relativeGap(found, denseSolve(dense, weight, w))).toBeLessThan(1e-9);
    }
  });

  it("leaves its argument alone and may be used again", () => {
    const model = rasterModel(smallGeometry());
    const solve = factorSectors(model.sectors, model.columnEnergy);
    const w = stream(3).fillNormal(new Float64Array(96));
    const before = w.slice();
    const first = solve(w);
    solve(w.map((value) => -2 * value));
    expect([...w]).toEqual([...before]);
    expect([...solve(w)]).toEqual([...first]);
  });

  it.each([0, -1, Number.NaN])("refuses a weight of %s that leaves them singular", (weight) => {
    // 17 voxels deep, but two patches of two harmonics: far fewer rows than voxels.
    const model = rasterModel(smallGeometry({ patches: 1, lastHarmonic: 3, depth: 17 }));
    let caught: unknown;
    try {
      factorSectors(model.sectors, weight * model.columnEnergy);
    } catch (error) {
      caught = error;
    }
    if (!isKnownError(caught, "InvalidValue")) throw caught ?? new Error("accepted");
    expect(caught.place.path).toBe("reconstruction.relativeWeight");
  });

  it("refuses voxels that are not centred on the patches", () => {
    const geometry = smallGeometry();
    const drive = { ...geometry.voxels.drive, from_m: geometry.voxels.drive.from_m + 0.2e-3 };
    let caught: unknown;
    try {
      rasterModel({ ...geometry, voxels: { ...geometry.voxels, drive } });
    } catch (error) {
      caught = error;
    }
    expect(isKnownError(caught, "InvalidValue")).toBe(true);
  });
});
