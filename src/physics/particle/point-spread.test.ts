import { describe, expect, it } from "vitest";
import type { ParticleEnsemble } from "./magnetisation.js";
import { relativeMagnetisation, relativeSlope_per_T } from "./magnetisation.js";
import { staticTransverseWidth_T, staticWidth_T, staticWidthAlong_m } from "./point-spread.js";

const material = { saturation_A_per_m: 446e3, temperature_K: 300 };
const single: ParticleEnsemble = { ...material, sizes: { kind: "single", diameter_m: 25e-9 } };
const broad: ParticleEnsemble = {
  ...material,
  sizes: { kind: "lognormal", weighting: "number", medianDiameter_m: 20e-9, logSd: 0.4 },
};
const x = [1, 0, 0] as const;
const y = [0, 1, 0] as const;
const z = [0, 0, 1] as const;
const pointGradient = [-3.5, 0, 0, 0, -3.5, 0, 0, 0, 7];

describe("static widths", () => {
  it("fall on the half height of the curve they belong to", () => {
    for (const ensemble of [single, broad]) {
      const along = relativeSlope_per_T(Float64Array.of(0, staticWidth_T(ensemble) / 2), ensemble);
      expect(along[1] / along[0]).toBeCloseTo(0.5, 12);
      const half_T = staticTransverseWidth_T(ensemble) / 2;
      const across = relativeMagnetisation(Float64Array.of(half_T), ensemble)[0] / half_T;
      expect(across / along[0]).toBeCloseTo(0.5, 12);
    }
  });

  it("narrow when a number-weighted distribution broadens", () => {
    const narrow: ParticleEnsemble = { ...broad, sizes: { kind: "single", diameter_m: 20e-9 } };
    expect(staticWidth_T(broad)).toBeLessThan(0.2 * staticWidth_T(narrow));
  });
});

describe("widths along a direction", () => {
  it("divide by the gradient along that direction", () => {
    const width = (drive: typeof x | typeof z, along: readonly [number, number, number]) =>
      staticWidthAlong_m(single, pointGradient, { drive, along });
    expect(width(z, z)).toBeCloseTo(staticWidth_T(single) / 7, 15);
    expect(width(z, x)).toBeCloseTo(staticTransverseWidth_T(single) / 3.5, 15);
    // Published rule of thumb 2.275 holds for equal gradients; here the gradient across is half.
    expect(width(z, x) / width(z, z)).toBeCloseTo(2 * 2.275061, 5);
  });

  it("are the same from both sides, for any length of the vectors, and lie between the extremes", () => {
    const along = [1, 0, 1] as const;
    const width = staticWidthAlong_m(single, pointGradient, { drive: z, along });
    expect(staticWidthAlong_m(single, pointGradient, { drive: [0, 0, -2], along: [-3, 0, -3] })).toBeCloseTo(width, 15);
    const slope = Math.hypot(-3.5, 7) / Math.SQRT2; // |G n|
    expect(width).toBeGreaterThan(staticWidth_T(single) / slope);
    expect(width).toBeLessThan(staticTransverseWidth_T(single) / slope);
  });

  it("refuse a direction without gradient, no direction, and a tensor of another shape", () => {
    const line = [7, 0, 0, 0, -7, 0, 0, 0, 0];
    expect(() => staticWidthAlong_m(single, line, { drive: x, along: z })).toThrow(/no gradient along \[0, 0, 1\]/);
    expect(() => staticWidthAlong_m(single, line, { drive: x, along: [0, 0, 0] })).toThrow(
      /at along: found \[0, 0, 0\]/,
    );
    expect(() => staticWidthAlong_m(single, [1, 2, 3], { drive: x, along: y })).toThrow(/found 3 numbers/);
  });
});
