import { describe, expect, it } from "vitest";
import { sweepOf } from "../../../test/invented-scanners.js";
import type { TracerModel } from "../../documents/index.js";
import { responseSpectrum } from "../../physics/index.js";
import { periodicField } from "../../runtime/index.js";
import { lazyPool, solveResponse } from "../predict/solve-response.js";
import { harmonicsAtDrives, mostHarmonics } from "./tracer-at-drives.js";

const { tracer } = sweepOf({ scanners: [], over: {}, parts: { cases: [{ name: "a", scanner: "s.json" }] } });
const debye: TracerModel = { ...tracer, relaxation: { kind: "debye", time_s: 2e-6 } };

async function solvedAlone(model: TracerModel, amplitude_T: number, frequency_Hz: number): Promise<Float64Array> {
  const data = { kind: "cosine", amplitude_T, frequency_Hz } as const;
  const { magnetisation } = await solveResponse(model, { data, field: periodicField(data) }, { pool: lazyPool() });
  return responseSpectrum(magnetisation, mostHarmonics).amplitude;
}

describe("harmonics of a tracer at the drives of a sweep", () => {
  it("without relaxation depend on the amplitude alone, and each is solved once", async () => {
    const parts: number[] = [];
    const pairs = [
      [0.01, 1e3],
      [0.01, 25e3],
      [0.02, 25e3],
    ] as const;
    const at = await harmonicsAtDrives(tracer, pairs, { onProgress: (part) => parts.push(part) });
    expect(parts).toEqual([0.5, 1]);
    expect(at(0.01, 1e3)).toBe(at(0.01, 25e3));
    const direct = await solvedAlone(tracer, 0.02, 25e3);
    for (const n of [1, 3, 5, 9]) expect(at(0.02, 25e3)[n] / direct[n]).toBeCloseTo(1, 12);
  });

  it("with a Debye time are those of a solution at each frequency", async () => {
    const pairs = [2e3, 25e3, 80e3].map((frequency) => [0.015, frequency] as const);
    const at = await harmonicsAtDrives(debye, pairs);
    for (const [amplitude, frequency] of pairs) {
      const direct = await solvedAlone(debye, amplitude, frequency);
      const filtered = at(amplitude, frequency);
      // Both are linear filters of one static response on one grid of samples: rounding of transforms.
      for (const n of [1, 3, 5, 9]) expect(filtered[n] / direct[n]).toBeCloseTo(1, 6);
    }
  });

  it("do not depend on what else is swept, to the bit", async () => {
    const [alone, among] = await Promise.all([
      harmonicsAtDrives(tracer, [[0.01, 7e3]]),
      harmonicsAtDrives(tracer, [
        [0.01, 7e3],
        [0.01, 25e3],
      ]),
    ]);
    expect(among(0.01, 7e3)).toEqual(alone(0.01, 7e3));
  });

  it("a drive that was not asked for is a fault of ours, not a silent zero", async () => {
    const at = await harmonicsAtDrives(tracer, [[0.01, 25e3]]);
    expect(() => at(0.011, 25e3)).toThrow(RangeError);
  });
});
