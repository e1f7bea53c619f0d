import { describe, expect, it } from "vitest";
import { localFields, localGradient } from "./local-gradient.js";
import { zonalField } from "./zonal-field.js";

describe("local gradient", () => {
  it("of a zonal field is exact up to degree 6", () => {
    const j = localGradient(zonalField([0, 2, 0, -30, 0, 900]), [0, 0, 0.1], { step_m: 0.01 });
    const axial = 2 - 90 * 0.01 + 4500 * 1e-4;
    // Rounding only: 0.2 T over 1 cm.
    expect(Math.abs(j[8] - axial)).toBeLessThan(1e-13);
    expect(Math.abs(j[0] + axial / 2)).toBeLessThan(1e-13);
    expect(Math.abs(j[4] + axial / 2)).toBeLessThan(1e-13);
  });

  it.each([
    [2, 4],
    [4, 16],
    [6, 64],
  ] as const)("of order %i loses %i times less at half the step", (order, ratio) => {
    const field = zonalField([0, 0, 0, 0, 0, 0, 0, 1, 0, 1]);
    const truth = 7 * 0.5 ** 6 + 9 * 0.5 ** 8;
    const error = (step_m: number): number => localGradient(field, [0, 0, 0.5], { step_m, order })[8] - truth;
    // The next term of the error: up to 6 % of the leading one at these steps.
    expect(error(0.02) / error(0.01) / ratio).toBeCloseTo(1, 1);
  });

  it("takes many points in one call and gives the field there too", () => {
    let calls = 0;
    const { field_T, gradient_T_per_m } = localFields(
      (points) => {
        calls++;
        return zonalField([0.5, 2])(points);
      },
      Float64Array.of(2, 4, 0, 1, 2, 3),
      { step_m: 0.1 },
    );
    expect(calls).toBe(1);
    expect([...field_T]).toEqual([-2, -4, 0.5, -1, -2, 6.5]);
    expect(gradient_T_per_m[17]).toBeCloseTo(2, 12);
    expect(gradient_T_per_m[10]).toBeCloseTo(0, 12);
  });

  it.each([
    [Float64Array.of(0, 0), 1e-3, /three values a point/],
    [Float64Array.of(0, 0, 0), 0, /positive length/],
    [Float64Array.of(0, 0, 0), Number.NaN, /positive length/],
  ])("refuses %j with step %d", (points, step_m, message) => {
    expect(() => localFields(zonalField([1]), points, { step_m })).toThrow(message);
  });
});
