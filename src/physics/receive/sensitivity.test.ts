import { describe, expect, it } from "vitest";
import { isKnownError } from "../../errors.js";
import { vacuumPermeability_T_m_per_A } from "../../units/index.js";
import type { FieldFunction } from "../sources/source.js";
import {
  coupledFlux_Wb,
  sensitivityAlong_T_per_A,
  sensitivityHomogeneity,
  sensitivityProfile,
  sensitivityReach_m,
} from "./sensitivity.js";

const a = 20e-3;

/** On the axis of a loop (all points here lie on it): mu0 a^2 / (2 (a^2 + z^2)^(3/2)). */
const onAxis: FieldFunction = (points_m, out = new Float64Array(points_m.length)) => {
  for (let i = 0; i < points_m.length; i += 3) {
    out[i + 2] = (vacuumPermeability_T_m_per_A * a * a) / 2 / Math.hypot(a, points_m[i + 2]) ** 3;
  }
  return out;
};
const alongZ = { center_m: [0, 0, 0], direction: [0, 0, 1] } as const;

describe("sensitivity of a receive coil", () => {
  it("is mu0/(2a) at the centre of a loop: 31.4159 uT/A at 20 mm (facts N13)", () => {
    // The facts use mu0 = 4 pi 1e-7, 1.3e-10 above ours.
    const [s] = sensitivityAlong_T_per_A(onAxis, new Float64Array(3), [0, 0, 1]);
    expect(s).toBeCloseTo(3.14159e-5, 9);
    expect(Math.abs(s / (Math.PI * 1e-5) - 1)).toBeLessThan(2e-10);
  });

  it("projects on the axis, and turns with it", () => {
    const half = sensitivityAlong_T_per_A(onAxis, new Float64Array(3), [0, Math.sqrt(0.75), 0.5])[0];
    const whole = sensitivityAlong_T_per_A(onAxis, new Float64Array(3), [0, 0, 1])[0];
    expect(half).toBeCloseTo(whole / 2, 18);
    expect(coupledFlux_Wb(onAxis, [0, 0, 0], [5, 5, -2])).toBeCloseTo(-2 * whole, 16);
  });

  it("profile is symmetric about the centre of a loop", () => {
    const { position_m, sensitivity_T_per_A: s } = sensitivityProfile(
      onAxis,
      { ...alongZ, halfLength_m: 0.03 },
      { count: 7 },
    );
    expect([position_m[0], position_m[3], position_m[6]]).toEqual([-0.03, 0, 0.03]);
    for (let i = 0; i < 7; i++) expect(s[i]).toBe(s[6 - i]);
  });

  it("leaves 10 % of the centre at a sqrt(0.9^(-2/3) - 1), closed form", () => {
    const reach = sensitivityReach_m(onAxis, alongZ, { axis: [0, 0, 1], limit_m: 0.05 });
    expect(reach / (a * Math.sqrt(0.9 ** (-2 / 3) - 1))).toBeCloseTo(1, 10);
    expect(sensitivityReach_m(onAxis, alongZ, { axis: [0, 0, 1], limit_m: 0.004 })).toBe(Number.POSITIVE_INFINITY);
  });

  it("homogeneity over points: spread, sd and share within the tolerance", () => {
    // Ratios 1, 1 and 0.75^(3/2) = 0.649519 (z^2 = a^2/3).
    const z = a / Math.sqrt(3);
    const points_m = Float64Array.of(0, 0, 0, 0, 0, 0, 0, 0, z);
    const found = sensitivityHomogeneity(onAxis, points_m, { axis: [0, 0, 1], reference_m: [0, 0, 0] });
    const drop = 1 - 0.75 ** 1.5;
    expect(found.relativeSpread).toBeCloseTo(drop, 12);
    expect(found.relativeSd).toBeCloseTo((drop * Math.SQRT2) / 3, 12);
    expect(found.shareWithin).toBeCloseTo(2 / 3, 12);
  });

  it("refuses an axis that is no unit vector and a reference without sensitivity", () => {
    const cases = [
      () => sensitivityAlong_T_per_A(onAxis, new Float64Array(3), [0, 0, 2]),
      () => sensitivityReach_m(onAxis, alongZ, { axis: [1, 0, 0], limit_m: 0.05 }),
      () => sensitivityProfile(onAxis, { ...alongZ, halfLength_m: 0.03 }, { count: 1 }),
    ];
    for (const attempt of cases) expect(codeOf(attempt)).toBe("InvalidValue");
    expect(
      codeOf(() => sensitivityHomogeneity(onAxis, new Float64Array(4), { axis: [0, 0, 1], reference_m: [0, 0, 0] })),
    ).toBe("ShapeMismatch");
  });
});

function codeOf(attempt: () => unknown): string {
  try {
    attempt();
  } catch (error) {
    if (isKnownError(error)) return error.code;
  }
  return "no refusal";
}
