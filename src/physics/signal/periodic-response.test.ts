import { describe, expect, it } from "vitest";
import type { ParticleEnsemble } from "../particle/magnetisation.js";
import { relativeMagnetisation } from "../particle/magnetisation.js";
import type { Relaxation } from "../particle/relaxation-model.js";
import { sizeNodes } from "../particle/size-distribution.js";
import { brownianMagnetisation } from "../relaxation/brownian-fokker-planck.js";
import { debyeMagnetisation } from "../relaxation/debye.js";
import { driveRegime } from "./drive-regime.js";
import { cosineDrive, sampleField } from "./periodic-field.js";
import { periodicResponse } from "./periodic-response.js";

const single: ParticleEnsemble = {
  sizes: { kind: "single", diameter_m: 25e-9 },
  saturation_A_per_m: 446e3,
  temperature_K: 300,
};
const broad: ParticleEnsemble = {
  ...single,
  sizes: { kind: "lognormal", weighting: "number", medianDiameter_m: 20e-9, logSd: 0.15 },
};
const drive = cosineDrive(0.01, 25e3);
const samples = 128;
const field_T = sampleField(drive, samples);
const respond = (ensemble: ParticleEnsemble, relaxation: Relaxation, coupling?: number) =>
  periodicResponse(drive, { ensemble, relaxation, coupling }, { samples }).magnetisation;
const gap = (a: Float64Array, b: Float64Array) =>
  a.reduce((most, value, i) => Math.max(most, Math.abs(value - b[i])), 0);

const quick = { kind: "median", diameter_m: 2e-9, logSd: 0 } as const;
const slow = { kind: "median", diameter_m: 60e-9, logSd: 0 } as const;

describe("periodicResponse", () => {
  it("none is the equilibrium curve", () => {
    expect(gap(respond(broad, { kind: "none" }), relativeMagnetisation(field_T, broad))).toBe(0);
  });

  it("debye and brownian are their own models for one size", () => {
    const debye = debyeMagnetisation(drive, (field) => relativeMagnetisation(field, single), {
      relaxationTime_s: 3e-6,
      samples,
    });
    expect(gap(respond(single, { kind: "debye", time_s: 3e-6 }), debye.magnetisation)).toBeLessThan(1e-6);
    // 3 eta V / (kB T) for 60 nm in 0.89 mPa.s at 300 K: 73.0 us.
    const time = (3 * 0.89e-3 * (Math.PI / 6) * 60e-9 ** 3) / (1.380649e-23 * 300);
    const brownian = brownianMagnetisation(drive, { xiPerTesla: 880.945, brownTime_s: time }, { samples });
    const own = respond(single, { kind: "brownian", viscosity_Pa_s: 0.89e-3, hydrodynamic: slow });
    expect(gap(own, brownian.magnetisation)).toBeLessThan(2e-6);
  });

  it.each<[string, Relaxation]>([
    ["debye", { kind: "debye", time_s: 1e-12 }],
    ["field-dependent", { kind: "field-dependent", zeroFieldTime_s: 1e-12, law: "peak" }],
    ["brownian", { kind: "brownian", viscosity_Pa_s: 1e-6, hydrodynamic: quick }],
    [
      "combined",
      { kind: "combined", viscosity_Pa_s: 1e-6, hydrodynamic: quick, anisotropy_J_per_m3: 5e3, attemptTime_s: 1e-9 },
    ],
  ])("%s with a vanishing time is the equilibrium curve of the distribution", (_, relaxation) => {
    // 16 nodes stand for the log-normal: 2e-8 measured; times of 1e-12 s against a period of 4e-5 s: 2e-7 per radian.
    expect(gap(respond(broad, relaxation), relativeMagnetisation(field_T, broad))).toBeLessThan(2e-6);
  });

  it("a spread of hydrodynamic sizes is the average over them, by number", () => {
    const of = (diameter_m: number, logSd = 0) =>
      respond(single, {
        kind: "brownian",
        viscosity_Pa_s: 0.89e-3,
        hydrodynamic: { kind: "median", diameter_m, logSd },
      });
    const sizes = { kind: "lognormal", weighting: "number", medianDiameter_m: 60e-9, logSd: 0.2 } as const;
    const { diameter_m, weight } = sizeNodes(sizes);
    const mean = new Float64Array(samples);
    for (const [j, d] of diameter_m.entries()) {
      if (weight[j] < 1e-7) continue;
      for (const [i, value] of of(d).entries()) mean[i] += weight[j] * value;
    }
    // Eight nodes stand for the spread; the response falls smoothly with the time.
    expect(gap(of(60e-9, 0.2), mean)).toBeLessThan(1e-4);
  });

  it("chains: coupling 0 changes nothing, coupling 2 steepens, 6 turns only beyond its threshold", () => {
    const plain = respond(single, { kind: "none" });
    expect(gap(respond(single, { kind: "none" }, 0), plain)).toBe(0);
    const steep = respond(single, { kind: "none" }, 2);
    expect(steep[samples / 8]).toBeGreaterThan(plain[samples / 8]);
    // xi_c(6) = 1.225645 (facts C8) is 1.391 mT for this core.
    const loop = (amplitude: number) =>
      periodicResponse(cosineDrive(amplitude, 25e3), { ensemble: single, relaxation: { kind: "none" }, coupling: 6 })
        .magnetisation;
    const smallest = (wave: Float64Array) => wave.reduce((least, value) => Math.min(least, value), 0);
    expect(smallest(loop(1.38e-3))).toBeGreaterThan(-0.2);
    expect(smallest(loop(1.4e-3))).toBeLessThan(-0.8);
  });

  it("refuses chains with a relaxation that their mean field does not have", () => {
    const relaxation = { kind: "brownian", viscosity_Pa_s: 1e-3, hydrodynamic: slow } as const;
    expect(() => respond(single, relaxation, 2)).toThrow(/coupled chains with relaxation of kind "brownian"/);
  });
});

describe("driveRegime", () => {
  const equilibrium = relativeMagnetisation(field_T, single);
  const verdict = (time_s: number) => driveRegime(respond(single, { kind: "debye", time_s }), equilibrium, { field_T });

  it("follows from the response at the drive: lag and loss of the fundamental", () => {
    expect(verdict(1e-8).verdict).toBe("quasi-static");
    const relaxing = verdict(3e-6);
    expect(relaxing.verdict).toBe("relaxing");
    // Debye at 25 kHz, 3 us: 0.904592, 25.2316 deg (facts W20).
    expect(relaxing.fundamentalRatio).toBeCloseTo(0.904592, 5);
    expect((relaxing.lag_rad * 180) / Math.PI).toBeCloseTo(25.2316, 3);
    expect(verdict(1e-3).verdict).toBe("blocked");
  });

  it("says when a drive does not reach the threshold of chains", () => {
    const options = { field_T, thresholdField_T: 0.02 };
    expect(driveRegime(equilibrium, equilibrium, options).verdict).toBe("below-threshold");
  });
});
