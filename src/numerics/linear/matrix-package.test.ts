import { describe, expect, it } from "vitest";
import { solveLeastSquares, svd } from "./matrix-package.js";

describe("ml-matrix, loaded on demand", () => {
  it("gives the singular values of [[3, 0], [4, 5]]: √45 and √5", async () => {
    const { s } = await svd(Float64Array.of(3, 0, 4, 5), [2, 2]);
    expect(s[0]).toBeCloseTo(Math.sqrt(45), 13);
    expect(s[1]).toBeCloseTo(Math.sqrt(5), 13);
  });
  it("solves a least-squares problem with a closed form: the mean and the slope of four points", async () => {
    const x = await solveLeastSquares(Float64Array.of(1, -3, 1, -1, 1, 1, 1, 3), [4, 2], Float64Array.of(1, 2, 4, 5));
    expect(x[0]).toBeCloseTo(3, 13);
    expect(x[1]).toBeCloseTo(14 / 20, 13);
  });
});
