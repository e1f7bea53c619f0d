import { expect, it } from "vitest";
import { type ParticleEnsemble, relativeMagnetisation } from "../particle/magnetisation.js";
import { peakMomentRate_A_m2_per_s } from "./peak-moment-rate.js";

it("is the steepest step of a sampled period, for a distribution of sizes", () => {
  const ensemble: ParticleEnsemble = {
    sizes: { kind: "lognormal", weighting: "number", medianDiameter_m: 20e-9, logSd: 0.2 },
    saturation_A_per_m: 446e3,
    temperature_K: 300,
  };
  const drive = { amplitude_T: 0.02, frequency_Hz: 25e3 };
  const n = 4096;
  const field_T = Float64Array.from({ length: n + 1 }, (_, i) => drive.amplitude_T * Math.sin((2 * Math.PI * i) / n));
  const moment = relativeMagnetisation(field_T, ensemble);
  let steepest = 0;
  for (let i = 0; i < n; i++) {
    steepest = Math.max(steepest, (moment[i + 1] - moment[i]) * n * drive.frequency_Hz);
  }
  // One step beside the peak: curvature (xi/n)^2 makes the difference quotient low by a few 1e-4 at most.
  expect(Math.abs(steepest / peakMomentRate_A_m2_per_s(1, ensemble, drive) - 1)).toBeLessThan(1e-3);
});
