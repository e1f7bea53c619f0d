import { describe, expect, it } from "vitest";
import { stream } from "../../numerics/index.js";
import type { MagnetisationCurve } from "./curve.js";
import { evaluateFit } from "./evaluate-fit.js";
import { fitFreeForm, freeFormSteps } from "./free-form-fit.js";
import { logNormalCurve } from "./log-normal-model.js";
import { gridQuantile, numberShares, sampleQuantile } from "./size-quantiles.js";

const conditions = { coreSaturation_A_per_m: 446e3, temperature_K: 300 };
const field_T = Float64Array.from({ length: 60 }, (_, i) => 1e-4 * 5e4 ** (i / 59));

function curveOf(
  noise: number,
  { seed = 1, stated = noise }: { seed?: number; stated?: number | undefined } = {},
): MagnetisationCurve {
  const source = stream(seed);
  const small = logNormalCurve(field_T, [60, 7e-9, 0.2, 1], conditions);
  const large = logNormalCurve(field_T, [40, 20e-9, 0.15, 0], conditions);
  return {
    name: "invented",
    field_T,
    magnetisation: small.map((value, i) => value + large[i] + noise * source.normal()),
    ...(stated > 0 ? { sigma: new Float64Array(60).fill(stated) } : {}),
    magnetisationUnit: "A.m2/kg",
    basis: "per-iron-mass",
    assumptions: [],
    findings: [],
    ...conditions,
  };
}

describe("fitFreeForm", () => {
  const fit = fitFreeForm(curveOf(0.3), { replicas: 60 });
  const range = (name: string) => {
    const found = fit.ranges.find((each) => each.name === name);
    if (found === undefined) throw new Error(`no range ${name}`);
    return found;
  };

  it("shows its regularisation: discrepancy, chi2 = n, a few effective parameters", () => {
    expect(fit.regularisation.method).toBe("discrepancy");
    expect(fit.chiSquared).toBeCloseTo(60, 2);
    expect(fit.regularisation.effectiveParameters).toBeGreaterThan(4);
    expect(fit.regularisation.effectiveParameters).toBeLessThan(12);
    const codes = fit.advisories.map(({ code }) => code);
    expect(codes).toContain("regularisation");
    expect(codes).toContain("biased-by-design");
  });
  it("has two humps near the volume medians put in, and shares that sum to 1", () => {
    const { diameter_m, volumeShare, numberShare } = fit.distribution;
    const peaks = Array.from(volumeShare.keys()).filter(
      (j) =>
        volumeShare[j] > 0.02 &&
        volumeShare[j] > (volumeShare[j - 1] ?? 0) &&
        volumeShare[j] > (volumeShare[j + 1] ?? 0),
    );
    expect(peaks).toHaveLength(2);
    // 7 nm exp(3 0.04) = 7.9 nm, 20 nm exp(3 0.0225) = 21.4 nm; a grid step is 8 %
    expect(Math.abs(Math.log(diameter_m[peaks[0]] / 7.9e-9))).toBeLessThan(0.12);
    expect(Math.abs(Math.log(diameter_m[peaks[1]] / 21.4e-9))).toBeLessThan(0.12);
    expect(volumeShare.reduce((sum, share) => sum + share, 0)).toBeCloseTo(1, 12);
    expect(numberShare.reduce((sum, share) => sum + share, 0)).toBeCloseTo(1, 12);
  });
  it("labels quantiles by weighting; volume quantiles lie above number quantiles", () => {
    for (const q of ["diameter-10", "median-diameter", "diameter-90"])
      expect(range(`volume-weighted-${q}`).value).toBeGreaterThan(range(`number-weighted-${q}`).value);
    expect(fit.weighting).toBe("volume");
  });
  it("gives the same for the same seed, other replicas for another, and shows progress", () => {
    const again = fitFreeForm(curveOf(0.3), { replicas: 60 });
    expect(again.ranges).toEqual(fit.ranges);
    const other = fitFreeForm(curveOf(0.3), { replicas: 60, seed: 2 });
    expect(other.ranges[0].value).toBe(fit.ranges[0].value);
    expect(other.ranges[0].low).not.toBe(fit.ranges[0].low);
    const fractions = Array.from(freeFormSteps(curveOf(0.3), { replicas: 60 }));
    expect(fractions.length).toBeGreaterThan(5);
    expect(fractions.every((value, k) => k === 0 || value >= fractions[k - 1])).toBe(true);
  });
  it("does not believe a sigma that the data do not bear out", () => {
    // three times too large: chi2/dof near 0.1 by cross-validation
    const proud = fitFreeForm(curveOf(0.3, { stated: 0.9 }), { replicas: 20 });
    expect(proud.regularisation.method).toBe("cross-validation");
    expect(proud.advisories.map(({ code }) => code)).toContain("sigma-not-independent-noise");
    const without = fitFreeForm(curveOf(0.3, { stated: 0 }), { replicas: 20 });
    expect(without.regularisation.method).toBe("cross-validation");
    expect(without.reducedChiSquared).toBe(1);
  });
  it("takes a weight of one's own, either penalty, and no background", () => {
    const given = fitFreeForm(curveOf(0.3), {
      regularisation: { relativeWeight: 1e-3 },
      penalty: "size",
      background: "none",
      replicas: 10,
    });
    expect(given.regularisation).toMatchObject({ method: "given", relativeWeight: 1e-3, penalty: "size" });
    expect(given.parameters[2]).toMatchObject({ value: 0, atBound: true });
    const corner = fitFreeForm(curveOf(0.3), { regularisation: "l-curve", replicas: 10 });
    expect(corner.regularisation.method).toBe("l-curve");
  });
  it("is evaluated elsewhere through its table of sizes", () => {
    const curve = curveOf(0.3);
    const there = evaluateFit(fit, curve, field_T);
    for (const [i, value] of fit.fitted.entries()) expect(Math.abs(there[i] - value)).toBeLessThan(1e-9);
  });
  it("refuses a grid that is none", () => {
    expect(() => fitFreeForm(curveOf(0.3), { grid: { from_m: 5e-9, to_m: 2e-9, count: 50 } })).toThrow(
      "from a smaller",
    );
  });
});

describe("quantiles", () => {
  it("spreads each share over its logarithmic cell", () => {
    const d = Float64Array.of(1, 2, 4);
    expect(gridQuantile(d, Float64Array.of(0, 1, 0), 0.5)).toBeCloseTo(2, 14);
    expect(gridQuantile(d, Float64Array.of(0, 1, 0), 0)).toBeCloseTo(Math.SQRT2, 14);
    expect(gridQuantile(d, Float64Array.of(1, 1, 0), 0.5)).toBeCloseTo(Math.SQRT2, 14);
    expect(gridQuantile(d, new Float64Array(3), 0.5)).toBeNaN();
  });
  it("divides by d^3 for numbers", () => {
    const numbers = numberShares(Float64Array.of(1e-9, 2e-9), Float64Array.of(0.5, 0.5));
    expect(numbers[0]).toBeCloseTo(8 / 9, 14);
  });
  it("is linear between order statistics", () => {
    expect(sampleQuantile([1, 2, 3], 0.25)).toBeCloseTo(1.5, 14);
    expect(sampleQuantile([1, 2, 3], 1)).toBe(3);
  });
});
