import { describe, expect, it } from "vitest";
import { finishSteps } from "../../numerics/index.js";
import { langevin } from "../particle/langevin.js";
import { cosineDrive, pulsedDrive, sineDrive } from "../signal/periodic-field.js";
import {
  brownianChunk,
  brownianEnsemble,
  brownianEnsembleSteps,
  brownianMagnetisation,
  brownianResponsesSteps,
  weightedSum,
} from "./brownian-fokker-planck.js";
import { waveformHarmonic } from "./fokker-planck-harmonics.js";
import { legendreMoments } from "./legendre-moments.js";
import { legendreSteps } from "./legendre-steps.js";
import { largestDifference } from "./periodic-closure.js";

const drive = cosineDrive(10e-3, 25e3);
const particle = { xiPerTesla: 500, brownTime_s: 6e-6 };

describe("brownianMagnetisation", () => {
  it("repeats itself half a period later with the other sign", () => {
    const { magnetisation, outcome } = brownianMagnetisation(drive, particle);
    expect(outcome).toBe("converged");
    expect(magnetisation.length).toBe(256);
    for (let k = 0; k < 128; k++) expect(Math.abs(magnetisation[k] + magnetisation[k + 128])).toBeLessThan(2e-7);
  });

  it("does not mind when the drive starts", () => {
    const cosine = brownianMagnetisation(drive, particle);
    const sine = brownianMagnetisation(sineDrive(10e-3, 25e3), particle);
    const later = Float64Array.from(sine.magnetisation, (_, k) => sine.magnetisation[(k + 64) % 256]);
    expect(largestDifference(later, cosine.magnetisation)).toBeLessThan(2e-7);
  });

  it("follows the Langevin curve when it can, and sits still when it cannot", () => {
    const fast = brownianMagnetisation(drive, { ...particle, brownTime_s: 1e-12 });
    for (const [k, m] of fast.magnetisation.entries())
      expect(Math.abs(m - langevin(5 * Math.cos((2 * Math.PI * k) / 256)))).toBeLessThan(1e-6);
    const slow = brownianMagnetisation(cosineDrive(10e-3, 25e3, { bias_T: 4e-3 }), { ...particle, brownTime_s: 1 });
    // A field far faster than the particle acts by its mean: L(2), to order 1/(w tau).
    for (const m of slow.magnetisation) expect(Math.abs(m - langevin(2))).toBeLessThan(1e-4);
  });

  it("does not move with more moments, and keeps enough of them", () => {
    expect([0, 5, 20, 60].map(legendreMoments)).toEqual([3, 18, 31, 50]);
    const asked: number[] = [];
    const more = brownianMagnetisation(drive, particle, {
      kernel: (steps) => {
        asked.push(steps.moments);
        // Twice the moments, from zero: the kernel is free to keep more than it shows.
        const state = new Float64Array(2 * steps.moments);
        state.set(steps.state);
        legendreSteps({ ...steps, moments: 2 * steps.moments, state });
        steps.state.set(state.subarray(0, steps.moments));
      },
    });
    expect(asked.every((moments) => moments === 18)).toBe(true);
    expect(largestDifference(more.magnetisation, brownianMagnetisation(drive, particle).magnetisation)).toBeLessThan(
      1e-9,
    );
  });

  it("adds moments when the kernel's tail says there are too few", () => {
    let calls = 0;
    const { detail, outcome } = brownianMagnetisation(drive, particle, {
      kernel: (steps) => {
        legendreSteps(steps);
        if (steps.moments === 18) steps.tail.fill(1e-3);
        calls++;
      },
    });
    expect(calls).toBeGreaterThan(3);
    expect([detail.moments, outcome]).toEqual([27, "converged"]);
  });

  it("meets a tighter tolerance by finer steps, within its own error estimate", () => {
    const pulses = pulsedDrive(10e-3, 2.5e3, { riseTime_s: 4e-6 });
    const loose = brownianMagnetisation(pulses, particle, { tolerance: 1e-5 });
    const tight = brownianMagnetisation(pulses, particle, { tolerance: 1e-10 });
    expect(tight.detail.steps).toBeGreaterThan(loose.detail.steps);
    const error = largestDifference(loose.magnetisation, tight.magnetisation);
    expect(error).toBeGreaterThan(0);
    expect(error).toBeLessThanOrEqual(loose.detail.errorEstimate);
  });

  it("closes the period of slow particles in few rounds", () => {
    const { detail, magnetisation } = brownianMagnetisation(cosineDrive(1e-3, 25e3, { bias_T: 1e-3 }), {
      xiPerTesla: 500,
      brownTime_s: 4e-3, // a hundred periods
    });
    expect(detail.periods).toBeLessThan(25);
    // The mean is close to L of the mean field, raised only by what the cosine adds in second order.
    const mean = magnetisation.reduce((sum, m) => sum + m / 256, 0);
    expect(Math.abs(mean - langevin(0.5))).toBeLessThan(1e-4);
  });

  it("closes the period of very slow particles in a strong field, where every moment is slow", () => {
    const { detail, outcome, magnetisation } = brownianMagnetisation(cosineDrive(10e-3, 25e3, { bias_T: 20e-3 }), {
      xiPerTesla: 500,
      brownTime_s: 0.06, // w tau of about 1e4
    });
    expect(outcome).toBe("converged");
    expect(detail.periods).toBeLessThan(30);
    const mean = magnetisation.reduce((sum, m) => sum + m / 256, 0);
    // The mean field alone acts, to second order in 1/(w tau).
    expect(Math.abs(mean - langevin(10))).toBeLessThan(1e-7);
  });

  it("refuses what has no meaning", () => {
    const samples = (count: number) => () => brownianMagnetisation(drive, particle, { samples: count });
    expect(samples(1)).toThrow(/samples: found 1; accepted: a whole number of samples/);
    expect(samples(2.5)).toThrow(/samples/);
    expect(() => brownianMagnetisation(drive, { ...particle, brownTime_s: 0 })).toThrow(/brownTime_s\[0\]/);
    expect(() => brownianMagnetisation(drive, { ...particle, xiPerTesla: Number.NaN })).toThrow(/xiPerTesla\[0\]/);
    const broken = { period_s: 1, field_T: () => Number.NaN };
    expect(() => brownianMagnetisation(broken, particle)).toThrow(/field_T: found NaN T at/);
  });
});

describe("brownianEnsemble", () => {
  const count = 2 * brownianChunk + 3;
  const particles = {
    xiPerTesla: Float64Array.from({ length: count }, (_, p) => 50 * (p + 1)),
    brownTime_s: Float64Array.from({ length: count }, (_, p) => 1e-6 * (p + 1)),
    weight: Float64Array.from({ length: count }, (_, p) => (p + 1) / 190),
  };

  it("is the weighted sum of its particles", () => {
    const together = brownianEnsemble(drive, particles, { samples: 32 });
    const sum = new Float64Array(32);
    for (let p = 0; p < count; p++) {
      const one = { xiPerTesla: particles.xiPerTesla[p], brownTime_s: particles.brownTime_s[p] };
      const { magnetisation } = brownianMagnetisation(drive, one, { samples: 32 });
      for (let k = 0; k < 32; k++) sum[k] += particles.weight[p] * magnetisation[k];
    }
    expect(largestDifference(together.magnetisation, sum)).toBeLessThan(1e-7);
  });

  it("gives the same bits when its chunks are shared out", () => {
    const run = (from: number, to: number) =>
      finishSteps(
        brownianResponsesSteps(
          drive,
          { xiPerTesla: particles.xiPerTesla.slice(from, to), brownTime_s: particles.brownTime_s.slice(from, to) },
          { samples: 32 },
        ),
      ).responses;
    const parts = [run(0, brownianChunk), run(brownianChunk, 2 * brownianChunk), run(2 * brownianChunk, count)];
    const whole = run(0, count);
    expect(Float64Array.from(parts.flatMap((part) => [...part]))).toEqual(whole);
    expect(weightedSum(whole, particles.weight)).toEqual(
      brownianEnsemble(drive, particles, { samples: 32 }).magnetisation,
    );
  });

  it("shows progress from 0 to 1 in many steps", () => {
    const fractions = [...brownianEnsembleSteps(drive, particles, { samples: 32 })];
    expect(fractions.length).toBeGreaterThan(10);
    expect(Math.min(...fractions)).toBeGreaterThanOrEqual(0);
    expect(fractions.at(-1)).toBe(1);
  });

  it("refuses lists of different lengths", () => {
    const odd = { ...particles, weight: Float64Array.of(1) };
    expect(() => brownianEnsemble(drive, odd)).toThrow(/weight: found length 1 beside 19 particles/);
    const none = { xiPerTesla: new Float64Array(0), brownTime_s: new Float64Array(0), weight: new Float64Array(0) };
    expect(() => brownianEnsemble(drive, none)).toThrow(/at least one particle/);
  });
});

describe("waveformHarmonic", () => {
  it("finds amplitude and phase of a sum of cosines", () => {
    const wave = Float64Array.from({ length: 60 }, (_, k) => {
      const t = (2 * Math.PI * k) / 60;
      return 0.3 + 0.8 * Math.cos(t - 0.4) + 0.05 * Math.cos(7 * t + 1.2);
    });
    const first = waveformHarmonic(wave, 1);
    const seventh = waveformHarmonic(wave, 7);
    expect([first.amplitude, first.phase_rad].map((v) => v.toFixed(12))).toEqual(["0.800000000000", "-0.400000000000"]);
    expect([seventh.amplitude, seventh.phase_rad].map((v) => v.toFixed(12))).toEqual([
      "0.050000000000",
      "1.200000000000",
    ]);
    expect(waveformHarmonic(wave, 3).amplitude).toBeLessThan(1e-15);
  });
});
