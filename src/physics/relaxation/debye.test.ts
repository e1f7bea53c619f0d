import { describe, expect, it } from "vitest";
import { langevin } from "../particle/langevin.js";
import { cosineDrive, sineDrive } from "../signal/periodic-field.js";
import { debyeFactor, debyeMagnetisation, debyeResponse } from "./debye.js";
import { waveformHarmonic } from "./fokker-planck-harmonics.js";

describe("debyeFactor", () => {
  it("is 1/2 and 1/2 with a lag of 45 degrees at w tau 1, where the loss is largest", () => {
    const { inPhase, lagging, amplitude, lag_rad } = debyeFactor(1);
    expect([inPhase, lagging].map((v) => v.toFixed(15))).toEqual(["0.500000000000000", "0.500000000000000"]);
    expect(amplitude).toBeCloseTo(Math.SQRT1_2, 15);
    expect(lag_rad).toBe(Math.PI / 4);
    expect(debyeFactor(0.99).lagging).toBeLessThan(lagging);
    expect(debyeFactor(1.01).lagging).toBeLessThan(lagging);
    expect(debyeFactor(0)).toEqual({ inPhase: 1, lagging: 0, amplitude: 1, lag_rad: 0 });
  });
});

describe("debyeResponse", () => {
  const wave = (n: number, f: (phase: number) => number) => Float64Array.from({ length: n }, (_, k) => f(k / n));

  it("is exact for a cosine of any order, even and odd lengths", () => {
    for (const n of [64, 63]) {
      const input = wave(n, (p) => 0.2 + Math.cos(2 * Math.PI * 3 * p));
      const found = debyeResponse(input, { period_s: 2, relaxationTime_s: 0.25 });
      const { amplitude, lag_rad } = debyeFactor(Math.PI * 3 * 0.25);
      for (const [k, value] of found.entries())
        expect(Math.abs(value - 0.2 - amplitude * Math.cos((2 * Math.PI * 3 * k) / n - lag_rad))).toBeLessThan(1e-14);
    }
  });

  it("relaxes exponentially after the edges of a square wave", () => {
    const n = 4096;
    const square = wave(n, (p) => (p < 0.5 ? 1 : -1));
    const tau = 0.1;
    const found = debyeResponse(square, { period_s: 1, relaxationTime_s: tau });
    // Closed form: 1 - 2 e^(-t/tau)/(1 + e^(-1/(2 tau))). A sampled edge is uncertain by half a sample: 1/(2 n tau).
    for (const p of [0.05, 0.1, 0.25, 0.4]) {
      const exact = 1 - (2 * Math.exp(-p / tau)) / (1 + Math.exp(-0.5 / tau));
      expect(Math.abs(found[Math.round(p * n)] - exact)).toBeLessThan(2 / (2 * n * tau));
    }
  });

  it("passes everything at time 0 and refuses a negative one", () => {
    const input = wave(16, (p) => langevin(5 * Math.cos(2 * Math.PI * p)));
    const found = debyeResponse(input, { period_s: 1, relaxationTime_s: 0 });
    for (const [k, value] of found.entries()) expect(Math.abs(value - input[k])).toBeLessThan(1e-15);
    expect(() => debyeResponse(input, { period_s: 1, relaxationTime_s: -1 })).toThrow(/relaxationTime_s: found -1/);
  });
});

describe("debyeMagnetisation", () => {
  const curve = (field_T: Float64Array) => field_T.map((value) => langevin(1000 * value));

  it("samples as finely as the curve needs", () => {
    const found = debyeMagnetisation(cosineDrive(50e-3, 25e3), curve, { relaxationTime_s: 1e-6, samples: 16 });
    expect(found.outcome).toBe("converged");
    expect(found.detail.steps).toBeGreaterThan(64);
    expect(found.magnetisation.length).toBe(16);
  });

  it("delays a slow, weak field by tau", () => {
    const tau = 1e-8;
    const found = debyeMagnetisation(sineDrive(1e-6, 25e3), curve, { relaxationTime_s: tau });
    const { phase_rad } = waveformHarmonic(found.magnetisation, 1);
    expect(Math.abs(phase_rad + Math.PI / 2 + Math.atan(2 * Math.PI * 25e3 * tau))).toBeLessThan(1e-12);
  });
});
