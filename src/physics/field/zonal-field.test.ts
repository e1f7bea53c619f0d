import { describe, expect, it } from "vitest";
import { localGradient } from "./local-gradient.js";
import { zonalField } from "./zonal-field.js";

describe("zonal field", () => {
  it("is the written-out polynomials up to degree 5", () => {
    const [x, y, z] = [0.3, -0.2, 0.5];
    const q = x * x + y * y;
    const parts: [radial: number, axial: number][] = [
      [0, 1],
      [-1 / 2, z],
      [-z, z * z - q / 2],
      [-1.5 * z ** 2 + 0.375 * q, z ** 3 - 1.5 * z * q],
      [-2 * z ** 3 + 1.5 * z * q, z ** 4 - 3 * z * z * q + 0.375 * q * q],
      [-2.5 * z ** 4 + 3.75 * z * z * q - 0.3125 * q * q, z ** 5 - 5 * z ** 3 * q + 1.875 * z * q * q],
    ];
    parts.forEach(([radial, axial], k) => {
      const field = zonalField([...Array(k).fill(0), 1]);
      const found = field(Float64Array.of(x, y, z));
      // A few roundings of terms below 1.
      [radial * x, radial * y, axial].forEach((value, i) => {
        expect(Math.abs(found[i] - value)).toBeLessThan(2e-16);
      });
    });
  });

  it("has neither divergence nor curl off the axis, about a centre of its own", () => {
    const field = zonalField([0.1, 2, -30, 400, 5e3], { center_m: [0.01, 0, -0.02] });
    const j = localGradient(field, [0.03, -0.02, 0.04], { step_m: 0.002 });
    // Degree 4 is exact in the order-6 differences; rounding of 0.3 T over 2 mm leaves 1e-13 T/m.
    for (const value of [j[0] + j[4] + j[8], j[1] - j[3], j[2] - j[6], j[5] - j[7]])
      expect(Math.abs(value)).toBeLessThan(1e-12);
    expect(Math.hypot(...field(Float64Array.of(0.01, 0, -0.02)))).toBe(0.1);
  });
});
