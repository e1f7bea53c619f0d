import { describe, expect, it } from "vitest";
import { relativeMagnetisation } from "../../physics/index.js";
import { fieldGrid } from "./field-grid.js";
import { logNormalAverage } from "./log-normal-average.js";

const conditions = { coreSaturation_A_per_m: 446e3, temperature_K: 300 };
const field_T = Float64Array.from({ length: 40 }, (_, i) => (i % 3 === 0 ? -1 : 1) * 1e-4 * 10 ** (i / 9));

const curveOf = (medianDiameter_m: number, logSd: number) =>
  logNormalAverage(field_T, { medianDiameter_m, logSd }, conditions);

describe("logNormalAverage", () => {
  it.each([
    [5e-9, 0.02],
    [12e-9, 0.2],
    [9e-9, 0.8],
    [30e-9, 1.2],
  ])("has the value of the physics layer and derivatives of differences, d %d, s %d", (d, s) => {
    const curve = curveOf(d, s);
    const sizes = { kind: "lognormal", weighting: "number", medianDiameter_m: d, logSd: s } as const;
    const plain = relativeMagnetisation(field_T, { sizes, saturation_A_per_m: 446e3, temperature_K: 300 });
    const h = 1e-4;
    const [up, down] = [curveOf(d * Math.exp(h), s), curveOf(d * Math.exp(-h), s)];
    const [wide, narrow] = [curveOf(d, s * (1 + h)), curveOf(d, s * (1 - h))];
    for (let i = 0; i < field_T.length; i++) {
      expect(Math.abs(curve.value[i] - plain[i])).toBeLessThan(1e-15);
      // central differences: h^2 = 1e-8 of a third derivative of order 10, rounding 1e-16 / h
      expect(Math.abs((up.value[i] - down.value[i]) / (2 * h) - curve.perLogMedian[i])).toBeLessThan(3e-7);
      expect(Math.abs((wide.value[i] - narrow.value[i]) / (2 * h * s) - curve.perLogSd[i])).toBeLessThan(1e-6);
    }
  });
  it("interpolates all three on a grid of the fields", () => {
    const many = Float64Array.from({ length: 3000 }, (_, i) => 1e-4 * 10 ** (i / 700));
    const population = { medianDiameter_m: 12e-9, logSd: 0.25 };
    const direct = logNormalAverage(many, population, conditions);
    const grid = fieldGrid(many);
    expect(grid).toBeDefined();
    const spread = logNormalAverage(many, population, { ...conditions, grid });
    for (const key of ["value", "perLogMedian", "perLogSd"] as const)
      for (let i = 0; i < many.length; i++) expect(Math.abs(spread[key][i] - direct[key][i])).toBeLessThan(1e-10);
  });
});
