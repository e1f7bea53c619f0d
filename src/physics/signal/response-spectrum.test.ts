import { describe, expect, it } from "vitest";
import { langevin } from "../particle/langevin.js";
import { largestRate, responseSpectrum } from "./response-spectrum.js";

const wave = (n: number, of: (phase: number) => number) =>
  Float64Array.from({ length: n }, (_, i) => of((2 * Math.PI * i) / n));

describe("responseSpectrum", () => {
  it("gives the harmonics of L(5 cos) (facts W9)", () => {
    const { coefficients, amplitude } = responseSpectrum(
      wave(102, (phase) => langevin(5 * Math.cos(phase))),
      7,
    );
    for (const [k, value] of [
      [1, 0.9161328512],
      [3, -0.1455573303],
      [5, 0.0379956683],
      [7, -0.0110131594],
    ]) {
      expect(coefficients[2 * k]).toBeCloseTo(value, 9);
      expect(amplitude[k]).toBeCloseTo(Math.abs(value), 9);
    }
    expect(amplitude[2]).toBeLessThan(1e-14);
  });

  it("gives mean, amplitude and phase of a shifted cosine", () => {
    const { coefficients, amplitude, phase_rad } = responseSpectrum(
      wave(64, (phase) => 3 + 2 * Math.cos(3 * phase - 0.7)),
      5,
    );
    expect(coefficients[0]).toBeCloseTo(3, 13);
    expect(amplitude[3]).toBeCloseTo(2, 13);
    expect(phase_rad[3]).toBeCloseTo(-0.7, 13);
    expect(phase_rad[4]).toBe(0);
  });

  it("never reaches half the sampling", () => {
    expect(responseSpectrum(new Float64Array(16), 100).amplitude.length).toBe(8);
  });

  it("largest rate of a cosine is its amplitude times its angular frequency", () => {
    const rate = largestRate(
      wave(2048, (phase) => 0.5 * Math.cos(phase)),
      1e-3,
    );
    expect(rate / (0.5 * 2 * Math.PI * 1e3)).toBeCloseTo(1, 9);
  });
});
