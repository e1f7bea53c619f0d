import { describe, expect, it } from "vitest";
import type { ParticleEnsemble } from "../particle/magnetisation.js";
import { relativeMagnetisation } from "../particle/magnetisation.js";
import { staticWidth_T } from "../particle/point-spread.js";
import { debyeMagnetisation } from "../relaxation/debye.js";
import { cosineDrive, sampleField, triangleDrive } from "./periodic-field.js";
import { sweepResponse } from "./sweep-response.js";

const ensemble: ParticleEnsemble = {
  sizes: { kind: "single", diameter_m: 25e-9 },
  saturation_A_per_m: 446e3,
  temperature_K: 300,
};
const curve = (field_T: Float64Array) => relativeMagnetisation(field_T, ensemble);

describe("sweepResponse", () => {
  it("without memory is the static point spread function, both ways", () => {
    for (const drive of [cosineDrive(0.02, 25e3), triangleDrive(0.02, 25e3)]) {
      const field_T = sampleField(drive, 2048);
      const { forward, backward } = sweepResponse(field_T, curve(field_T));
      for (const { width_T, peakField_T } of [forward, backward]) {
        // 4.723390 mT; steps of 61 uT or less: (0.061/4.7)^2 is 2e-4 of the width.
        expect(Math.abs((width_T ?? 0) / staticWidth_T(ensemble) - 1)).toBeLessThan(2e-4);
        expect(Math.abs(peakField_T)).toBeLessThan(1e-6);
      }
      expect(forward.peak_per_T).toBeCloseTo(880.945 / 3, 0);
    }
  });

  it("with an exponential memory is late, lower, wider and mirrored: the Debye kernel on a constant field rate", () => {
    // On the flank of a slow triangle h is the static one convolved with exp(-B/(rate tau))/(rate tau), B > 0.
    const frequency = 1e3;
    const relaxationTime_s = 20e-6;
    const drive = triangleDrive(0.05, frequency);
    const delay_T = 4 * 0.05 * frequency * relaxationTime_s;
    const samples = 4096;
    const { magnetisation } = debyeMagnetisation(drive, curve, { relaxationTime_s, samples });
    const { forward, backward } = sweepResponse(sampleField(drive, samples), magnetisation);
    const convolved = (field: number) => {
      let sum = 0;
      const step = delay_T / 400;
      for (let b = step / 2; b < 20 * delay_T; b += step) {
        const slope =
          (curve(Float64Array.of(field - b + 1e-7))[0] - curve(Float64Array.of(field - b - 1e-7))[0]) / 2e-7;
        sum += (Math.exp(-b / delay_T) / delay_T) * slope * step;
      }
      return sum;
    };
    const middle = forward.field_T.findIndex((field) => field > 0.003);
    expect(forward.response_per_T[middle] / convolved(forward.field_T[middle])).toBeCloseTo(1, 3);
    // The static peak at 0 convolved with a kernel from 0 to beyond delay_T, of mean delay_T.
    expect(forward.peakField_T).toBeGreaterThan(0.2 * delay_T);
    expect(forward.peakField_T).toBeLessThan(delay_T);
    expect(backward.peakField_T).toBeCloseTo(-forward.peakField_T, 6);
    expect(forward.width_T).toBeGreaterThan(1.2 * staticWidth_T(ensemble));
    expect(forward.peak_per_T).toBeLessThan(880.945 / 3);
  });

  it("has no width where the sweep is too short to fall to half", () => {
    const field_T = sampleField(cosineDrive(0.001, 25e3), 1024);
    expect(sweepResponse(field_T, curve(field_T)).forward.width_T).toBeUndefined();
  });

  it("has no width where the response lags beyond the turning point", () => {
    const drive = cosineDrive(0.02, 25e3);
    const { magnetisation } = debyeMagnetisation(drive, curve, { relaxationTime_s: 1e-3, samples: 1024 });
    const { forward } = sweepResponse(sampleField(drive, 1024), magnetisation);
    expect(forward.isPeakInside).toBe(false);
    expect(forward.width_T).toBeUndefined();
  });

  it("refuses arrays that do not belong together, and a drive that stands still", () => {
    expect(() => sweepResponse(new Float64Array(32), new Float64Array(31))).toThrow(/31 values for 32 fields/);
    expect(() => sweepResponse(new Float64Array(32), new Float64Array(32))).toThrow(/field_T/);
  });
});
