import { describe, expect, it } from "vitest";
import { bracketRoot } from "./bracket.js";
import { findRoot } from "./brent.js";
import { findMinimum } from "./minimise.js";

describe("findRoot", () => {
  it.each<[string, (x: number) => number, [number, number], number]>([
    ["x² = 2", (x) => x * x - 2, [0, 2], Math.SQRT2],
    ["cos x = 0", Math.cos, [1, 2], Math.PI / 2],
    ["ln x = 1", (x) => Math.log(x) - 1, [1, 10], Math.E],
    ["cube root with a flat start", (x) => x ** 3 - 1e-9, [-1, 5], 1e-3],
    ["a tiny scale", (x) => x - 3.7e-30, [0, 1e-29], 3.7e-30],
    ["a steep exponential", (x) => Math.exp(50 * x) - Math.exp(35), [0, 1], 0.7],
    ["reversed ends", (x) => x - 0.3, [1, 0], 0.3],
  ])("%s", (_, f, bracket, root) => {
    const result = findRoot(f, bracket);
    expect(result.outcome).toBe("converged");
    expect(Math.abs(result.root / root - 1)).toBeLessThan(1e-14);
    expect(result.evaluations).toBeLessThan(80);
  });

  it("is much faster than bisection on a smooth function", () => {
    expect(findRoot((x) => Math.exp(x) - 3, [0, 4]).evaluations).toBeLessThan(14);
  });

  it("returns an end that is a root", () => {
    expect(findRoot((x) => x, [0, 1]).root).toBe(0);
  });

  it("finds a root at 0 to the absolute tolerance", () => {
    const result = findRoot((x) => Math.sinh(x), [-1, 3], { absolute: 1e-12 });
    expect(Math.abs(result.root)).toBeLessThan(2e-12);
  });

  it("says when it ran out of evaluations", () => {
    const result = findRoot((x) => Math.exp(x) - 3, [0, 4], { maxEvaluations: 4 });
    expect(result.outcome).toBe("iteration-limit");
    expect(result.bracket[0]).toBeLessThan(Math.log(3));
    expect(result.bracket[1]).toBeGreaterThan(Math.log(3));
  });

  it("refuses equal signs and NaN", () => {
    expect(() => findRoot((x) => x * x + 1, [-1, 1])).toThrow(/same sign at both ends/);
    expect(() => findRoot(() => Number.NaN, [-1, 1])).toThrow(/NaN/);
  });
});

describe("bracketRoot", () => {
  it("widens until the sign changes", () => {
    const bracket = bracketRoot((x) => x - 1000, [0, 1])!;
    expect(bracket[0]).toBeLessThanOrEqual(1000);
    expect(bracket[1]).toBeGreaterThanOrEqual(1000);
    expect(findRoot((x) => x - 1000, bracket).root).toBeCloseTo(1000, 10);
  });
  it("stays inside its limits and tells when there is none", () => {
    const seen: number[] = [];
    const f = (x: number) => {
      seen.push(x);
      return x - 50;
    };
    expect(bracketRoot(f, [1, 2], { lower: 0, upper: 10 })).toBeUndefined();
    expect(Math.min(...seen)).toBeGreaterThanOrEqual(0);
    expect(Math.max(...seen)).toBeLessThanOrEqual(10);
    expect(bracketRoot((x) => x * x + 1, [-1, 1])).toBeUndefined();
  });
});

describe("findMinimum", () => {
  // Function values near a minimum are flat within √eps of x: 1e-8 relative is the limit of the method.
  it.each<[string, (x: number) => number, [number, number], number]>([
    ["a parabola", (x) => (x - 1.3) ** 2, [0, 5], 1.3],
    ["x·ln x at 1/e", (x) => x * Math.log(x), [0.01, 3], 1 / Math.E],
    ["−sin at π/2", (x) => -Math.sin(x), [0, 3], Math.PI / 2],
    ["a kink", (x) => Math.abs(x - 0.7), [0, 1], 0.7],
  ])("%s", (_, f, interval, x) => {
    const result = findMinimum(f, interval);
    expect(result).toMatchObject({ outcome: "converged", isAtEnd: false });
    expect(Math.abs(result.x - x)).toBeLessThan(3e-8);
  });
  it("says when the minimum is at an end", () => {
    expect(findMinimum((x) => x, [2, 3])).toMatchObject({ isAtEnd: true });
  });
  it("says when it ran out of evaluations, and refuses an empty interval", () => {
    expect(findMinimum((x) => (x - 1) ** 4, [0, 5], { maxEvaluations: 5 }).outcome).toBe("iteration-limit");
    expect(() => findMinimum((x) => x, [1, 1])).toThrow(/two different finite ends/);
  });
});
