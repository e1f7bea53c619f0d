import { describe, expect, it } from "vitest";
import { gaussHermite } from "./gauss-hermite.js";
import { integrate } from "./gauss-kronrod.js";
import { gaussLegendre } from "./gauss-legendre.js";
import type { QuadratureRule } from "./rule.js";

const apply = ({ nodes, weights }: QuadratureRule, f: (x: number) => number) =>
  nodes.reduce((sum, x, i) => sum + weights[i] * f(x), 0);

describe("Gauss-Legendre", () => {
  it.each([1, 2, 3, 8, 20, 101])("n = %i is exact for monomials up to 2n − 1", (n) => {
    const rule = gaussLegendre(n);
    for (let k = 0; k <= 2 * n - 1; k++)
      expect(Math.abs(apply(rule, (x) => x ** k) - (k % 2 ? 0 : 2 / (k + 1)))).toBeLessThan(1e-14);
    // and not beyond: its error at 2n is known not to vanish
    if (n <= 8) expect(Math.abs(apply(rule, (x) => x ** (2 * n)) - 2 / (2 * n + 1))).toBeGreaterThan(1e-6);
  });
  it("has the closed nodes of n = 3 and sums its weights at n = 1000", () => {
    expect(gaussLegendre(3).nodes[2]).toBeCloseTo(Math.sqrt(0.6), 15);
    expect(apply(gaussLegendre(1000), () => 1)).toBeCloseTo(2, 12);
  });
  it("maps to another interval", () => {
    expect(apply(gaussLegendre(10, { interval: [0, Math.PI] }), Math.sin)).toBeCloseTo(2, 12);
  });
  it("refuses a count that is not whole", () => {
    expect(() => gaussLegendre(2.5)).toThrow(/whole number of nodes/);
  });
});

describe("Gauss-Hermite", () => {
  it.each([1, 2, 5, 20, 64])("n = %i gives the moments of the normal distribution", (n) => {
    const rule = gaussHermite(n);
    let moment = 1; // E Z^k = (k − 1)!!
    for (let k = 0; k <= Math.min(2 * n - 1, 30); k += 2) {
      if (k > 0) moment *= k - 1;
      expect(Math.abs(apply(rule, (x) => x ** k) / moment - 1)).toBeLessThan(1e-12);
      expect(Math.abs(apply(rule, (x) => x ** (k + 1)))).toBeLessThan(1e-12 * moment * 10);
    }
  });
  it("gives E exp(Z) = √e", () => {
    expect(apply(gaussHermite(20), Math.exp)).toBeCloseTo(Math.sqrt(Math.E), 13);
  });
});

describe("adaptive Gauss-Kronrod", () => {
  it.each<[string, (x: number) => number, [number, number], number]>([
    ["a polynomial of degree 22", (x) => x ** 22, [-1, 2], (2 ** 23 + 1) / 23],
    ["exp", Math.exp, [0, 1], Math.E - 1],
    ["1/√x, an end singularity", (x) => 1 / Math.sqrt(x), [0, 1], 2],
    ["ln x", Math.log, [0, 1], -1],
    ["a kink", (x) => Math.abs(x - 1 / 3), [0, 1], 5 / 18],
    ["a normal density over the line", (x) => Math.exp((-x * x) / 2), [-Infinity, Infinity], Math.sqrt(2 * Math.PI)],
    ["a half-line", (x) => 1 / (1 + x * x), [1, Infinity], Math.PI / 4],
    ["reversed ends", Math.exp, [1, 0], 1 - Math.E],
    ["a narrow peak", (x) => 1 / (1e-6 + (x - 0.4) ** 2), [0, 1], 1e3 * (Math.atan(600) + Math.atan(400))],
  ])("%s", (_, f, interval, value) => {
    const result = integrate(f, interval);
    expect(result.outcome).toBe("converged");
    const error = Math.abs(result.value - value);
    expect(error).toBeLessThan(1e-10 * Math.abs(value));
    expect(error).toBeLessThanOrEqual(result.errorEstimate + 4e-16 * Math.abs(value));
  });
  it("uses 15 evaluations where they suffice", () => {
    // Degree 12: the 7-point rule is exact as well, so the estimate is rounding.
    expect(integrate((x) => x ** 12, [-1, 1]).evaluations).toBe(15);
    expect(integrate(() => 0, [0, 1])).toMatchObject({ value: 0, evaluations: 15, outcome: "converged" });
  });
  it("applies a rule that is exact to degree 22 and no further", () => {
    const error = (k: number) => {
      const { value, evaluations } = integrate((x) => (k + 1) * x ** k, [0, 1], { relative: 10 });
      expect(evaluations).toBe(15);
      return Math.abs(value - 1);
    };
    for (let k = 0; k <= 22; k++) expect(error(k)).toBeLessThan(1e-15);
    expect(error(40)).toBeGreaterThan(1e-15);
  });
  it("reports what it cannot do", () => {
    expect(integrate((x) => 1 / x, [0, 1]).outcome).toBe("iteration-limit");
    expect(integrate((x) => Math.sin(1 / x) / x, [0, 1], { maxEvaluations: 300 }).outcome).toBe("iteration-limit");
    expect(integrate(() => Number.NaN, [0, 1]).outcome).toBe("diverged");
    expect(() => integrate(Math.exp, [Number.NaN, 1])).toThrow(/two numbers/);
  });
});
