import { describe, expect, it } from "vitest";
import { smallGeometry } from "../../../checks/imaging/small-raster.js";
import { stream } from "../../numerics/index.js";
import { rasterModel } from "../operators/raster-model.js";
import { weightByDiscrepancy } from "./discrepancy.js";
import { tikhonov } from "./tikhonov.js";

const model = rasterModel(smallGeometry({ linesA: 5, linesB: 4, patches: 4, patchStep_m: 2e-3, lastHarmonic: 12 }));
const { operator } = model;
const squared = (x: Float64Array) => x.reduce((sum, value) => sum + value * value, 0);
const clean = operator.forward(Float64Array.from({ length: 160 }, (_, i) => (i % 8 === 3 ? 1 : 0)));

function pilot(noise_V: number, seed = 1): Float64Array {
  const noise = stream(seed).fillNormal(new Float64Array(clean.length));
  return clean.map((value, i) => value + noise_V * noise[i]);
}
const rms = Math.sqrt(squared(clean) / clean.length);
const residual2 = (relativeWeight: number, y: Float64Array) => {
  const predicted = operator.forward(tikhonov(model, { relativeWeight }).invert(y).estimate);
  return squared(predicted.map((value, i) => value - y[i]));
};

describe("weight by discrepancy", () => {
  it("brings the residual to noise and model error together", () => {
    const y = pilot(0.05 * rms);
    const noise_V = 0.05 * rms;
    const choice = weightByDiscrepancy(model, y, { noise_V, relativeModelError: 0.03 });
    expect(choice.outcome).toBe("met");
    expect(choice.target2 / (y.length * noise_V ** 2 + 0.03 ** 2 * squared(y))).toBeCloseTo(1, 12);
    // The bracket is narrowed until the residual is within 1 % of the target.
    expect(Math.abs(residual2(choice.relativeWeight, y) / choice.target2 - 1)).toBeLessThan(0.0101);
  });

  it("grows with the noise and with the model error", () => {
    const weights = [0.03, 0.06, 0.12].map((level) =>
      weightByDiscrepancy(model, pilot(level * rms), { noise_V: level * rms, relativeModelError: 0 }),
    );
    expect(weights.map(({ outcome }) => outcome)).toEqual(["met", "met", "met"]);
    expect(weights[1].relativeWeight).toBeGreaterThan(weights[0].relativeWeight);
    expect(weights[2].relativeWeight).toBeGreaterThan(weights[1].relativeWeight);
    const noise_V = 0.03 * rms;
    const cautious = weightByDiscrepancy(model, pilot(noise_V), { noise_V, relativeModelError: 0.1 });
    expect(cautious.relativeWeight).toBeGreaterThan(weights[0].relativeWeight);
  });

  it("says so when the target lies outside what was tried", () => {
    const loud = weightByDiscrepancy(model, pilot(0.05 * rms), { noise_V: 100 * rms, relativeModelError: 0 });
    expect(loud).toMatchObject({ outcome: "target-above-range", relativeWeight: 1 });
    const strict = { noise_V: 1e-9 * rms, relativeModelError: 0, smallest: 1e-3 };
    const choice = weightByDiscrepancy(model, pilot(0.05 * rms), strict);
    expect(choice.outcome).toBe("target-below-range");
    expect(choice.relativeWeight).toBeCloseTo(1e-3, 9);
  });

  it("tells every trial; a smaller weight always fits better", () => {
    const heard: number[] = [];
    const { trials } = weightByDiscrepancy(model, pilot(0.05 * rms), {
      noise_V: 0.05 * rms,
      relativeModelError: 0,
      onTrial: ({ relativeWeight }) => heard.push(relativeWeight),
    });
    expect(heard).toEqual(trials.map(({ relativeWeight }) => relativeWeight));
    expect(trials.length).toBeGreaterThan(2);
    const sorted = trials.toSorted((a, b) => b.relativeWeight - a.relativeWeight);
    for (let i = 1; i < sorted.length; i++) expect(sorted[i].residual2).toBeLessThan(sorted[i - 1].residual2);
  });
});
