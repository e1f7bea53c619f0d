import { describe, expect, it } from "vitest";
import { vacuumPermeability_T_m_per_A } from "../../units/index.js";
import type { FieldFunction, LoopSource } from "../sources/source.js";
import { driveCoupling, gradiometerResponse } from "./gradiometer.js";

const a = 20e-3;
const base = 60e-3;
const winding = (z: number, turns: number): LoopSource => ({
  kind: "loop",
  center_m: [0, 0, z],
  normal: [0, 0, 1],
  radius_m: a,
  current_A: turns,
});
const single = [winding(0, 10)];
const pair = [winding(0, 10), winding(base, -10)];
/** Second order: 1, -2, 1 at equal distances. */
const triple = [winding(0, -20), winding(base, 10), winding(-base, 10)];

/** Field at 1 A of loops about z, for points on the axis only. */
const onAxis =
  (loops: readonly LoopSource[]): FieldFunction =>
  (points_m, out = new Float64Array(points_m.length)) => {
    for (let i = 0; i < points_m.length; i += 3)
      out[i + 2] = loops.reduce((sum, { center_m, radius_m, current_A }) => {
        const distance = Math.hypot(radius_m, points_m[i + 2] - center_m[2]);
        return sum + (vacuumPermeability_T_m_per_A * current_A * radius_m ** 2) / 2 / distance ** 3;
      }, 0);
    return out;
  };
const near = { point_m: [0, 0, 0], axis: [0, 0, 1] } as const;

describe("gradiometer", () => {
  it("one winding takes all of a uniform field, a pair none, and both keep the near moment", () => {
    const one = gradiometerResponse(single, onAxis(single), near);
    const two = gradiometerResponse(pair, onAxis(pair), near);
    expect(one.uniformShare).toBe(1);
    expect(two.uniformShare).toBe(0);
    expect(two.momentOfUniform_A_m2_per_T).toBe(0);
    // The far winding takes (1 + 9)^(-3/2) = 3.2 % of the near moment's flux away.
    expect(two.nearFlux_Wb / one.nearFlux_Wb).toBeCloseTo(1 - 10 ** -1.5, 12);
  });

  it("a linear field leaves area times baseline in a pair and nothing in the second order", () => {
    const two = gradiometerResponse(pair, onAxis(pair), near);
    const three = gradiometerResponse(triple, onAxis(triple), near);
    expect(two.gradientFlux_Wb).toBeCloseTo(-10 * Math.PI * a * a * base, 15);
    expect(Math.abs(three.gradientFlux_Wb)).toBeLessThan(1e-18);
    expect(Math.abs(three.areaTurns_m2[2])).toBeLessThan(1e-18);
  });

  it("1 % more area on one side leaves 1/201 of a uniform field", () => {
    const uneven = [winding(0, 10.1), winding(base, -10)];
    expect(gradiometerResponse(uneven, onAxis(uneven), near).uniformShare).toBeCloseTo(0.1 / 20.1, 12);
  });

  it("coupling to a drive that is 1 % stronger at one side: 1 % imbalance, -40 dB", () => {
    const drive: FieldFunction = (points_m, out = new Float64Array(points_m.length)) => {
      for (let i = 0; i < points_m.length; i += 3) out[i + 2] = 1e-4 * (1 - (0.01 * points_m[i + 2]) / base);
      return out;
    };
    const { mutualInductance_H, imbalance, suppression_dB } = driveCoupling(pair, drive);
    expect(mutualInductance_H).toBeCloseTo(10 * Math.PI * a * a * 1e-6, 15);
    expect(imbalance).toBeCloseTo(0.01, 10);
    expect(suppression_dB).toBeCloseTo(-40, 8);
    expect(driveCoupling(single, drive).imbalance).toBe(1);
  });
});
