import { expect, it } from "vitest";
import { johnsonNoiseFormula, thermalNoise_V_per_sqrtHz } from "./thermal-noise.js";

it("50 Ohm at 300 K: 0.9101590 nV per root hertz (facts W42)", () => {
  expect(thermalNoise_V_per_sqrtHz(50, 300) * 1e9).toBeCloseTo(0.910159, 6);
  expect(thermalNoise_V_per_sqrtHz(200, 300)).toBeCloseTo(2 * thermalNoise_V_per_sqrtHz(50, 300), 20);
  expect(thermalNoise_V_per_sqrtHz(0, 300)).toBe(0);
});

it("the formula gives density and rms voltage", () => {
  const found = johnsonNoiseFormula.compute({ resistance: 50, temperature: 300, bandwidth: 1e6 });
  expect(found["noise-density"]).toBeCloseTo(0.910159e-9, 14);
  expect(found["noise-voltage"]).toBeCloseTo(0.910159e-6, 11);
});

it("refuses a negative resistance", () => {
  expect(() => thermalNoise_V_per_sqrtHz(-1, 300)).toThrow(/resistance_Ohm/);
});
