import { describe, expect, it } from "vitest";
import { numberWeightedUncertainty } from "./number-weighted-uncertainty.js";

const stated = { medianDiameter_m: 30e-9, logSd: 0.2 };

/** The number-weighted median as a function of the stated pair, written out anew. */
const numberMedian = (d_m: number, s: number) => d_m * Math.exp(-3 * s * s);

/** First-order propagation with derivatives by central differences. */
function byDifferences(u: { d_m: number; s: number; r: number }) {
  const h = 1e-5;
  const { medianDiameter_m: d, logSd: s } = stated;
  const slopeD = (numberMedian(d * (1 + h), s) - numberMedian(d * (1 - h), s)) / (2 * d * h);
  const slopeS = (numberMedian(d, s + h) - numberMedian(d, s - h)) / (2 * h);
  const covariance = u.r * u.d_m * u.s;
  const sd = Math.sqrt((slopeD * u.d_m) ** 2 + (slopeS * u.s) ** 2 + 2 * slopeD * slopeS * covariance);
  return { sd, correlation: (slopeD * covariance + slopeS * u.s ** 2) / (sd * u.s) };
}

describe("numberWeightedUncertainty", () => {
  it.each([-0.9, 0, 0.5, 0.95])("agrees with finite differences at correlation %f", (r) => {
    const u = { d_m: 0.5e-9, s: 0.01, r };
    const result = numberWeightedUncertainty(stated, {
      medianDiameter_m: u.d_m,
      logSd: u.s,
      medianLogSdCorrelation: r,
    });
    const expected = byDifferences(u);
    // Central differences with a step of 1e-5 are good to about 1e-9.
    expect(Math.abs(result.medianDiameter_m! / expected.sd - 1)).toBeLessThan(1e-8);
    expect(Math.abs(result.medianLogSdCorrelation! - expected.correlation)).toBeLessThan(1e-8);
    expect(result.logSd).toBe(0.01);
  });

  it("keeps a correlation within -1..1 and an unknown unknown", () => {
    const sure = numberWeightedUncertainty(stated, { medianDiameter_m: 0, logSd: 0.01 });
    expect(sure.medianLogSdCorrelation).toBeGreaterThanOrEqual(-1);
    expect(sure.medianLogSdCorrelation).toBeCloseTo(-1, 12);
    expect(numberWeightedUncertainty(stated, {})).toEqual({ medianDiameter_m: undefined, logSd: undefined });
  });
});
