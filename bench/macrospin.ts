import { fileURLToPath } from "node:url";
import { stream } from "../src/numerics/index.js";
import { type MacrospinBlock, type MacrospinKernel, macrospinSteps } from "../src/physics/index.js";
import {
  type KernelKind,
  loadMacrospinTwin,
  loadNormalsTwin,
  type MacrospinChains,
  macrospinChains,
  WorkerPool,
} from "../src/runtime/index.js";
import type { Problem } from "./measure.js";
import { type Contender, contest, cProgram, python, timed } from "./rivals.js";

/**
 * Chains of 8 macrospins, stochastic Heun steps with their random numbers. `npx tsx bench/macrospin.ts` sets them beside
 * numpy and C, and one worker beside two; needs python3 with numpy, and cc.
 */
const spins = 8;
const perChunk = 32;
const perBlock = 32;

const twin = await loadMacrospinTwin();
const fillByTwin = await loadNormalsTwin();

type Fill = (out: Float64Array) => Float64Array;

function directions(n: number, fill: Fill): Float64Array {
  const out = fill(new Float64Array(3 * n));
  for (let i = 0; i < n; i++) {
    const length = Math.hypot(out[i], out[n + i], out[2 * n + i]);
    for (const at of [i, n + i, 2 * n + i]) out[at] /= length;
  }
  return out;
}

/** One chunk of chains through so many steps, in blocks, as `macrospinChunk` does it; one array holds the noise. */
function oneChunk(chains: number, steps: number, { kernel, fill }: { kernel: MacrospinKernel; fill: Fill }): void {
  const block: Omit<MacrospinBlock, "steps" | "field_T" | "noise"> = {
    spins,
    chains,
    state: directions(spins * chains, fill),
    easyAxis: directions(spins * chains, fill),
    fieldDirection: directions(chains, fill),
    dipoleField_T: Float64Array.from({ length: spins }, (_, n) => (n === 0 ? 0 : 0.05 / n ** 3)),
    anisotropyField_T: 0.04,
    thermalField_T: 0.03,
    precession_per_T: 0.05,
    damping: 0.1,
  };
  const room = new Float64Array(3 * spins * chains * perBlock);
  for (let done = 0; done < steps; done += perBlock) {
    const count = Math.min(perBlock, steps - done);
    const field_T = Float64Array.from({ length: count + 1 }, (_, k) => 0.02 * Math.cos(0.01 * (done + k)));
    const noise = fill(room.subarray(0, 3 * spins * chains * count));
    kernel({ ...block, steps: count, field_T, noise });
  }
}

const forms = {
  TypeScript: () => {
    const random = stream(1);
    return { kernel: macrospinSteps, fill: (out: Float64Array) => random.fillNormal(out) };
  },
  "wasm steps": () => {
    const random = stream(1);
    return { kernel: twin, fill: (out: Float64Array) => random.fillNormal(out) };
  },
  "wasm steps and normals": () => {
    const state = Int32Array.of(1, 2, 3, 4, 5, 6, 1, 0, 0, 0);
    return { kernel: twin, fill: (out: Float64Array) => fillByTwin(state, out) };
  },
};

function allChains(form: keyof typeof forms, chains: number, steps: number): void {
  const tools = forms[form]();
  for (let from = 0; from < chains; from += perChunk) oneChunk(Math.min(perChunk, chains - from), steps, tools);
}

export function macrospinProblems(): Problem[] {
  const size = "32 chains x 8, 320 steps";
  const run = (form: keyof typeof forms) => () => allChains(form, 32, 320);
  return [
    { name: "macrospin", size, run: run("TypeScript") },
    { name: "macrospin-wasm", size, run: run("wasm steps"), ratioTo: "macrospin" },
    { name: "macrospin-wasm-normals", size, run: run("wasm steps and normals"), ratioTo: "macrospin" },
  ];
}

/** The same through the pool: 1000 chains, `steps` steps. */
function jobOf(steps: number): MacrospinChains {
  const step_s = 1e-12;
  return {
    chain: {
      spins,
      moment_A_m2: 1.87e-18,
      spacing_m: 24e-9,
      easyAxes: { kind: "random", barrier_J: 4e-20 },
      damping: 0.1,
      temperature_K: 300,
    },
    run: {
      field: { kind: "cosine", amplitude_T: 20e-3, frequency_Hz: 1e9 },
      times_s: Float64Array.of(steps * step_s),
      step_s,
      chains: 1000,
      seed: 1,
    },
  };
}

async function againstRivals(steps: number, rounds: number): Promise<void> {
  const chains = 1000;
  const c = cProgram("macrospin");
  const cTimes: { form: number[] } = { form: [] };
  const ours = (form: keyof typeof forms) => timed(form, () => allChains(form, chains, steps));
  const pools = await Promise.all([1, 2].map((workers) => WorkerPool.open({ workers })));
  const pooled = (index: number, kernels: KernelKind): Contender =>
    timed(`${index + 1} worker${index ? "s" : ""}, ${kernels}`, () =>
      pools[index].run(macrospinChains, jobOf(steps), { kernels }),
    );
  // Threads start before the clock does.
  for (const pool of pools) await pool.run(macrospinChains, jobOf(1));
  console.log(`1000 chains x ${spins}, ${steps} steps a round`);
  await contest(
    [
      { name: "numpy", time_s: () => python<{ time_s: number }>("compare-macrospin.py", chains, spins, steps).time_s },
      ours("TypeScript"),
      ours("wasm steps"),
      ours("wasm steps and normals"),
      {
        name: "C, one by one",
        time_s: () => {
          cTimes.form = c(chains, spins, steps);
          return cTimes.form[0];
        },
      },
      { name: "C, 8 abreast", time_s: () => cTimes.form[1] },
      pooled(0, "wasm"),
      pooled(1, "wasm"),
    ],
    [
      ["TypeScript", "numpy"],
      ["wasm steps", "numpy"],
      ["wasm steps and normals", "numpy"],
      ["wasm steps", "C, one by one"],
      ["wasm steps and normals", "C, one by one"],
      ["wasm steps and normals", "C, 8 abreast"],
      ["1 worker, wasm", "2 workers, wasm"],
    ],
    { rounds },
  );
  for (const pool of pools) await pool.close();
}

if (process.argv[1] === fileURLToPath(import.meta.url))
  await againstRivals(Number(process.argv[2] ?? 1000), Number(process.argv[3] ?? 5));
