import { describe, expect, it } from "vitest";
import { stream } from "../random/stream.js";
import { type Box, minimiseInBox } from "./box-quadratic.js";
import { choleskyFactor, choleskySolve } from "./cholesky.js";

/** Best over every assignment of free / at lower / at upper: certain, and too slow for anything but a test. */
function bruteForce(h: Float64Array, g: Float64Array, { lower, upper }: Box): Float64Array {
  const n = g.length;
  let best = new Float64Array(n);
  let bestValue = Number.POSITIVE_INFINITY;
  for (let code = 0; code < 3 ** n; code++) {
    const mode = Array.from({ length: n }, (_, j) => Math.floor(code / 3 ** j) % 3);
    const free = mode.flatMap((m, j) => (m === 0 ? [j] : []));
    const q = Float64Array.from(mode, (m, j) => (m === 1 ? lower[j] : m === 2 ? upper[j] : 0));
    if (!q.every(Number.isFinite)) continue;
    const sub = Float64Array.from(free.flatMap((i) => free.map((j) => h[i * n + j])));
    const rhs = Float64Array.from(free, (i) => g[i] - q.reduce((sum, value, j) => sum + h[i * n + j] * value, 0));
    choleskySolve(choleskyFactor(sub, free.length)!, rhs).forEach((value, k) => {
      q[free[k]] = value;
    });
    if (q.some((value, j) => value < lower[j] - 1e-12 || value > upper[j] + 1e-12)) continue;
    const value = objective(h, g, q);
    if (value < bestValue) [best, bestValue] = [q, value];
  }
  return best;
}

function objective(h: Float64Array, g: Float64Array, q: Float64Array): number {
  const n = g.length;
  return q.reduce((sum, qi, i) => sum + qi * (q.reduce((s, qj, j) => s + h[i * n + j] * qj, 0) / 2 - g[i]), 0);
}

describe("quadratic in a box", () => {
  it("finds the minimum that trying every active set finds", () => {
    const source = stream(5);
    for (let trial = 0; trial < 200; trial++) {
      const n = 1 + source.integerBelow(5);
      const a = source.fillNormal(new Float64Array(n * n));
      const h = new Float64Array(n * n);
      for (let i = 0; i < n; i++)
        for (let j = 0; j < n; j++) {
          h[i * n + j] = i === j ? 0.05 : 0;
          for (let k = 0; k < n; k++) h[i * n + j] += a[k * n + i] * a[k * n + j];
        }
      const g = source.fillNormal(new Float64Array(n));
      const box = {
        lower: Float64Array.from(g, () => (source.uniform() < 0.3 ? Number.NEGATIVE_INFINITY : -source.uniform())),
        upper: Float64Array.from(g, () => (source.uniform() < 0.3 ? 0 : source.uniform())),
      };
      const q = minimiseInBox(h, g, box);
      const expected = bruteForce(h, g, box);
      for (let j = 0; j < n; j++) expect(Math.abs(q[j] - expected[j])).toBeLessThan(1e-9);
    }
  });

  it("puts a held component exactly on its bound", () => {
    const q = minimiseInBox(Float64Array.of(1), Float64Array.of(5), {
      lower: Float64Array.of(-0.1),
      upper: Float64Array.of(0.3),
    });
    expect(q[0]).toBe(0.3);
  });
});
