import { describe, expect, it } from "vitest";
import { isKnownError } from "../../errors.js";
import { stream } from "../../numerics/index.js";
import { type HarmonicChannel, massDetection } from "./mass-detection.js";

const channel = (order: number, signal_V_per_kg: number, more: Partial<HarmonicChannel> = {}): HarmonicChannel => ({
  order,
  signal_V_per_kg,
  noiseDensity_V_per_sqrtHz: 1e-9,
  background_V: 0,
  ...more,
});

describe("detection of mass", () => {
  it("one line: sd = S/(u sqrt t), limits 1.645 and 3.29 of it", () => {
    const { noise, background, combined } = massDetection([channel(3, 1000)], { time_s: 4 });
    expect(noise.standardUncertainty_kg).toBeCloseTo(5e-13, 20);
    expect(noise.limits_kg.critical / 5e-13).toBeCloseTo(1.644854, 6);
    expect(noise.limits_kg.detection / 5e-13).toBeCloseTo(3.289707, 6);
    expect(background.standardUncertainty_kg).toBe(0);
    expect(combined.standardUncertainty_kg).toBe(noise.standardUncertainty_kg);
  });

  it("lines add as information, whatever their noise; a silent one adds nothing", () => {
    const lines = [channel(3, 1000), channel(5, 500, { noiseDensity_V_per_sqrtHz: 0.5e-9 }), channel(7, 0)];
    const { noise, weights_kg_per_V } = massDetection(lines, { time_s: 1 });
    expect(noise.standardUncertainty_kg).toBeCloseTo(1e-12 / Math.SQRT2, 20);
    expect(weights_kg_per_V[0] * 1000 + weights_kg_per_V[1] * 500).toBeCloseTo(1, 12);
    expect(weights_kg_per_V[2]).toBe(0);
  });

  it("empties of the same length double the variance", () => {
    const long = massDetection([channel(3, 1000)], { time_s: 2 }).noise.standardUncertainty_kg;
    const paired = massDetection([channel(3, 1000)], { time_s: 2, emptyTime_s: 2 }).noise.standardUncertainty_kg;
    expect(paired / long).toBeCloseTo(Math.SQRT2, 12);
  });

  it("simulated: 4000 records of 200 samples, fitted by projection; sd within 4 of its own sd (4.5 %), no bias", () => {
    // Two lines of known phase over whole periods; white noise of density S has variance S^2 fs/2 per sample.
    const [rate_Hz, samples, density] = [2e6, 200, 1e-9];
    const lines = [channel(3, 1000), channel(5, 700)];
    const { noise, weights_kg_per_V } = massDetection(lines, { time_s: samples / rate_Hz });
    const sd_V = density * Math.sqrt(rate_Hz / 2);
    const wave = lines.map(({ order }) =>
      Float64Array.from({ length: samples }, (_, i) => Math.cos((2 * Math.PI * order * 100e3 * i) / rate_Hz + order)),
    );
    const random = stream(20261125, 3);
    const mass = 3 * noise.standardUncertainty_kg;
    const record = new Float64Array(samples);
    const found = Float64Array.from({ length: 4000 }, () => {
      random.fillNormal(record);
      for (let i = 0; i < samples; i++) record[i] = sd_V * record[i] + mass * (1000 * wave[0][i] + 700 * wave[1][i]);
      return wave.reduce((sum, w, k) => {
        const amplitude = (2 / samples) * w.reduce((dot, value, i) => dot + value * record[i], 0);
        return sum + weights_kg_per_V[k] * amplitude;
      }, 0);
    });
    const mean = found.reduce((sum, m) => sum + m, 0) / found.length;
    const sd = Math.sqrt(found.reduce((sum, m) => sum + (m - mean) ** 2, 0) / (found.length - 1));
    expect(Math.abs(sd / noise.standardUncertainty_kg - 1)).toBeLessThan(0.045);
    expect(Math.abs(mean - mass) / noise.standardUncertainty_kg).toBeLessThan(4 / Math.sqrt(4000));
  });

  it("background: 1e-6 of 3.95 V all unstable looks like 1.145 ug at 3448.5 V/kg (surprise 11)", () => {
    const line = channel(3, 3448.5, { background_V: 3.94784e-6 });
    const { background, worstBackground_kg } = massDetection([line], { time_s: 1, instability: 1 });
    expect(background.standardUncertainty_kg).toBeCloseTo(1.1448e-9, 13);
    expect(worstBackground_kg).toBe(background.standardUncertainty_kg);
  });

  it("background through the filter: root of squares when independent, sum at worst; reweighting leaves a bad line out", () => {
    const lines = [channel(3, 1000, { background_V: 1e-3 }), channel(5, 1000)];
    const found = massDetection(lines, { time_s: 1, instability: 1e-3 });
    // Weights are equal: half of the 1 uV over 1000 V/kg.
    expect(found.background.standardUncertainty_kg).toBeCloseTo(5e-10, 16);
    expect(found.reweighted.standardUncertainty_kg / 1e-12).toBeCloseTo(1, 5);
    const both = lines.map((line) => ({ ...line, background_V: 1e-3 }));
    const pair = massDetection(both, { time_s: 1, instability: 1e-3 });
    expect(pair.background.standardUncertainty_kg).toBeCloseTo(1e-9 / Math.SQRT2, 16);
    expect(pair.worstBackground_kg).toBeCloseTo(1e-9, 16);
  });

  it("refuses lines without signal or noise, and times that are none", () => {
    const attempts: [() => unknown, string][] = [
      [() => massDetection([], { time_s: 1 }), "NotIdentifiable"],
      [() => massDetection([channel(3, 0)], { time_s: 1 }), "NotIdentifiable"],
      [() => massDetection([channel(3, 1, { noiseDensity_V_per_sqrtHz: 0 })], { time_s: 1 }), "InvalidValue"],
      [() => massDetection([channel(0.5, 1)], { time_s: 1 }), "InvalidValue"],
      [() => massDetection([channel(3, 1)], { time_s: 0 }), "InvalidValue"],
      [() => massDetection([channel(3, 1)], { time_s: 1, emptyTime_s: 0 }), "InvalidValue"],
      [() => massDetection([channel(3, 1)], { time_s: 1, instability: -1 }), "InvalidValue"],
    ];
    for (const [attempt, code] of attempts) {
      let found: unknown;
      try {
        attempt();
      } catch (error) {
        found = isKnownError(error) ? error.code : error;
      }
      expect(found).toBe(code);
    }
  });
});
