import { expect, it } from "vitest";
import { coreMaterials, momentPerIron_A_m2_per_kg, xiPerTesla } from "../particle/core.js";
import { quasiStaticHarmonic } from "../relaxation/quasi-static-harmonics.js";
import { pointHarmonics_V_per_kg } from "./point-harmonics.js";

const coil = {
  sensitivity_T_per_A: Math.PI * 1e-5,
  momentPerIron_A_m2_per_kg: momentPerIron_A_m2_per_kg(446e3, coreMaterials.magnetite),
  frequency_Hz: 25e3,
};

it("at the passage of zero all harmonics add up: 3.4485 nV per ng Fe at 20 mT, 25 kHz, 20 mm (facts N14)", () => {
  const driveXi = 20e-3 * xiPerTesla(25e-9, 446e3, 300);
  const relative = Array.from({ length: 301 }, (_, i) => (i % 2 === 0 ? quasiStaticHarmonic(driveXi, i + 1) : 0));
  const peak = pointHarmonics_V_per_kg(relative, coil).reduce((sum, u) => sum + u, 0);
  expect(peak * 1e-12 * 1e9).toBeCloseTo(3.4485, 4);
});

it("harmonic n carries n times its share, without sign", () => {
  const [first, second, third] = pointHarmonics_V_per_kg([0.5, 0, -0.5], coil);
  expect(third / first).toBeCloseTo(3, 12);
  expect(second).toBe(0);
});

it("refuses a tracer without moment", () => {
  expect(() => pointHarmonics_V_per_kg([1], { ...coil, momentPerIron_A_m2_per_kg: 0 })).toThrow(/momentPerIron/);
});
