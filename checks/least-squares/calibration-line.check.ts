import { describe, expect, it } from "vitest";
import { fitLine, predictInverse } from "../../src/numerics/index.js";

/** Miller & Miller's calibration example (from memory; recomputed as W32 of our fact sheet). */
const x = [0, 2, 4, 6, 8, 10, 12];
const y = [2.1, 5, 9, 12.6, 17.3, 21, 24.7];

describe("straight line, W32", () => {
  const line = fitLine(x, y);
  // The fact sheet prints six or seven digits: 1e-5 relative.
  it.each([
    ["slope", line.slope, 1.930357],
    ["intercept", line.intercept, 1.517857],
    ["residual sd", line.residualScale, 0.432848],
    ["sd of slope", line.slopeStandardError, 0.0409003],
    ["sd of intercept", line.interceptStandardError, 0.294936],
    ["correlation", line.correlation, 0.99888],
  ])("%s", (_, actual, printed) => {
    expect(Math.abs(actual / printed - 1)).toBeLessThan(1e-5);
  });
  it.each([
    [2.9, 1, 0.716004, 0.26457],
    [13.5, 1, 6.207216, 0.239754],
    [23, 1, 11.128585, 0.263193],
    [13.5, 4, 6.207216, 0.140613],
  ])("inverse prediction at %f from %i reading(s)", (y0, replicates, x0, s) => {
    const result = predictInverse(line, y0, { replicates });
    expect(Math.abs(result.x / x0 - 1)).toBeLessThan(1e-5);
    expect(Math.abs(result.standardUncertainty / s - 1)).toBeLessThan(1e-5);
  });
});
