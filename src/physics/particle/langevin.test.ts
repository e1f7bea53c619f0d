import { describe, expect, it } from "vitest";
import {
  langevin,
  langevinCurvature,
  langevinEach,
  langevinRatio,
  langevinRatioEach,
  langevinSlope,
  langevinSlopeEach,
} from "./langevin.js";

describe("Langevin functions", () => {
  it("meet their limits", () => {
    expect(langevin(0)).toBe(0);
    expect(Object.is(langevin(-0), -0)).toBe(true);
    expect([langevinSlope(0), langevinRatio(0)]).toEqual([1 / 3, 1 / 3]);
    expect(Math.abs(langevinCurvature(0))).toBe(0);
    expect([langevin(Number.POSITIVE_INFINITY), langevin(Number.NEGATIVE_INFINITY)]).toEqual([1, -1]);
    const far = [langevinSlope, langevinRatio].map((f) => f(Number.NEGATIVE_INFINITY));
    expect(far).toEqual([0, 0]);
    expect(Math.abs(langevinCurvature(Number.POSITIVE_INFINITY))).toBe(0);
  });

  it("pass NaN through", () => {
    for (const f of [langevin, langevinSlope, langevinRatio, langevinCurvature]) expect(f(Number.NaN)).toBeNaN();
  });

  it("round xi/3 correctly where xi is subnormal", () => {
    // In units of the smallest subnormal: 1/3 -> 0, 2/3 -> 1, 5/3 -> 2.
    const tiny = Number.MIN_VALUE;
    expect([langevin(tiny), langevin(2 * tiny), langevin(-5 * tiny)]).toEqual([0, tiny, -2 * tiny]);
  });

  it("are exactly 1 - 1/xi and 1/xi^2 beyond 700, to the largest double", () => {
    expect(langevin(800)).toBe(1 - 1 / 800);
    expect(langevinSlope(1e100)).toBe(1e-100 * 1e-100);
    expect([langevin(Number.MAX_VALUE), langevinSlope(Number.MAX_VALUE)]).toEqual([1, 0]);
  });

  it("are odd or even to the last bit", () => {
    for (const xi of [1e-320, 1e-9, 0.3, 0.999, 1, 3, 40, 900]) {
      expect(langevin(-xi)).toBe(-langevin(xi));
      expect(langevinCurvature(-xi)).toBe(-langevinCurvature(xi));
      expect(langevinSlope(-xi)).toBe(langevinSlope(xi));
      expect(langevinRatio(-xi)).toBe(langevinRatio(xi));
    }
  });

  it("join their two branches without a step", () => {
    // Neighbouring doubles: the functions differ by 1e-16 there, so anything above 1e-14 is a step between branches.
    for (const f of [langevin, langevinSlope, langevinRatio])
      expect(Math.abs(f(1 - Number.EPSILON / 2) / f(1) - 1)).toBeLessThan(1e-14);
    expect(Math.abs(langevinCurvature(1.5 - Number.EPSILON) / langevinCurvature(1.5) - 1)).toBeLessThan(1e-14);
  });
});

describe("array forms", () => {
  const xi = Float64Array.of(-20, -0.5, 0, 1e-12, 2);

  it("agree with the scalar forms and may write over their input", () => {
    expect(Array.from(langevinEach(xi))).toEqual(Array.from(xi, langevin));
    expect(Array.from(langevinRatioEach(xi))).toEqual(Array.from(xi, langevinRatio));
    const aliased = Float64Array.from(xi);
    expect(langevinSlopeEach(aliased, aliased)).toBe(aliased);
    expect(Array.from(aliased)).toEqual(Array.from(xi, langevinSlope));
  });

  it("refuse an output of another length", () => {
    expect(() => langevinEach(xi, new Float64Array(4))).toThrow(/at out: found length 4; accepted: length 5/);
  });
});
