import { describe, expect, it } from "vitest";
import { langevin } from "../particle/langevin.js";
import { type LegendreSteps, legendreSteps, radauInverse, radauNodes } from "./legendre-steps.js";

/** Particles under a field of time, from random orientation. */
function steps(
  field_T: (time_s: number) => number,
  {
    xi = [5],
    tau = [1],
    moments = 24,
    count = 64,
    end_s = 2 * Math.PI,
  }: { xi?: number[]; tau?: number[]; moments?: number; count?: number; end_s?: number } = {},
): LegendreSteps {
  const h = end_s / count;
  return {
    stageField_T: Float64Array.from({ length: 3 * count }, (_, i) =>
      field_T((Math.floor(i / 3) + radauNodes[i % 3]) * h),
    ),
    step_s: new Float64Array(count).fill(h),
    xiPerTesla: Float64Array.from(xi),
    brownTime_s: Float64Array.from(tau),
    moments,
    state: new Float64Array(moments * xi.length),
    trace: new Float64Array(count * xi.length),
    tail: new Float64Array(xi.length),
  };
}

describe("legendreSteps", () => {
  it("has the Radau IIA coefficients", () => {
    const r = Math.sqrt(6);
    const expected = [
      ...[2 + r / 2, -6 / 5 + (29 * r) / 30, 2 / 5 - (4 * r) / 15],
      ...[-6 / 5 - (29 * r) / 30, 2 - r / 2, 2 / 5 + (4 * r) / 15],
      ...[-1 + (8 * r) / 3, -1 - (8 * r) / 3, 5],
    ];
    for (const [i, value] of expected.entries()) expect(Math.abs(radauInverse[i] - value)).toBeLessThan(2e-15);
    expect(Math.abs(radauNodes[0] - (4 - r) / 10)).toBeLessThan(1e-16);
    expect(Math.abs(radauNodes[1] - (4 + r) / 10)).toBeLessThan(2e-16);
    // The inverse undoes the collocation at the nodes: W c = 1.
    for (let i = 0; i < 3; i++) {
      const sum = radauNodes.reduce((total, c, j) => total + radauInverse[3 * i + j] * c, 0);
      expect(Math.abs(sum - 1)).toBeLessThan(1e-14);
    }
  });

  it("settles in equilibrium: <P1> = L and <P2> = 1 - 3L/xi (facts R17)", () => {
    for (const [xi, second] of [
      [1, 0.060894],
      [5, 0.519946],
      [10, 0.73],
    ]) {
      const run = steps(() => 1, { xi: [xi], end_s: 60, moments: 40 });
      legendreSteps(run);
      expect(Math.abs(run.state[0] - langevin(xi))).toBeLessThan(1e-13);
      expect(Math.abs(run.state[1] - (1 - (3 * langevin(xi)) / xi))).toBeLessThan(1e-13);
      expect(Math.abs(run.state[1] - second)).toBeLessThan(5.1e-7);
    }
  });

  it("decays as e^(-n(n+1)t/(2 tau)) without a field", () => {
    const run = steps(() => 0, { end_s: 1, count: 200, moments: 4 });
    run.state.fill(0.1);
    legendreSteps(run);
    for (let n = 1; n <= 4; n++)
      expect(Math.abs(run.state[n - 1] - 0.1 * Math.exp((-n * (n + 1)) / 2))).toBeLessThan(1e-10);
  });

  it("is of order 5", () => {
    const end = (count: number) => {
      const run = steps(Math.sin, { count, end_s: 3 });
      legendreSteps(run);
      return run.state[0];
    };
    const exact = end(2000);
    const order = Math.log2(Math.abs((end(20) - exact) / (end(40) - exact)));
    expect(order).toBeGreaterThan(4.6);
    expect(order).toBeLessThan(5.6);
  });

  it("lands on equilibrium where the step is long against the Brown time", () => {
    const run = steps(Math.cos, { tau: [1e-9], count: 7 });
    legendreSteps(run);
    for (let s = 0; s < 7; s++)
      expect(Math.abs(run.trace[s] - langevin(5 * Math.cos(((s + 1) * 2 * Math.PI) / 7)))).toBeLessThan(1e-7);
  });

  it("gives each particle the same bits alone and in company, and turns with the field's sign", () => {
    const xi = [0.3, 5, 20];
    const tau = [2, 1, 0.1];
    const together = steps(Math.cos, { xi, tau });
    legendreSteps(together);
    for (const p of [0, 1, 2]) {
      const alone = steps(Math.cos, { xi: [xi[p]], tau: [tau[p]] });
      legendreSteps(alone);
      expect(alone.trace).toEqual(together.trace.filter((_, i) => i % 3 === p));
      expect(alone.tail[0]).toBe(together.tail[p]);
      const reversed = steps((t) => -Math.cos(t), { xi: [xi[p]], tau: [tau[p]] });
      legendreSteps(reversed);
      expect(reversed.trace.map((value) => -value)).toEqual(alone.trace);
    }
  });

  it("takes steps of different lengths", () => {
    const even = steps(() => 1, { count: 40, end_s: 2 });
    legendreSteps(even);
    const uneven = steps(() => 1, { count: 40, end_s: 2 });
    for (let s = 0; s < 40; s++) uneven.step_s[s] *= s % 2 === 0 ? 0.5 : 1.5;
    legendreSteps(uneven);
    expect(Math.abs(uneven.state[0] - even.state[0])).toBeLessThan(1e-7);
  });
});
