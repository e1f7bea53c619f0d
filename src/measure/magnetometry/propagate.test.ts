import { describe, expect, it } from "vitest";
import { derive } from "./propagate.js";

describe("derive", () => {
  it("is the closed form for a sum, a difference and a product", () => {
    const fit = { values: [3, 5], covariance: Float64Array.of(0.04, 0.01, 0.01, 0.09) };
    const u = (f: (p: readonly number[]) => number) => derive({ name: "x", unit: "1" }, f, fit).standardUncertainty;
    expect(u(([a, b]) => a + b)).toBeCloseTo(Math.sqrt(0.04 + 0.09 + 0.02), 10);
    expect(u(([a, b]) => a - b)).toBeCloseTo(Math.sqrt(0.04 + 0.09 - 0.02), 10);
    expect(u(([a, b]) => a * b)).toBeCloseTo(Math.sqrt(25 * 0.04 + 9 * 0.09 + 30 * 0.01), 8);
  });
  it("ignores a parameter without variance only where the value does not depend on it", () => {
    const fit = { values: [3, 5], covariance: Float64Array.of(0.04, Number.NaN, Number.NaN, Number.NaN) };
    expect(derive({ name: "x", unit: "1" }, ([a]) => 2 * a, fit).standardUncertainty).toBeCloseTo(0.4, 12);
    expect(derive({ name: "x", unit: "1" }, ([a, b]) => a * b, fit).standardUncertainty).toBeNaN();
  });
});
