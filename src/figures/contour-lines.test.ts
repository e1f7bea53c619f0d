import { describe, expect, it } from "vitest";
import { contourLines } from "./contour-lines.js";

const n = 41;
const x = Float64Array.from({ length: n }, (_, i) => (i - 20) / 10);
const gridOf = (f: (x: number, y: number) => number) => ({
  x,
  y: x,
  values: Float64Array.from({ length: n * n }, (_, i) => f(x[i % n], x[Math.floor(i / n)])),
});

describe("contourLines", () => {
  it("is exact where values are linear: one straight line from edge to edge", () => {
    const lines = contourLines(
      gridOf((a, b) => a + 2 * b),
      0.33,
    );
    expect(lines).toHaveLength(1);
    for (const [a, b] of lines[0]) expect(a + 2 * b).toBeCloseTo(0.33, 13); // rounding
    const ends = [lines[0][0], lines[0].at(-1)!].map(([a]) => Math.abs(a));
    expect(ends[0]).toBeCloseTo(2, 12);
  });
  it("closes a circle, off its radius by no more than interpolation is: h^2 / 8r along a grid line of r^2", () => {
    const lines = contourLines(
      gridOf((a, b) => a * a + b * b),
      1.44,
    );
    expect(lines).toHaveLength(1);
    expect(lines[0][0]).toEqual(lines[0].at(-1));
    const off = lines[0].map(([a, b]) => Math.abs(Math.hypot(a, b) - 1.2));
    // r^2 between neighbours at distance h errs by h^2/4 at most, and r by that over 2r.
    expect(Math.max(...off)).toBeLessThan(0.1 ** 2 / 8 / 1.2 + 1e-12);
    const length = lines[0]
      .slice(1)
      .reduce((sum, [a, b], i) => sum + Math.hypot(a - lines[0][i][0], b - lines[0][i][1]), 0);
    expect(Math.abs(length / (2 * Math.PI * 1.2) - 1)).toBeLessThan(0.003); // chords and the same error
  });
  it("finds separate rings, and nothing at a level that is not reached", () => {
    const two = gridOf((a, b) => Math.min(Math.hypot(a - 1, b), Math.hypot(a + 1, b)));
    expect(contourLines(two, 0.5)).toHaveLength(2);
    expect(contourLines(two, 9)).toEqual([]);
  });
  it("joins a saddle's corners as the mean of them says", () => {
    const crossed = (low: number) => ({ x: [0, 1], y: [0, 1], values: [1, low, low, 1] });
    const cornerOf = (low: number) =>
      contourLines(crossed(low), 0).map((line) => {
        const [a, b] = line;
        // The corner that a line cuts off is the one nearest to its middle.
        return [Math.round((a[0] + b[0]) / 2), Math.round((a[1] + b[1]) / 2)].join(" ");
      });
    expect(cornerOf(-0.5).sort()).toEqual(["0 1", "1 0"]); // mean above: the low corners are cut off
    expect(cornerOf(-3).sort()).toEqual(["0 0", "1 1"]);
  });
  it("stops at cells without a value", () => {
    const torn = gridOf((a, b) => (a > 0.95 && a < 1.05 ? Number.NaN : b));
    const lines = contourLines(torn, 0.05);
    expect(lines).toHaveLength(2);
    const columns = lines.map((line) => line.map(([a]) => a).sort((p, q) => p - q));
    expect(columns.map((each) => [each[0], each.at(-1)]).sort((p, q) => p[0]! - q[0]!)).toEqual([
      [-2, 0.9],
      [1.1, 2],
    ]);
  });
});
