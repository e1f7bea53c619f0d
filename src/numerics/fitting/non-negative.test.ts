import { describe, expect, it } from "vitest";
import { stream } from "../random/stream.js";
import { nonNegativeLeastSquares, nonNegativeQuadratic } from "./non-negative.js";

const dot = (a: ArrayLike<number>, b: ArrayLike<number>) =>
  Array.from(a).reduce((sum, value, i) => sum + value * b[i], 0);

/** Every choice of free columns tried by normal equations: certain, and only possible for few. */
function enumerated(a: Float64Array, b: Float64Array, n: number): number {
  const m = b.length;
  const column = (j: number) => Float64Array.from({ length: m }, (_, i) => a[i * n + j]);
  let best = dot(b, b);
  for (let code = 1; code < 2 ** n; code++) {
    const set = Array.from({ length: n }, (_, j) => j).filter((j) => (code >> j) & 1);
    const h = Float64Array.from(set.flatMap((i) => set.map((j) => dot(column(i), column(j)))));
    const { solution, passive } = nonNegativeQuadratic(
      h,
      Float64Array.from(set, (j) => dot(column(j), b)),
      {
        passive: set.map((_, k) => k),
      },
    );
    if (passive.length < set.length) continue;
    const residual = b.map((value, i) => value - set.reduce((sum, j, k) => sum + a[i * n + j] * solution[k], 0));
    best = Math.min(best, dot(residual, residual));
  }
  return best;
}

const random = (seed: number, length: number) => stream(seed).fillNormal(new Float64Array(length));

describe("non-negative least squares", () => {
  it("is ordinary least squares where no bound is met", () => {
    const { solution, passive } = nonNegativeLeastSquares(Float64Array.of(1, 0, 1, 1, 1, 2), Float64Array.of(1, 3, 5));
    expect(solution[0]).toBeCloseTo(1, 14);
    expect(solution[1]).toBeCloseTo(2, 14);
    expect(passive).toEqual([0, 1]);
  });

  it("puts exact zeros where the bound holds", () => {
    // columns are orthogonal: each component on its own
    const { solution, passive } = nonNegativeLeastSquares(Float64Array.of(1, 0, 0, 1), Float64Array.of(-3, 2));
    expect([...solution]).toEqual([0, 2]);
    expect(passive).toEqual([1]);
    expect([...nonNegativeLeastSquares(Float64Array.of(1, 2), Float64Array.of(-1, -1)).solution]).toEqual([0]);
  });

  it.each([1, 2, 3, 4, 5, 6])("finds the lowest of all active sets, seed %i", (seed) => {
    const [m, n] = [9, 6];
    const [a, b] = [random(seed, m * n), random(100 + seed, m)];
    const { solution, outcome } = nonNegativeLeastSquares(a, b);
    expect(outcome).toBe("converged");
    const residual = b.map((value, i) => value - sumRow(a, solution, { i, n }));
    expect(dot(residual, residual)).toBeCloseTo(enumerated(a, b, n), 12);
  });

  it("meets the conditions of Karush, Kuhn and Tucker, and is the same from any start", () => {
    const [m, n] = [80, 40];
    const [a, b] = [random(7, m * n), random(8, m)];
    const { solution, passive } = nonNegativeLeastSquares(a, b);
    const residual = b.map((value, i) => value - sumRow(a, solution, { i, n }));
    for (let j = 0; j < n; j++) {
      const slope = residual.reduce((sum, value, i) => sum + value * a[i * n + j], 0);
      if (passive.includes(j)) expect(Math.abs(slope)).toBeLessThan(1e-11);
      else expect(slope).toBeLessThan(1e-11);
    }
    for (const start of [[...passive], [0, 1, 2, 3], Array.from({ length: n }, (_, j) => j)]) {
      const again = nonNegativeLeastSquares(a, b, { passive: start });
      expect(again.passive).toEqual(passive);
      expect(again.solution.every((value, j) => Math.abs(value - solution[j]) < 1e-12)).toBe(true);
    }
  });

  it("solves the same in the form of a quadratic", () => {
    const [m, n] = [30, 12];
    const [a, b] = [random(9, m * n), random(10, m)];
    const h = Float64Array.from({ length: n * n }, (_, k) => {
      let sum = 0;
      for (let i = 0; i < m; i++) sum += a[i * n + Math.floor(k / n)] * a[i * n + (k % n)];
      return sum;
    });
    const g = Float64Array.from({ length: n }, (_, j) => b.reduce((sum, value, i) => sum + value * a[i * n + j], 0));
    const [plain, quadratic] = [nonNegativeLeastSquares(a, b), nonNegativeQuadratic(h, g)];
    expect(quadratic.passive).toEqual(plain.passive);
    for (let j = 0; j < n; j++) expect(quadratic.solution[j]).toBeCloseTo(plain.solution[j], 10);
  });

  it("ends with dependent columns, at the least residual", () => {
    const a = Float64Array.of(1, 1, 0, 1, 1, 1, 1, 1, 2);
    const { solution, outcome } = nonNegativeLeastSquares(a, Float64Array.of(1, 2, 3));
    expect(outcome).toBe("converged");
    expect(solution[0] + solution[1]).toBeCloseTo(1, 12);
    expect(solution[2]).toBeCloseTo(1, 12);
  });

  it("refuses shapes that do not fit", () => {
    expect(() => nonNegativeLeastSquares(new Float64Array(6), new Float64Array(2))).toThrow("6 elements for 2 rows");
    expect(() => nonNegativeQuadratic(new Float64Array(3), new Float64Array(2))).toThrow("3 elements for 2 unknowns");
  });
});

function sumRow(a: Float64Array, x: Float64Array, { i, n }: { i: number; n: number }): number {
  return x.reduce((sum, value, j) => sum + a[i * n + j] * value, 0);
}
