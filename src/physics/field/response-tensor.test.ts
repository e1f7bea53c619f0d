import { describe, expect, it } from "vitest";
import { findRoot } from "../../numerics/index.js";
import { type ParticleEnsemble, relativeMagnetisation } from "../particle/magnetisation.js";
import { responseTensor_per_T } from "./response-tensor.js";

const ensemble: ParticleEnsemble = {
  sizes: { kind: "lognormal", weighting: "number", medianDiameter_m: 20e-9, logSd: 0.15 },
  saturation_A_per_m: 446e3,
  temperature_K: 300,
};

/** M(|B|) B/|B|. */
function moment(field: readonly number[]): number[] {
  const magnitude = Math.hypot(...field);
  const [m] = relativeMagnetisation(Float64Array.of(magnitude), ensemble);
  return field.map((component) => (m * component) / magnitude);
}

describe("responseTensor", () => {
  it("is the derivative of the magnetisation vector", () => {
    const field = [3e-3, -2e-3, 6e-3] as const;
    const tensor = responseTensor_per_T(field, ensemble);
    const step = 1e-7;
    for (let j = 0; j < 3; j++) {
      const [up, down] = [step, -step].map((by) => moment(field.map((value, k) => value + (k === j ? by : 0))));
      for (let i = 0; i < 3; i++) {
        // Central difference: (1e-7 T over some mT)^2 and rounding of 1e-16/1e-7.
        expect(Math.abs(tensor[3 * i + j] - (up[i] - down[i]) / (2 * step))).toBeLessThan(1e-6 * tensor[8]);
      }
    }
  });

  it("is isotropic at the field-free point", () => {
    const tensor = responseTensor_per_T([0, 0, 0], ensemble);
    expect([tensor[1], tensor[2], tensor[5]]).toEqual([0, 0, 0]);
    expect(tensor[0] / tensor[8]).toBeCloseTo(1, 13);
  });

  it("is 4.161 kT/m wide along the field and 9.467 kT/m across it (facts M10, M11)", () => {
    const single: ParticleEnsemble = { ...ensemble, sizes: { kind: "single", diameter_m: 25e-9 } };
    const xi = 880.945; // per tesla (facts, computed table)
    const width = (of: (b: number) => number) => 2 * xi * findRoot((b) => of(b) - of(0) / 2, [0, 0.1]).root;
    expect(width((b) => responseTensor_per_T([0, 0, b], single)[8])).toBeCloseTo(4.161048, 4);
    expect(width((b) => responseTensor_per_T([0, 0, b], single)[0])).toBeCloseTo(9.466639, 4);
  });
});
