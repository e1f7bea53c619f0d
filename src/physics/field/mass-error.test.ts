import { describe, expect, it } from "vitest";
import type { Vector3 } from "../sources/source.js";
import { massErrorOfSphere } from "./mass-error.js";
import { zonalField } from "./zonal-field.js";

/** The image is made with 2 T/m about the origin. */
const reference = { center_m: [0, 0, 0] as Vector3, gradient_T_per_m: Float64Array.of(-1, 0, 0, 0, -1, 0, 0, 0, 2) };
const radius_m = 2e-3;

describe("mass error of a ball", () => {
  it("is 1 - 1/s^3 when the map magnifies by s about its centre", () => {
    for (const s of [1.01, 1.1, 1.5]) {
      const { missedShare } = massErrorOfSphere(
        zonalField([0, 2 * s]),
        { center_m: [0, 0, 0], radius_m },
        { reference },
      );
      // All directions cross at x = 1/s: false position ends at rounding.
      expect(Math.abs(missedShare - (1 - 1 / s ** 3))).toBeLessThan(1e-12);
    }
  });

  it("is nothing when the map shrinks, or is ideal", () => {
    for (const s of [1, 0.9]) {
      const { missedShare } = massErrorOfSphere(
        zonalField([0, 2 * s]),
        { center_m: [0, 0, 0], radius_m },
        { reference },
      );
      expect(missedShare).toBeLessThan(1e-12);
    }
  });

  it.each([0.05, 0.3, 1, 1.9])("of a ball drawn %d radii aside is what two equal balls do not share", (share) => {
    const d = share * radius_m;
    const ball = { center_m: [0.001, 0.002, 0.003] as Vector3, radius_m };
    const { missedShare, centroidShift_m } = massErrorOfSphere(zonalField([2 * d, 2]), ball, { reference });
    const shared = 1 - (3 / 4) * share + share ** 3 / 16;
    // The part that is crossed has a rim, which the directions sample: worst 4.4e-4, at one radius.
    expect(Math.abs(missedShare - (1 - shared))).toBeLessThan(5e-4);
    [0, 0, d].forEach((value, i) => {
      expect(Math.abs(centroidShift_m[i] - value)).toBeLessThan(1e-15);
    });
  });

  it("falls with the square of the rings, whatever the direction of the shift", () => {
    const ball = { center_m: [0.001, 0.002, 0.003] as Vector3, radius_m };
    const turned = { center_m: [0, 0, 0] as Vector3, gradient_T_per_m: reference.gradient_T_per_m };
    // Half a radius along (1, 2, 2)/3: B added is G times that.
    const d = radius_m / 2 / 3;
    const shifted = (points: Float64Array): Float64Array =>
      zonalField([0, 2])(points).map((value, i) => value + [-d, -2 * d, 4 * d][i % 3]);
    const truth = 3 / 8 - 1 / 128;
    const off = (rings: number): number =>
      Math.abs(massErrorOfSphere(shifted, ball, { reference: turned, rings }).missedShare - truth);
    expect(off(32)).toBeLessThan(5e-4);
    expect(off(64)).toBeLessThan(1.5e-4);
  });

  it("is all of it when the ball is drawn elsewhere", () => {
    const ball = { center_m: [0, 0, 0] as Vector3, radius_m };
    expect(massErrorOfSphere(zonalField([2 * 2.1 * radius_m, 2]), ball, { reference }).missedShare).toBe(1);
  });

  it.each([
    [{ radius_m: 0 }, {}, /positive radius/],
    [{}, { rings: 2 }, /4 to 200 rings/],
  ])("refuses %j %j", (ball, options, message) => {
    const asked = { center_m: [0, 0, 0] as Vector3, radius_m, ...ball };
    expect(() => massErrorOfSphere(zonalField([0, 2]), asked, { reference, ...options })).toThrow(message);
  });
});
