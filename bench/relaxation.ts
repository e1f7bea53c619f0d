import { fileURLToPath } from "node:url";
import { type LegendreSteps, legendreSteps } from "../src/physics/index.js";
import { loadLegendreTwin } from "../src/runtime/index.js";
import type { Problem } from "./measure.js";
import { type Contender, contest, cProgram, python, timed } from "./rivals.js";

/**
 * Brownian Fokker-Planck equation, 40 moments, five periods from random orientation, peak xi 20 (of the first particle),
 * omega tau 1. `npx tsx bench/relaxation.ts` sets it beside scipy's LSODA and C; needs python3 with scipy, and cc.
 */
const moments = 40;
const periods = 5;
const frequency_Hz = 25e3;
/** Steps a period at which the error is within the 1e-6 that is asked for; `npx tsx bench/relaxation.ts` prints it. */
const stepsPerPeriod = 200;
const nodes = [0.1550510257216822, 0.6449489742783178, 1];

const twin = await loadLegendreTwin();

function problem(particles: number, perPeriod = stepsPerPeriod): LegendreSteps {
  const steps = periods * perPeriod;
  const length_s = 1 / (frequency_Hz * perPeriod);
  const phase = (i: number) => (2 * Math.PI * (Math.floor(i / 3) + nodes[i % 3])) / perPeriod;
  return {
    stageField_T: Float64Array.from({ length: 3 * steps }, (_, i) => 20e-3 * Math.cos(phase(i))),
    step_s: new Float64Array(steps).fill(length_s),
    xiPerTesla: Float64Array.from({ length: particles }, (_, p) => 1000 * (1 - 0.05 * (p % 8))),
    brownTime_s: new Float64Array(particles).fill(1 / (2 * Math.PI * frequency_Hz)),
    moments,
    state: new Float64Array(moments * particles),
    trace: new Float64Array(steps * particles),
    tail: new Float64Array(particles),
  };
}

/** Every call starts from random orientation again. */
function repeatable(kernel: (steps: LegendreSteps) => void, steps: LegendreSteps): () => void {
  return () => {
    steps.state.fill(0);
    kernel(steps);
  };
}

export function relaxationProblems(): Problem[] {
  return [1, 8].flatMap((particles) => {
    const steps = problem(particles);
    const size = `${particles} x ${moments} moments, ${steps.step_s.length} steps`;
    const name = `brownian-${particles}`;
    return [
      { name, size, run: repeatable(legendreSteps, steps), repeats: 10 },
      { name: `${name}-wasm`, size, run: repeatable(twin, steps), repeats: 10, ratioTo: name },
    ];
  });
}

/** Largest error of M/Ms at 100 times a period, against LSODA at a relative tolerance of 1e-13 and 60 moments. */
function errorOf(perPeriod: number, truth: readonly number[]): number {
  const { trace, ...rest } = problem(1, perPeriod);
  legendreSteps({ ...rest, trace });
  // Truth holds 200 times a period.
  const common = Array.from({ length: periods * 100 }, (_, i) => (i + 1) / 100);
  return Math.max(
    ...common
      .filter((period) => Number.isInteger(Math.round(1e6 * period * perPeriod) / 1e6))
      .map((period) => Math.abs(trace[Math.round(period * perPeriod) - 1] - truth[Math.round(period * 200) - 1])),
  );
}

async function againstRivals(): Promise<void> {
  const truth = python<number[]>("compare-relaxation.py", "truth");
  for (const perPeriod of [50, 100, 200])
    console.log(`${perPeriod} steps a period: largest error of M/Ms ${errorOf(perPeriod, truth).toExponential(1)}`);
  const lsoda = () => python<{ time_s: number; rtol: number; error: number }>("compare-relaxation.py", "time", 5);
  const { rtol, error } = lsoda();
  console.log(`LSODA at rtol ${rtol.toExponential(1)}: ${error.toExponential(1)}\n`);
  const steps = periods * stepsPerPeriod;
  const c = cProgram("legendre");
  // The shortest of some repeats on every side: rivals do the same.
  const shortest = (name: string, run: () => void): Contender => ({
    name,
    time_s: async () => {
      let best = Number.POSITIVE_INFINITY;
      for (let i = 0; i < 20; i++) best = Math.min(best, await timed(name, run).time_s());
      return best;
    },
  });
  const cTimes: { form: number[] } = { form: [] };
  await contest(
    [
      { name: "LSODA, 1 particle", time_s: () => lsoda().time_s },
      shortest("TypeScript, 1 particle", repeatable(legendreSteps, problem(1))),
      shortest("wasm, 1 particle", repeatable(twin, problem(1))),
      shortest("TypeScript, 8 particles", repeatable(legendreSteps, problem(8))),
      shortest("wasm, 8 particles", repeatable(twin, problem(8))),
      {
        name: "C, 8 one by one",
        time_s: () => {
          cTimes.form = c(8, moments, steps, 20);
          return cTimes.form[0];
        },
      },
      { name: "C, 8 abreast", time_s: () => cTimes.form[1] },
    ],
    [
      ["TypeScript, 1 particle", "LSODA, 1 particle"],
      ["wasm, 1 particle", "LSODA, 1 particle"],
      ["TypeScript, 8 particles", "C, 8 one by one"],
      ["wasm, 8 particles", "C, 8 one by one"],
      ["wasm, 8 particles", "C, 8 abreast"],
      ["wasm, 8 particles", "TypeScript, 8 particles"],
    ],
  );
}

if (process.argv[1] === fileURLToPath(import.meta.url)) await againstRivals();
