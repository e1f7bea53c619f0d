import { expect, it } from "vitest";
import { partialFieldOfView_m, peakSpeed_m_per_s } from "./field-free-motion.js";

it("the partial field of view is where drive and selection field cancel: |G x| <= A", () => {
  const [amplitude_T, gradient_T_per_m] = [0.02, 7];
  const edge_m = partialFieldOfView_m(amplitude_T, gradient_T_per_m) / 2;
  expect(edge_m * gradient_T_per_m).toBeCloseTo(amplitude_T, 15);
});

it("the peak speed is the fastest step of the sampled position", () => {
  const [amplitude_T, gradient_T_per_m, frequency_Hz] = [0.012, 2.5, 25e3];
  const position_m = (t: number) => (amplitude_T / gradient_T_per_m) * Math.sin(2 * Math.PI * frequency_Hz * t);
  const dt = 1e-4 / frequency_Hz; // sin(x)/x at x = 3e-4: 2e-8 below the true peak
  const fastest = (position_m(dt / 2) - position_m(-dt / 2)) / dt;
  expect(fastest / peakSpeed_m_per_s(amplitude_T, gradient_T_per_m, frequency_Hz)).toBeCloseTo(1, 7);
});
