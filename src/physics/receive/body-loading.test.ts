import { expect, it } from "vitest";
import { bodyLoading } from "./body-loading.js";

const tissue = { conductivity_S_per_m: 0.36, frequency_Hz: 100e3 };

it("grows as frequency and sensitivity squared, and names its frequency", () => {
  const sample = { kind: "sphere", radius_m: 0.09 } as const;
  const { resistance_Ohm: r, frequency_Hz } = bodyLoading(sample, 30e-6, tissue);
  expect(frequency_Hz).toBe(100e3);
  expect(bodyLoading(sample, 60e-6, tissue).resistance_Ohm / r).toBeCloseTo(4, 12);
  expect(bodyLoading(sample, 30e-6, { ...tissue, frequency_Hz: 300e3 }).resistance_Ohm / r).toBeCloseTo(9, 12);
});

it("a sphere and a cylinder of the same radius and volume: a^2/10 against a^2/8", () => {
  const radius_m = 0.02;
  const ball = bodyLoading({ kind: "sphere", radius_m }, 30e-6, tissue).resistance_Ohm;
  const rod = bodyLoading({ kind: "cylinder", radius_m, length_m: (4 / 3) * radius_m }, 30e-6, tissue).resistance_Ohm;
  expect(ball / rod).toBeCloseTo(0.8, 12);
});

it("refuses a sample without size and a negative conductivity", () => {
  expect(() => bodyLoading({ kind: "sphere", radius_m: 0 }, 30e-6, tissue)).toThrow(/sample.radius_m/);
  expect(() => bodyLoading({ kind: "sphere", radius_m: 0.1 }, 30e-6, { ...tissue, conductivity_S_per_m: -1 })).toThrow(
    /conductivity/,
  );
});
