import { describe, expect, it } from "vitest";
import { vacuumPermeability_T_m_per_A as mu0 } from "../../units/index.js";
import { fieldAtPoint } from "./field-of-sources.js";
import { gradientOfSources } from "./gradient-of-sources.js";
import type { CoilStackSource } from "./source.js";

const thick: CoilStackSource = {
  kind: "coil-stack",
  center_m: [0, 0, 0],
  normal: [0, 0, 1],
  innerRadius_m: 0.05,
  outerRadius_m: 0.08,
  length_m: 0.1,
  current_A: 1000,
};
const sheet: CoilStackSource = { ...thick, outerRadius_m: 0.05 };
const magnitude = (a: ArrayLike<number>, b: ArrayLike<number>) => Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);

describe("coil stack", () => {
  it("thin, on the axis: the solenoid's end correction, facts L7", () => {
    for (const z of [0, 0.02, 0.05, 0.3, -5]) {
      const cosine = (s: number) => s / Math.hypot(0.05, s);
      const expected = ((mu0 * 1000) / 0.1 / 2) * (cosine(0.05 - z) + cosine(0.05 + z));
      // The closed form itself loses digits far away, not the field.
      expect(fieldAtPoint([sheet], [0, 0, z])[2] / expected).toBeCloseTo(1, z === -5 ? 10 : 13);
    }
  });

  it("thick, at the centre: (mu0 j L/2) ln[(r2 + √(r2² + h²))/(r1 + √(r1² + h²))]", () => {
    const h = 0.05;
    const density = 1000 / (0.03 * 0.1);
    const expected = mu0 * density * h * Math.log((0.08 + Math.hypot(0.08, h)) / (0.05 + Math.hypot(0.05, h)));
    expect(fieldAtPoint([thick], [0, 0, 0])[2] / expected).toBeCloseTo(1, 13);
  });

  it("a sheet jumps by mu0 K; on it stands the mean", () => {
    const at = (rho: number) => fieldAtPoint([sheet], [rho, 0, 0.01])[2];
    expect(at(0.05 * (1 - 1e-9)) - at(0.05 * (1 + 1e-9))).toBeCloseTo((mu0 * 1000) / 0.1, 9);
    expect((at(0.05 * (1 - 1e-9)) + at(0.05 * (1 + 1e-9))) / 2).toBeCloseTo(at(0.05), 9);
  });

  it("two halves, cut through the observer, make the whole, also inside the winding", () => {
    const half = { ...thick, current_A: 500 };
    const cut = [
      { ...half, innerRadius_m: 0.05, outerRadius_m: 0.065 },
      { ...half, innerRadius_m: 0.065, outerRadius_m: 0.08 },
    ];
    for (const point of [
      [0.06, 0, 0.02],
      [0, 0.0651, 0.05],
      [0.03, 0.01, 0.2],
      [0.5, 0, 0.1],
      [400, 100, -300],
    ] as const) {
      const whole = fieldAtPoint([thick], point);
      expect(magnitude(whole, fieldAtPoint(cut, point)) / Math.hypot(...whole)).toBeLessThan(1e-13);
    }
  });

  it("inside the winding curl B = mu0 j, div B = 0", () => {
    const g = gradientOfSources([thick], [0.065, 0, 0.01]);
    const density = 1000 / (0.03 * 0.1);
    // j points along +y there: (curl B)_y = dBx/dz − dBz/dx.
    expect((g[2] - g[6]) / (mu0 * density)).toBeCloseTo(1, 10);
    expect(Math.abs(g[0] + g[4] + g[8])).toBeLessThan(1e-10 * mu0 * density);
  });

  it("has no step where the Gauss rule takes over from the ends", () => {
    const steps = Array.from({ length: 400 }, (_, i) => fieldAtPoint([sheet], [0.02, 0, 0.05 + i * 5e-4])[2]);
    // Two half sheets change over at other heights.
    const twin = Array.from({ length: 400 }, (_, i) => {
      const halves = [-0.025, 0.025].map(
        (z): CoilStackSource => ({
          ...sheet,
          center_m: [0, 0, z],
          length_m: 0.05,
          current_A: 500,
        }),
      );
      return fieldAtPoint(halves, [0.02, 0, 0.05 + i * 5e-4])[2];
    });
    expect(Math.max(...steps.map((value, i) => Math.abs(value / twin[i] - 1)))).toBeLessThan(1e-13);
  });

  it("has no value on a sheet's rim", () => {
    expect(fieldAtPoint([sheet], [0.05, 0, 0.05]).some(Number.isNaN)).toBe(true);
  });
});
