import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { fourierPlan } from "../../src/numerics/index.js";

interface Truth {
  readonly cases: { n: number; x: number[]; y: number[] }[];
  readonly long: { n: number; norm: number; at: number[]; y: number[] }[];
}
const truth: Truth = JSON.parse(readFileSync(new URL("truth.json", import.meta.url), "utf8"));

const norm = (values: ArrayLike<number>) => Math.sqrt(Array.from(values).reduce((sum, v) => sum + v * v, 0));
const distance = (a: ArrayLike<number>, b: ArrayLike<number>) => norm(Array.from(a, (v, i) => v - b[i]));

// Rounding of a transform grows as its number of passes, about 1e-16·log2(n); Bluestein does two longer ones and
// two chirps. Aim: 1e-15 for mixed radix.
const tolerance = 3e-15;

describe("Fourier transform against numpy", () => {
  it.each(truth.cases)("length $n, there and back", ({ n, x, y }) => {
    const plan = fourierPlan(n);
    const forward = plan.forward(Float64Array.from(x), new Float64Array(2 * n));
    expect(distance(forward, y) / norm(y)).toBeLessThan(tolerance);
    const back = plan.inverse(Float64Array.from(y));
    expect(distance(back, x) / norm(x)).toBeLessThan(tolerance);
  });

  it.each(truth.long)("length $n, some bins", ({ n, norm: total, at, y }) => {
    const data = new Float64Array(2 * n);
    for (let j = 0; j < n; j++) {
      data[2 * j] = Math.sin(0.001 * j * j);
      data[2 * j + 1] = Math.cos(0.003 * j * j + 1);
    }
    const bins = fourierPlan(n).forward(data);
    expect(Math.abs(norm(bins) / total - 1)).toBeLessThan(1e-12);
    const picked = at.flatMap((k) => [bins[2 * k], bins[2 * k + 1]]);
    // The samples themselves differ in the last bit of sin and cos, and their arguments (up to 5e7) are exact in
    // both: 1e-15 of the mean bin, with room for the largest of 64.
    expect(distance(picked, y) / (total * Math.sqrt(at.length / n))).toBeLessThan(1e-14);
  });
});
