import { describe, expect, it } from "vitest";
import { fieldErrors, gradientErrorMap, gradientErrors, gradientReference } from "./gradient-error.js";
import { zonalField } from "./zonal-field.js";

const [g, c3, c5] = [2, -120, 4e4];
const field = zonalField([0, g, 0, c3, 0, c5]);
const step_m = 1e-3;
const reference = gradientReference(field, [0, 0, 0], { step_m });

describe("gradient error", () => {
  it("on the axis is the derivative's change, the field error its mean along the way", () => {
    const z = 0.02;
    const [cubic, quintic] = [(c3 * z * z) / g, (c5 * z ** 4) / g];
    const at = Float64Array.of(0, 0, z);
    expect(gradientErrors(field, at, { reference, step_m })[0]).toBeCloseTo(Math.abs(3 * cubic + 5 * quintic), 12);
    expect(fieldErrors(field, at, { reference })[0]).toBeCloseTo(Math.abs(cubic + quintic), 12);
  });

  it("in the plane of symmetry is sqrt(234)/8 c rho^2 over sqrt(3/2) g for a cubic term", () => {
    const cubic = zonalField([0, g, 0, c3]);
    // J - G = c rho^2 diag(9/8, 3/8, -3/2); ||G|| = g sqrt(3/2).
    const truth = ((Math.abs(c3) * 0.01 ** 2) / g) * (Math.sqrt(234) / 8 / Math.sqrt(1.5));
    const at = Float64Array.of(0.006, 0.008, 0);
    expect(gradientErrors(cubic, at, { reference, step_m })[0]).toBeCloseTo(truth, 12);
  });

  it("is 0 at the centre, where the field error has no value", () => {
    const at = Float64Array.of(0, 0, 0);
    expect(gradientErrors(field, at, { reference, step_m })[0]).toBe(0);
    expect(fieldErrors(field, at, { reference })[0]).toBeNaN();
  });

  it("needs no zero at the centre: a uniform field changes nothing", () => {
    const shifted = zonalField([0.1, g, 0, c3, 0, c5]);
    const at = Float64Array.of(0.003, 0.004, 0.01);
    const plain = [gradientErrors(field, at, { reference, step_m }), fieldErrors(field, at, { reference })];
    const moved = [gradientErrors(shifted, at, { reference, step_m }), fieldErrors(shifted, at, { reference })];
    moved.forEach((values, i) => {
      expect(values[0]).toBeCloseTo(plain[i][0], 12);
    });
  });

  it("fills a plane, rows up and columns across, with nothing outside the bore", () => {
    const grid = { plane: "xz", shape: [5, 3], across_m: [-0.01, 0.01], up_m: [-0.02, 0.02] } as const;
    const map = gradientErrorMap(field, grid, { reference, step_m, within: { radius_m: 0.02, halfLength_m: 0.015 } });
    expect([map.plane, map.values.length]).toEqual(["xz", 15]);
    expect([...map.values.slice(0, 3), ...map.values.slice(12)].every(Number.isNaN)).toBe(true);
    const at = Float64Array.of(0.01, 0, -0.01);
    expect(map.values[5]).toBe(gradientErrors(field, at, { reference, step_m })[0]);
    const whole = gradientErrorMap(field, grid, { reference, step_m, measure: "field" });
    expect(whole.values[1]).toBeCloseTo(Math.abs(c3 * 4e-4 + c5 * 16e-8) / g, 12);
  });

  it("refuses a reference without gradient, and half a grid", () => {
    const none = { center_m: [0, 0, 0], gradient_T_per_m: new Float64Array(9) } as const;
    expect(() => gradientErrors(field, Float64Array.of(0, 0, 0), { reference: none, step_m })).toThrow(/not zero/);
    const grid = { plane: "xy", shape: [2.5, 3], across_m: [0, 1], up_m: [0, 1] } as const;
    expect(() => gradientErrorMap(field, grid, { reference, step_m })).toThrow(/whole numbers/);
  });
});
