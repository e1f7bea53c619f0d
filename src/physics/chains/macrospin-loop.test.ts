import { describe, expect, it } from "vitest";
import { finishSteps } from "../../numerics/index.js";
import { boltzmannConstant_J_per_K } from "../../units/index.js";
import { type EasyAxes, type MacrospinChain, suggestedStep_s } from "./macrospin-chain.js";
import { macrospinChunk } from "./macrospin-chunk.js";
import { combineMacrospins, macrospinLoop } from "./macrospin-loop.js";
import { chainsPerChunk, type MacrospinRun, macrospinChunks } from "./macrospin-run.js";
import { macrospinSteps } from "./macrospin-steps.js";
import { reversalField } from "./reversal-field.js";

const kT = boltzmannConstant_J_per_K * 300;
const chain: MacrospinChain = {
  spins: 3,
  moment_A_m2: 1.868e-18,
  spacing_m: 24e-9,
  easyAxes: { kind: "random", barrier_J: 2 * kT, brownTime_s: 2e-8 },
  damping: 0.5,
  temperature_K: 300,
};
const run: MacrospinRun = {
  field_T: (time_s) => 0.01 * Math.cos(1e9 * time_s),
  times_s: Float64Array.of(0, 1e-9, 2.5e-9),
  step_s: 5e-11,
  chains: 70,
  fieldDirection: "random",
  seed: 11,
};

describe("a run over many chains", () => {
  it("is the same as its chunks done in any order and added in index order", () => {
    const whole = finishSteps(macrospinLoop(chain, run));
    const count = macrospinChunks(run);
    expect(count).toBe(3);
    const parts = [2, 0, 1].map((chunk) => ({ chunk, sums: finishSteps(macrospinChunk(chain, run, { chunk })) }));
    const ordered = parts.sort((a, b) => a.chunk - b.chunk).map(({ sums }) => sums);
    expect(combineMacrospins(ordered, chain)).toEqual(whole);
    expect(ordered.map(({ chains }) => chains)).toEqual([chainsPerChunk, chainsPerChunk, 6]);
  });

  it("does not change its first chunks when chains are added, and changes with seed and job", () => {
    const first = (change: Partial<MacrospinRun>) =>
      finishSteps(macrospinChunk(chain, { ...run, ...change }, { chunk: 0 }));
    expect(first({ chains: 1000 })).toEqual(first({}));
    for (const change of [{ seed: 12 }, { job: 1 }]) expect(first(change).perSpin).not.toEqual(first({}).perSpin);
  });

  it("passes its kernel on, reports rising progress and reads the start at time 0", () => {
    let calls = 0;
    const steps = macrospinLoop(
      chain,
      { ...run, start: "against-field" },
      {
        kernel: (block) => {
          calls++;
          macrospinSteps(block);
        },
      },
    );
    const seen: number[] = [];
    let next = steps.next();
    for (; !next.done; next = steps.next()) seen.push(next.value);
    expect(calls).toBe(seen.length);
    expect(seen.length).toBeGreaterThan(2);
    expect(seen.every((fraction, i) => fraction <= 1 && fraction >= (i === 0 ? 0 : seen[i - 1]))).toBe(true);
    expect(next.value.moment[0]).toBeCloseTo(-1, 14);
    expect(next.value.moment[2]).toBeGreaterThan(-0.99);
  });

  it("gives means that fit together: over spins, over times, over chains", () => {
    const { moment, perSpin, overall, standardError } = finishSteps(macrospinLoop(chain, run));
    const means = moment.map((_, i) => (perSpin[3 * i] + perSpin[3 * i + 1] + perSpin[3 * i + 2]) / 3);
    for (let i = 0; i < moment.length; i++) expect(moment[i]).toBeCloseTo(means[i], 14);
    expect(overall.moment).toBeCloseTo((moment[0] + moment[1] + moment[2]) / 3, 14);
    // Random moments: the mean of 3 spins has variance 1/9 (1/3 each), so the mean of 70 chains has sd 1/(3 sqrt 70) = 0.04.
    expect(standardError[0]).toBeGreaterThan(0.025);
    expect(standardError[0]).toBeLessThan(0.06);
  });

  it("without temperature draws no noise: every chain started alike is alike", () => {
    const cold: MacrospinChain = { ...chain, temperature_K: 0, easyAxes: { kind: "along-chain", barrier_J: 1e-20 } };
    const same: MacrospinRun = { ...run, start: "along-field", fieldDirection: [1, 0, 1] };
    const { standardError } = finishSteps(macrospinLoop(cold, same));
    for (const error of standardError) expect(error).toBeLessThan(1e-8);
  });
});

describe("refusals", () => {
  const refuse = (change: Partial<MacrospinChain>, runChange: Partial<MacrospinRun> = {}) =>
    expect(() => finishSteps(macrospinLoop({ ...chain, ...change }, { ...run, ...runChange })));

  it("name what is wrong with a chain", () => {
    refuse({ spins: 0 }).toThrow(/at spins: found 0/);
    refuse({ damping: 0 }).toThrow(/at damping/);
    refuse({ moment_A_m2: -1 }).toThrow(/at moment_A_m2/);
    refuse({ temperature_K: -1 }).toThrow(/at temperature_K/);
    refuse({ easyAxes: { kind: "random", barrier_J: -1 } }).toThrow(/at easyAxes.barrier_J/);
    refuse({ temperature_K: 0 }).toThrow(/turning is thermal/);
    const fast: EasyAxes = { kind: "random", barrier_J: kT, brownTime_s: 1e-10 };
    refuse({ easyAxes: fast }).toThrow(/a Brown time of at least 2.50e-9 s, or shorter steps/);
  });

  it("name what is wrong with a run", () => {
    refuse({}, { chains: 0 }).toThrow(/at chains/);
    refuse({}, { step_s: 0 }).toThrow(/at step_s/);
    refuse({ spins: 1, easyAxes: { kind: "none" } }, { step_s: 1e-6, times_s: Float64Array.of(1e-5) }).toThrow(
      /at step_s: found 0.00000100 s at fields up to 0.0100 T; accepted: steps below/,
    );
    expect(() => finishSteps(macrospinChunk(chain, run, { chunk: 3 }))).toThrow(
      /at chunk: found 3; accepted: .* 0 to 2/,
    );
    refuse({}, { times_s: Float64Array.of(1e-9, 0) }).toThrow(/at times_s/);
    refuse({}, { times_s: new Float64Array(0) }).toThrow(/no time/);
    refuse({}, { fieldDirection: [0, 0, 0] }).toThrow(/at fieldDirection/);
    expect(() => finishSteps(reversalField(chain, { largestField_T: 0.1 }))).toThrow(/at easyAxes.kind/);
  });
});

describe("suggested steps", () => {
  it("shrink with the field and with the square of the turn by noise", () => {
    const free: MacrospinChain = { ...chain, spins: 1, easyAxes: { kind: "none" } };
    const step = (largestField_T: number, turn: number, of = free) => suggestedStep_s(of, { largestField_T, turn });
    expect(step(10, 0.1) / step(20, 0.1)).toBeCloseTo(2, 12);
    expect(step(1e-6, 0.1) / step(1e-6, 0.05)).toBeCloseTo(4, 12);
    expect(step(1e-6, 0.1, chain)).toBeLessThan(step(1e-6, 0.1));
  });
  it("are not limited by noise at absolute zero", () => {
    const cold: MacrospinChain = { ...chain, temperature_K: 0, easyAxes: { kind: "none" } };
    expect(Number.isFinite(suggestedStep_s(cold, { largestField_T: 0.01 }))).toBe(true);
  });
});

describe("reversal", () => {
  it("is not found when the largest field does not turn the chain", () => {
    const cold: MacrospinChain = { ...chain, spins: 2, easyAxes: { kind: "along-chain", barrier_J: 4e-20 } };
    const result = finishSteps(reversalField(cold, { largestField_T: 1e-3 }));
    expect(result).toEqual({ field_T: undefined, profile: new Float64Array(0) });
  });
});
