import { finishSteps } from "../../src/numerics/index.js";
import {
  chainEnergy_J,
  chainFields,
  type EasyAxes,
  type MacrospinChain,
  suggestedStep_s,
} from "../../src/physics/chains/macrospin-chain.js";
import { macrospinLoop } from "../../src/physics/chains/macrospin-loop.js";
import type { MacrospinRun } from "../../src/physics/chains/macrospin-run.js";
import { macrospinSteps } from "../../src/physics/chains/macrospin-steps.js";
import { type Reversal, reversalField } from "../../src/physics/chains/reversal-field.js";
import { langevin } from "../../src/physics/particle/langevin.js";
import {
  boltzmannConstant_J_per_K,
  gyromagneticRatio_rad_per_s_T,
  vacuumPermeability_T_m_per_A,
} from "../../src/units/index.js";
import { numbersOf, rowsOf } from "./truth.js";

/** Shared by the gate and the meter: macrospins against Boltzmann averages, closed forms and other solvers. */

const moment_A_m2 = 1.868e-18; // 20 nm at 446 kA/m
const temperature_K = 300;
const thermal_J = boltzmannConstant_J_per_K * temperature_K;

/** A thermal average: found with a standard error, at a step and at half of it. */
export interface Average {
  readonly what: string;
  readonly truth: number;
  readonly runs: readonly { readonly step: string; readonly moment: number; readonly standardError: number }[];
}

interface Plan {
  readonly spins?: number;
  /** K V / (kB T). */
  readonly sigma?: number;
  readonly axes?: "none" | "random" | "turning";
  readonly lambda?: number;
  readonly xi: number;
  readonly across?: boolean;
  readonly start?: MacrospinRun["start"];
  /** Chains, and how long they settle and are watched, in units of the free diffusion time m(1+alpha^2)/(2 alpha gamma kB T). */
  readonly chains: number;
  readonly settle: number;
  readonly watch: number;
}

/**
 * Every Monte-Carlo comparison. The numbers of chains were chosen for the time they take, the seed before the first run.
 * Fixed axes at KV/kT = 10 start along the field: jumps over the barrier are slow there (from random moments the mean
 * still stands at 0.59 after 400 diffusion times); the 5/2 row starts at random and does settle.
 */
export function thermalAverages(): Average[] {
  const dipoles = rowsOf("two dipoles: lambda, xi, field, M");
  const fixed = rowsOf("random axes: KV/kT, xi, M");
  const plans: [string, number, Plan][] = [
    ["one spin, xi 2: Langevin", langevin(2), { xi: 2, chains: 1024, settle: 6, watch: 60 }],
    [
      "axes that turn freely, KV/kT 3, xi 2: Langevin",
      langevin(2),
      { xi: 2, sigma: 3, axes: "turning", chains: 384, settle: 100, watch: 200 },
    ],
    ...fixed.slice(0, 2).map((row): [string, number, Plan] => {
      const [sigma, xi, m] = numbersOf(row);
      const [start, settle] = sigma === 10 ? (["along-field", 60] as const) : (["random", 100] as const);
      const plan = { sigma, xi, axes: "random", start, chains: 1024, settle, watch: 10 } as const;
      return [`fixed random axes, KV/kT ${sigma}, xi ${xi}`, m, plan];
    }),
    ...dipoles.map(([lambda, xi, field, m]): [string, number, Plan] => [
      `two dipoles, lambda ${lambda}, xi ${xi} ${field}`,
      Number(m),
      {
        spins: 2,
        lambda: Number(lambda),
        xi: Number(xi),
        across: field === "across",
        chains: 512,
        settle: 12,
        watch: 60,
      },
    ]),
  ];
  return plans.map(([what, truth, plan], job) => ({
    what,
    truth,
    runs: [1, 2].map((cut) => ({ step: cut === 1 ? "dt" : "dt/2", ...watch(plan, { cut, job: 2 * job + cut }) })),
  }));
}

function watch(
  { spins = 1, sigma = 0, axes = "none", lambda = 1, xi, across = false, start = "random", ...plan }: Plan,
  { cut, job }: { cut: number; job: number },
): { moment: number; standardError: number } {
  const damping = 1;
  const unit_s = freeTime_s(damping);
  const barrier_J = sigma * thermal_J;
  const easyAxes: EasyAxes =
    axes === "none"
      ? { kind: "none" }
      : axes === "random"
        ? { kind: "random", barrier_J }
        : { kind: "random", barrier_J, brownTime_s: 40 * unit_s };
  const spacing_m = Math.cbrt((vacuumPermeability_T_m_per_A * moment_A_m2 ** 2) / (4 * Math.PI * lambda * thermal_J));
  const chain: MacrospinChain = { spins, moment_A_m2, spacing_m, easyAxes, damping, temperature_K };
  const field_T = (xi * thermal_J) / moment_A_m2;
  const { overall } = finishSteps(
    macrospinLoop(chain, {
      field_T: () => field_T,
      times_s: Float64Array.from({ length: 20 }, (_, i) => unit_s * (plan.settle + (plan.watch * (i + 1)) / 20)),
      step_s: suggestedStep_s(chain, { largestField_T: field_T, turn: 0.25 }) / cut,
      chains: plan.chains,
      fieldDirection: across ? [1, 0, 0] : [0, 0, 1],
      start,
      seed: 20261125,
      job,
    }),
  );
  return overall;
}

/** m (1 + alpha^2) / (2 alpha gamma kB T): in this time a free moment diffuses by 1 rad^2 per component. */
function freeTime_s(damping: number): number {
  return (moment_A_m2 * (1 + damping * damping)) / (2 * damping * gyromagneticRatio_rad_per_s_T * thermal_J);
}

/** Largest error of a component along the motion of three spins (truth: scipy on Gilbert's own form), for a step count. */
export function motionError(stepsPerUnit: number): number {
  const rows = rowsOf("motion: time, three moments").map(([time, moments]) => ({
    time: Number(time),
    moments: (moments as readonly unknown[]).map(numbersOf),
  }));
  const damping = 0.3;
  const state = Float64Array.from({ length: 9 }, (_, k) => rows[0].moments[k % 3][Math.floor(k / 3)]);
  let worst = 0;
  for (let i = 1; i < rows.length; i++) {
    const from = rows[i - 1].time;
    const steps = Math.round((rows[i].time - from) * stepsPerUnit);
    const dt = (rows[i].time - from) / steps;
    macrospinSteps({
      spins: 3,
      chains: 1,
      steps,
      state,
      easyAxis: Float64Array.from({ length: 9 }, (_, k) => (k < 6 ? 0 : 1)),
      fieldDirection: Float64Array.of(0.6, 0, 0.8),
      field_T: Float64Array.from({ length: steps + 1 }, (_, k) => 1.5 * Math.cos(0.7 * (from + k * dt))),
      dipoleField_T: Float64Array.of(0, 1, 1 / 8),
      anisotropyField_T: 2,
      thermalField_T: 0,
      noise: new Float64Array(0),
      precession_per_T: dt / (1 + damping * damping),
      damping,
    });
    for (let k = 0; k < 9; k++) worst = Math.max(worst, Math.abs(state[k] - rows[i].moments[k % 3][Math.floor(k / 3)]));
  }
  return worst;
}

const coldChain = (spins: number, easyAxes: EasyAxes): MacrospinChain => ({
  spins,
  moment_A_m2,
  spacing_m: 24e-9,
  easyAxes,
  damping: 0.1,
  temperature_K: 0,
});

/** Reversal field of a chain without anisotropy, in g = mu0 m/(4 pi a^3), beside the lowest eigenvalue of its stiffness. */
export function chainReversals(): { spins: number; field: number; eigenvalue: number; reversal: Reversal }[] {
  return rowsOf("stiffness: spins, lowest eigenvalue / g, |mode|").map(([spins, eigenvalue]) => {
    const chain = coldChain(Number(spins), { kind: "none" });
    const unit_T = chainFields(chain).dipoleField_T[1];
    const reversal = finishSteps(reversalField(chain, { largestField_T: 2.5 * unit_T, accuracy: 5e-4 }));
    const field = (reversal.field_T ?? Number.NaN) / unit_T;
    return { spins: Number(spins), field, eigenvalue: Number(eigenvalue), reversal };
  });
}

/** Switching field of one spin over 2K/Ms, beside the Stoner-Wohlfarth astroid (cos^2/3 + sin^2/3)^-3/2. */
export function astroid(): { degrees: number; field: number; expected: number }[] {
  const chain = coldChain(1, { kind: "along-chain", barrier_J: 4e-20 });
  const unit_T = chainFields(chain).anisotropyField_T;
  return [0, 10, 30, 45, 60, 80].map((degrees) => {
    const fieldAngle_rad = (degrees * Math.PI) / 180;
    const { field_T } = finishSteps(
      reversalField(chain, { largestField_T: 1.5 * unit_T, fieldAngle_rad, accuracy: 5e-4 }),
    );
    const [c, s] = [Math.cos(fieldAngle_rad), Math.sin(fieldAngle_rad)];
    return { degrees, field: (field_T ?? Number.NaN) / unit_T, expected: (c ** (2 / 3) + s ** (2 / 3)) ** -1.5 };
  });
}

/** Energies over kB T of two unit dipoles at angles to their line, one after the other: for closed forms. */
export function pairEnergy(firstAngle_rad: number, secondAngle_rad: number): number {
  const spacing_m = Math.cbrt((vacuumPermeability_T_m_per_A * moment_A_m2 ** 2) / (4 * Math.PI * thermal_J)); // lambda = 1
  const chain: MacrospinChain = { ...coldChain(2, { kind: "none" }), spacing_m };
  const [a, b] = [firstAngle_rad, secondAngle_rad];
  const state = Float64Array.of(Math.sin(a), Math.sin(b), 0, 0, Math.cos(a), Math.cos(b));
  const placed = { state, easyAxis: new Float64Array(6), fieldDirection: Float64Array.of(0, 0, 1), field_T: 0 };
  return chainEnergy_J(chain, placed)[0] / thermal_J;
}

/** Energies of a chain of five left to itself in a fixed field, after every step; one row for each damping. */
export function energiesAlongTheWay(damping: number): Float64Array {
  const chain = coldChain(5, { kind: "along-chain", barrier_J: 2e-20 });
  const fields = chainFields(chain);
  const field_T = 0.02;
  const state = new Float64Array(15);
  for (let i = 0; i < 5; i++) {
    const [theta, phi] = [0.4 + 0.55 * i, 2.1 * i];
    state[i] = Math.sin(theta) * Math.cos(phi);
    state[5 + i] = Math.sin(theta) * Math.sin(phi);
    state[10 + i] = Math.cos(theta);
  }
  const easyAxis = Float64Array.from({ length: 15 }, (_, k) => (k < 10 ? 0 : 1));
  const placed = { state, easyAxis, fieldDirection: Float64Array.of(0.8, 0, -0.6), field_T };
  const block = {
    ...fields,
    ...placed,
    spins: 5,
    chains: 1,
    steps: 1,
    thermalField_T: 0,
    noise: new Float64Array(0),
    damping,
  };
  return Float64Array.from({ length: 4000 }, () => {
    macrospinSteps({
      ...block,
      field_T: Float64Array.of(field_T, field_T),
      precession_per_T: 0.2 / (1 + damping * damping),
    });
    return chainEnergy_J(chain, placed)[0] / thermal_J;
  });
}
