import { describe, expect, it } from "vitest";
import { stream } from "../random/stream.js";
import { jacobiSvd } from "./jacobi-svd.js";
import { svd } from "./matrix-package.js";

describe("Jacobi SVD", () => {
  it("gives the closed form of [[3, 0], [4, 5]]: √45 and √5", () => {
    const { s } = jacobiSvd(Float64Array.of(3, 0, 4, 5), [2, 2]);
    expect(s[0]).toBeCloseTo(Math.sqrt(45), 14);
    expect(s[1]).toBeCloseTo(Math.sqrt(5), 14);
  });

  it("rebuilds the matrix from orthonormal vectors", () => {
    const [m, n] = [7, 4];
    const a = stream(3).fillNormal(new Float64Array(m * n));
    const { u, s, v } = jacobiSvd(a, [m, n]);
    for (let i = 0; i < m; i++)
      for (let j = 0; j < n; j++) {
        let sum = 0;
        for (let k = 0; k < n; k++) sum += u[i * n + k] * s[k] * v[j * n + k];
        expect(sum).toBeCloseTo(a[i * n + j], 13);
      }
    for (let p = 0; p < n; p++)
      for (let q = 0; q < n; q++) {
        let dot = 0;
        for (let i = 0; i < n; i++) dot += v[i * n + p] * v[i * n + q];
        expect(dot).toBeCloseTo(p === q ? 1 : 0, 13);
      }
  });

  it("agrees with ml-matrix", async () => {
    const a = stream(4).fillNormal(new Float64Array(60));
    const [ours, theirs] = [jacobiSvd(a, [12, 5]), await svd(a, [12, 5])];
    for (let k = 0; k < 5; k++) expect(Math.abs(ours.s[k] / theirs.s[k] - 1)).toBeLessThan(1e-13);
  });

  it("keeps a tiny singular value to high relative accuracy, and finds an exact null direction", () => {
    // Orthogonal columns of lengths √2 and √2·1e-30: nothing to rotate.
    const graded = jacobiSvd(Float64Array.of(1, 1e-30, 1, -1e-30), [2, 2]);
    expect(graded.s[1] / (Math.SQRT2 * 1e-30)).toBeCloseTo(1, 14);
    const { s, v } = jacobiSvd(Float64Array.of(1, 2, 2, 4, 3, 6), [3, 2]);
    expect(s[1] / s[0]).toBeLessThan(1e-15);
    expect(Math.abs(v[1] / v[3])).toBeCloseTo(2, 13); // null direction (2, −1)
  });

  it("refuses a wide matrix", () => {
    expect(() => jacobiSvd(new Float64Array(6), [2, 3])).toThrow(/at least as many rows/);
  });
});
