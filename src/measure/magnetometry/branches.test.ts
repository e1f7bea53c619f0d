import { describe, expect, it } from "vitest";
import { stream } from "../../numerics/index.js";
import { chainHistory } from "../../physics/index.js";
import { compareBranches, splitBranches } from "./branches.js";
import type { MagnetisationCurve } from "./curve.js";

const curveOf = (field_T: ArrayLike<number>, magnetisation: ArrayLike<number>, sigma?: number): MagnetisationCurve => ({
  name: "test",
  field_T: Float64Array.from(field_T),
  magnetisation: Float64Array.from(magnetisation),
  ...(sigma === undefined ? {} : { sigma: new Float64Array(field_T.length).fill(sigma) }),
  magnetisationUnit: "A.m2/kg",
  basis: "per-iron-mass",
  assumptions: [],
  findings: [],
});

/** From +0.1 T down to -0.1 T and up again. */
const down = Array.from({ length: 41 }, (_, i) => 0.1 - 0.005 * i);
const loop_T = [...down, ...down.slice(0, -1).reverse()];

describe("splitBranches", () => {
  it("turns where the field does, and not at a repeated or jittering field", () => {
    expect(splitBranches(Float64Array.of(0, 1, 2, 3, 2, 1))).toEqual([
      { direction: "ascending", rows: [0, 1, 2, 3] },
      { direction: "descending", rows: [3, 4, 5] },
    ]);
    const jitter = splitBranches(Float64Array.of(0, 1, 1, 2, 1.9999, 3, 4));
    expect(jitter).toEqual([{ direction: "ascending", rows: [0, 1, 2, 3, 4, 5, 6] }]);
    expect(splitBranches(Float64Array.of(5, 4, 3))).toEqual([{ direction: "descending", rows: [0, 1, 2] }]);
  });
});

describe("compareBranches", () => {
  it("is silent for one branch", () => {
    expect(compareBranches(curveOf([0, 1, 2, 3, 4, 5], [0, 1, 2, 3, 4, 5]))).toBeUndefined();
  });
  it("finds coercive field and remanence of a chain, with the uncertainty of sigma", () => {
    // xi = 100 B: kappa 4 has xi_c 0.265406 and remanence 0.599839 (facts C8, C9), a jump at 2.65406 mT
    const nodes = { xiPerTesla: Float64Array.of(100), weight: Float64Array.of(1) };
    const fine = Array.from({ length: 401 }, (_, i) => 0.1 - 0.0005 * i);
    const field_T = [...fine, ...fine.slice(0, -1).reverse()];
    const m = chainHistory(Float64Array.from(field_T), nodes, { kappa: 4, start: "upper" });
    const found = compareBranches(curveOf(field_T, m, 0.001));
    expect(found?.differ).toBe(true);
    // the jump lies between rows 0.5 mT apart
    expect(Math.abs((found?.coerciveField_T?.value ?? 0) - 2.65406e-3)).toBeLessThan(0.25e-3);
    expect(found?.remanence?.value).toBeCloseTo(0.599839, 6);
    // two readings of sd 0.001, half their difference
    expect(found?.remanence?.standardUncertainty).toBeCloseTo(0.001 / Math.SQRT2, 12);
    expect(found?.meanDifference).toBeGreaterThan(0);
  });
  it("counts false alarms on honest loops as its level says, with and without sigma", () => {
    // level 0.001: 2 expected in 2000, more than 8 has a probability of 0.0003
    const alarms = [0, 0];
    for (let seed = 0; seed < 2000; seed++) {
      const source = stream(seed, 11);
      const m = loop_T.map((b) => Math.tanh(b / 0.04) + 0.01 * source.normal());
      if (compareBranches(curveOf(loop_T, m, 0.01))?.differ) alarms[0]++;
      if (compareBranches(curveOf(loop_T, m))?.differ) alarms[1]++;
    }
    expect(alarms[0]).toBeLessThanOrEqual(8);
    // without sigma the scatter is estimated from neighbours that share noise: twice the level is allowed
    expect(alarms[1]).toBeLessThanOrEqual(16);
  });
  it("sees a loop opened by a fraction of its noise", () => {
    const source = stream(3);
    const m = loop_T.map((b, i) => Math.tanh((b - (i < 41 ? -1 : 1) * 2e-4) / 0.04) + 0.002 * source.normal());
    const found = compareBranches(curveOf(loop_T, m, 0.002));
    expect(found?.differ).toBe(true);
    expect(Math.abs((found?.coerciveField_T?.value ?? 0) - 2e-4)).toBeLessThan(
      4 * (found?.coerciveField_T?.standardUncertainty ?? 0),
    );
  });
});
