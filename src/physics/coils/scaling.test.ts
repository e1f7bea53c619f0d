import { describe, expect, it } from "vitest";
import { vacuumPermeability_T_m_per_A as mu0 } from "../../units/index.js";
import { conductorMaterials } from "./conductors.js";
import { coilInductance_H } from "./inductance.js";
import { type ScalingStudy, scaleCoil, scalingExponents } from "./scaling.js";
import type { Coil } from "./winding.js";
import { measureWinding } from "./winding-measures.js";

/** One loop: field at its centre μ0·N/(2a), facts L1. */
const coil: Coil = {
  windings: [
    {
      shape: { kind: "loop", center_m: [0, 0, 0.01], normal: [0, 0, 1], radius_m: 0.1 },
      turns: 10,
      material: conductorMaterials.copper,
      conductor: { metalArea_m2: 2e-6 },
      bundleRadius_m: 4e-3,
    },
  ],
};
const radiusOf = ({ windings: [{ shape }] }: Coil) => (shape.kind === "loop" ? shape.radius_m : Number.NaN);
const study: ScalingStudy = {
  coil,
  fieldPerAmpere: (scaled) => (mu0 * 10) / (2 * radiusOf(scaled)),
  wanted: [1e-3, 5e-3],
  scales: [1, 2, 3],
  frequencies_Hz: [1e3, 25e3],
};

describe("scaled coil", () => {
  it("has all lengths multiplied: resistance 1/s, inductance s, mass s³", () => {
    const double = scaleCoil(coil, 2);
    const [small, large] = [coil, double].map(({ windings }) => measureWinding(windings[0]));
    expect(large.mass_kg / small.mass_kg).toBeCloseTo(8, 12);
    expect(large.fillFactor).toBeCloseTo(small.fillFactor ?? Number.NaN, 14);
    expect(coilInductance_H(double) / coilInductance_H(coil)).toBeCloseTo(2, 12);
    expect(double.windings[0].shape.center_m[2]).toBeCloseTo(0.02, 15);
    expect(() => scaleCoil(coil, 0)).toThrow(/scale/);
  });
});

describe("scaling laws", () => {
  it("have the prefactor of the coil itself", () => {
    // I = 2·a·B/(μ0·N): at scale 1 and 1 T, 0.2/(μ0·10).
    expect(scalingExponents(study).current_A.prefactor / (0.2 / (mu0 * 10))).toBeCloseTo(1, 10);
  });
  it("of solid wire at high frequency are no power law of the bore: the skin does not grow with it", () => {
    const { power_W } = scalingExponents({ ...study, resistance: "skin" });
    expect(power_W.worstResidual).toBeGreaterThan(0.01);
    // Between direct current (P ∝ a) and a thin skin (R ∝ a⁰, P ∝ a²), and rising with the frequency up to its root.
    expect(power_W.exponents.scale).toBeGreaterThan(1);
    expect(power_W.exponents.scale).toBeLessThan(2);
    expect(power_W.exponents.frequency).toBeGreaterThan(0);
    expect(power_W.exponents.frequency).toBeLessThan(0.5);
    expect(power_W.exponents.wanted).toBeCloseTo(2, 12);
  });
  it.each<[string, Partial<ScalingStudy>, RegExp]>([
    ["one scale", { scales: [1] }, /scales: found \[1\]/],
    ["one field twice", { wanted: [1, 1] }, /wanted/],
    ["a negative frequency", { frequencies_Hz: [-1, 1] }, /frequencies_Hz/],
    ["a coil that gives no field", { fieldPerAmpere: () => 0 }, /fieldPerAmpere/],
  ])("refuse %s", (_, changes, message) => expect(() => scalingExponents({ ...study, ...changes })).toThrow(message));
});
