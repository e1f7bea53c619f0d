import { createHash } from "node:crypto";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { isKnownError } from "../errors.js";
import { finishSteps } from "../numerics/index.js";
import { brownianEnsemble, macrospinLoop } from "../physics/index.js";
import { periodicField } from "./jobs/drive.js";
import { type FokkerPlanckEnsemble, fokkerPlanckEnsemble } from "./jobs/fokker-planck-ensemble.js";
import { type MacrospinChains, macrospinChains } from "./jobs/macrospin-chains.js";
import { runJob, WorkerPool } from "./pool.js";

// Invented particles: three chunks of eight, the last one short.
const count = 20;
const ensemble: FokkerPlanckEnsemble = {
  drive: { kind: "cosine", amplitude_T: 20e-3, frequency_Hz: 25e3 },
  particles: {
    xiPerTesla: Float64Array.from({ length: count }, (_, i) => 50 + 20 * i),
    brownTime_s: Float64Array.from({ length: count }, (_, i) => 2e-6 + 3e-7 * i),
    weight: Float64Array.from({ length: count }, (_, i) => (i + 1) / 210),
  },
  samples: 32,
  tolerance: 1e-6,
};

/** Invented chains: three chunks of 32. */
const chains: MacrospinChains = {
  chain: {
    spins: 2,
    moment_A_m2: 1.87e-18,
    spacing_m: 24e-9,
    easyAxes: { kind: "random", barrier_J: 2e-20 },
    damping: 0.1,
    temperature_K: 300,
  },
  run: {
    field: { kind: "constant", field_T: 10e-3 },
    times_s: Float64Array.of(1e-11, 2e-11),
    step_s: 1e-12,
    chains: 70,
    seed: 20261125,
  },
};

/** So much of the same that it would take hours. */
const endless: MacrospinChains = { ...chains, run: { ...chains.run, times_s: Float64Array.of(1e-3) } };

const digest = (...arrays: Float64Array[]): string =>
  arrays.reduce((hash, array) => hash.update(array), createHash("sha256")).digest("hex");

describe.each([1, 2, 3])("a pool of %i", (workers) => {
  let pool: WorkerPool;
  beforeAll(async () => {
    pool = await WorkerPool.open({ workers });
  });
  afterAll(() => pool.close());

  it.each(["wasm", "reference"] as const)("gives the ensemble's own bits, %s", async (kernels) => {
    const answer = await pool.run(fokkerPlanckEnsemble, ensemble, { kernels });
    const { drive, particles, ...options } = ensemble;
    const expected = brownianEnsemble(periodicField(drive), particles, options);
    expect(Math.max(...expected.magnetisation)).toBeGreaterThan(0.3);
    expect(digest(answer.magnetisation)).toBe(digest(expected.magnetisation));
    expect(answer.responses.length).toBe(count * 32);
    expect({ outcome: answer.outcome, detail: answer.detail }).toEqual({
      outcome: expected.outcome,
      detail: expected.detail,
    });
  });

  it.each(["wasm", "reference"] as const)("gives the chains' own bits, %s", async (kernels) => {
    const curve = await pool.run(macrospinChains, chains, { kernels });
    const { field, ...run } = chains.run;
    const expected = finishSteps(macrospinLoop(chains.chain, { ...run, field_T: () => 10e-3 }));
    expect(field.kind).toBe("constant");
    expect(digest(curve.moment, curve.standardError, curve.perSpin)).toBe(
      digest(expected.moment, expected.standardError, expected.perSpin),
    );
    expect(curve.overall).toEqual(expected.overall);
  });

  it("keeps the code, the words and the place of a refusal, counted in the whole argument", async () => {
    const xiPerTesla = ensemble.particles.xiPerTesla.slice();
    xiPerTesla[19] = -1;
    xiPerTesla[11] = Number.NaN;
    const broken = { ...ensemble, particles: { ...ensemble.particles, xiPerTesla } };
    const error = await pool.run(fokkerPlanckEnsemble, broken).catch((reason: unknown) => reason);
    // The first in order, whichever worker was quicker.
    expect(isKnownError(error, "InvalidValue") && error.place).toEqual({ path: "particles.xiPerTesla[11]" });
    expect(isKnownError(error) && error.found).toBe("NaN");
  });
});

describe("a pool", () => {
  let pool: WorkerPool;
  beforeAll(async () => {
    pool = await WorkerPool.open({ workers: 1 });
  });
  afterAll(() => pool.close());

  it("tells how far it is, rising to 1", async () => {
    const told: number[] = [];
    const run = { ...chains.run, times_s: Float64Array.of(3e-8) };
    await pool.run(macrospinChains, { ...chains, run }, { onProgress: (fraction) => told.push(fraction) });
    expect(told.at(-1)).toBe(1);
    expect(told.length).toBeGreaterThan(2);
    expect(told.every((fraction, i) => fraction > (told[i - 1] ?? 0) && fraction <= 1)).toBe(true);
  });

  it("ends busy workers when it is told to stop, and works on afterwards", async () => {
    const control = new AbortController();
    const running = pool.run(macrospinChains, endless, { signal: control.signal });
    const outcome = running.catch((reason: unknown) => reason);
    setTimeout(() => control.abort(), 300);
    expect(isKnownError(await outcome, "Cancelled")).toBe(true);
    const curve = await pool.run(macrospinChains, chains);
    expect(curve.moment.length).toBe(2);
  });

  it("does not begin when it was told to stop before", async () => {
    const outcome = await runJob(macrospinChains, endless, { signal: AbortSignal.abort() }).catch((e: unknown) => e);
    expect(isKnownError(outcome, "Cancelled")).toBe(true);
  });

  it.each([0, 1.5, Number.NaN])("refuses %f workers", async (workers) => {
    const outcome = await runJob(macrospinChains, chains, { workers }).catch((reason: unknown) => reason);
    expect(isKnownError(outcome, "InvalidValue") && outcome.place.path).toBe("workers");
  });

  it("says where in the argument a refusal belongs", async () => {
    const particles = { ...ensemble.particles, weight: new Float64Array(3) };
    const shape = await pool.run(fokkerPlanckEnsemble, { ...ensemble, particles }).catch((reason: unknown) => reason);
    expect(isKnownError(shape, "ShapeMismatch") && shape.place.path).toBe("particles.weight");
    const drive = { kind: "pulsed", amplitude_T: 20e-3, frequency_Hz: 2.5e3, riseTime_s: 1 } as const;
    const slow = await pool.run(fokkerPlanckEnsemble, { ...ensemble, drive }).catch((reason: unknown) => reason);
    expect(isKnownError(slow, "InvalidValue") && slow.place.path).toBe("drive.riseTime_s");
    const damped = { ...chains, chain: { ...chains.chain, damping: 0 } };
    const undamped = await pool.run(macrospinChains, damped).catch((reason: unknown) => reason);
    expect(isKnownError(undamped, "InvalidValue") && undamped.place.path).toBe("chain.damping");
    const none = { ...chains, run: { ...chains.run, chains: 0 } };
    const number = await pool.run(macrospinChains, none).catch((reason: unknown) => reason);
    expect(isKnownError(number, "InvalidValue") && number.place.path).toBe("run.chains");
  });
});
