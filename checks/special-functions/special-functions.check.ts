import { describe, expect, it } from "vitest";
import {
  betaQuantile,
  chiSquareQuantile,
  erf,
  erfc,
  gaussHermite,
  gaussLegendre,
  incompleteBeta,
  incompleteGamma,
  logGamma,
  normalCdf,
  normalQuantile,
  studentTCdf,
  studentTQuantile,
} from "../../src/numerics/index.js";
import { truth, worst, worstSmallerTail } from "./compare.js";

// Relative errors. One unit in the last place is 1.1e-16 to 2.2e-16; the limits leave a factor of two to four over the
// worst seen, and grow where a rounded argument is amplified (x² in the far normal tail) or a product is long.
describe("special functions against a table of 80 and more digits", () => {
  it.each([
    ["tiny", 5e-16],
    ["normal", 5e-16],
    ["seams", 5e-16],
  ])("erf, %s", (range, limit) => {
    expect(worst(truth.erf[range], erf)).toBeLessThan(limit);
  });
  it.each([
    ["negative", 5e-16],
    ["normal", 1e-15],
    ["far", 1e-15],
  ])("erfc, %s", (range, limit) => {
    expect(worst(truth.erfc[range], erfc)).toBeLessThan(limit);
  });
  it.each([
    ["centre", 1e-15],
    ["tail", 1e-14],
    ["far", 3e-13],
  ])("normal distribution, %s", (range, limit) => {
    expect(worst(truth.normalCdf[range], normalCdf)).toBeLessThan(limit);
  });
  it("normal quantile", () => {
    expect(worst(truth.normalQuantile, normalQuantile)).toBeLessThan(2e-15);
  });
  it.each([
    ["tiny", 5e-16],
    ["zeros", 2e-15],
    ["normal", 4e-15],
    ["large", 1e-15],
  ])("log-gamma, %s", (range, limit) => {
    expect(worst(truth.logGamma[range], logGamma)).toBeLessThan(limit);
  });
  it.each([
    ["small", 5e-14],
    ["middle", 5e-14],
    ["large", 1e-13],
    ["tails", 5e-14],
  ])("incomplete beta, smaller tail, %s", (range, limit) => {
    const gap = worstSmallerTail(truth.incompleteBeta[range], (a, b, x) => incompleteBeta([a, b], x));
    expect(gap).toBeLessThan(limit);
  });
  it.each([
    ["small", 5e-14],
    ["middle", 5e-14],
    ["large", 1e-13],
  ])("incomplete gamma, smaller tail, %s", (range, limit) => {
    expect(worstSmallerTail(truth.incompleteGamma[range], incompleteGamma)).toBeLessThan(limit);
  });
  it("Student t tail", () => {
    // Down to 1e-198, where the exponent's rounding alone is 450·1.1e-16.
    expect(worst(truth.studentTTail, (t, nu) => studentTCdf(-t, nu))).toBeLessThan(1e-13);
  });
  it("Student t quantile", () => {
    expect(worst(truth.studentTQuantile, studentTQuantile)).toBeLessThan(1e-13);
  });
  it("chi-square quantile", () => {
    expect(worst(truth.chiSquareQuantile, chiSquareQuantile)).toBeLessThan(1e-13);
  });
  it("beta quantile", () => {
    expect(worst(truth.betaQuantile, (p, a, b) => betaQuantile(p, [a, b]))).toBeLessThan(1e-13);
  });
});

describe("Gauss rules against numpy", () => {
  // numpy's nodes come from an eigenvalue problem and one Newton step: 1e-14 is its accuracy, not ours.
  it.each([
    ["legendre", gaussLegendre],
    ["hermite", gaussHermite],
  ] as const)("%s", (name, rule) => {
    for (const [n, expected] of Object.entries(truth[name])) {
      const { nodes, weights } = rule(Number(n));
      for (const [i, node] of expected.nodes.entries()) expect(Math.abs(nodes[i] - node)).toBeLessThan(2e-14);
      for (const [i, weight] of expected.weights.entries())
        expect(Math.abs(weights[i] / weight - 1)).toBeLessThan(1e-11);
    }
  });
});
