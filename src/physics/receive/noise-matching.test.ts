import { expect, it } from "vitest";
import { findMinimum } from "../../numerics/index.js";
import { noiseMatch } from "./noise-matching.js";
import type { ReceiveAmplifier, ReceiveCoil } from "./receive-chain.js";

const coil: ReceiveCoil = { resistance_Ohm: 3, inductance_H: 8e-6, capacitance_F: 0, temperature_K: 300 };
const amplifier: ReceiveAmplifier = { voltageNoise_V_per_sqrtHz: 1e-9, currentNoise_A_per_sqrtHz: 2e-12, gain: 10 };

it("the turns ratio is where a search finds the least amplifier noise", () => {
  const { turnsRatio, matchedNoise_V_per_sqrtHz, optimalImpedance_Ohm } = noiseMatch(coil, amplifier, 80e3);
  const z = Math.hypot(3, 2 * Math.PI * 80e3 * 8e-6);
  const nanovolts = (n: number) => Math.hypot(1 / n, 2e-3 * n * z);
  const { x, value } = findMinimum(nanovolts, [0.1, 100], { relative: 1e-9 });
  expect(turnsRatio / x).toBeCloseTo(1, 5);
  expect(matchedNoise_V_per_sqrtHz * 1e9).toBeCloseTo(value, 10);
  expect(optimalImpedance_Ohm).toBeCloseTo(500, 9);
});

it("refuses an amplifier without current noise: there is no optimum", () => {
  expect(() => noiseMatch(coil, { ...amplifier, currentNoise_A_per_sqrtHz: 0 }, 80e3)).toThrow(/currentNoise/);
});
