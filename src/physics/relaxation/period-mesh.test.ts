import { describe, expect, it } from "vitest";
import { cosineDrive, pulsedDrive } from "../signal/periodic-field.js";
import { periodMesh, stageFields, stepsPerInterval } from "./period-mesh.js";

describe("period mesh", () => {
  it("spends steps where the field changes", () => {
    expect([...stepsPerInterval(cosineDrive(1, 1), 256)]).toEqual(new Array(256).fill(1));
    const pulses = stepsPerInterval(pulsedDrive(1, 1, { riseTime_s: 0.002 }), 64);
    const busy = [...pulses.keys()].filter((k) => pulses[k] > 1);
    // Edges in the middle of intervals' borders at 1/4 and 3/4: both neighbours share each.
    expect(busy).toEqual([15, 16, 47, 48]);
    expect([...stepsPerInterval({ period_s: 1, field_T: () => 0.1 }, 4)]).toEqual([4, 4, 4, 4]);
  });

  it("hits every sample time on every level", () => {
    const perInterval = Int32Array.of(1, 3, 2);
    for (const level of [0, 1, 2]) {
      const { step_s, start_s, sampleStep } = periodMesh(6, perInterval, level);
      expect(step_s.length).toBe(6 * 2 ** level);
      const ends = [...sampleStep].map((s) => start_s[s] + step_s[s]);
      for (const [k, time] of [6, 2, 4].entries()) expect(Math.abs(ends[k] - time)).toBeLessThan(1e-14);
      expect(step_s.reduce((sum, h) => sum + h, 0)).toBeCloseTo(6, 12);
    }
  });

  it("samples the field at the stages", () => {
    const mesh = periodMesh(1, Int32Array.of(2), 0);
    expect([...stageFields({ period_s: 1, field_T: (t) => t }, mesh, [0, 0.5])]).toEqual([0, 0.25, 0.5, 0.75]);
  });
});
