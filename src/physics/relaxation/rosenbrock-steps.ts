import type { Steps } from "../../numerics/index.js";
import { bandedLu, factorBand, solveBand } from "./banded-lu.js";
import { type LinearMotion, motionRate } from "./linear-motion.js";

/**
 * Times inside a step at which the field is needed: the stages' own (0, 0.386, 0.21, 0.63, 1), and enough of them for the
 * field's rate at the start.
 */
export const rosenbrockNodes: readonly number[] = [0, 0.386, 0.21, 0.63, 1];

/** Weights of the field at these times in its rate at the start of the step, times the step. */
const rateWeights = startRateWeights(rosenbrockNodes);

/** Steps between two looks at whether to go on: under 0.3 s for the largest bases. */
const stepsPerBreath = 16;

const gamma = 0.25;
/** Weights of the field's rate per stage. */
const rateShare = [0.25, -0.1043, 0.1035, -0.0362, 0, 0];
/** Earlier stages in the argument of each stage, and in its right side. */
const argument = [
  [],
  [1.544],
  [0.9466785280815826, 0.2557011698983284],
  [3.314825187068521, 2.896124015972201, 0.9986419139977817],
  [1.221224509226641, 6.019134481288629, 12.53708332932087, -0.687886036105895],
  [1.221224509226641, 6.019134481288629, 12.53708332932087, -0.687886036105895, 1],
];
const right = [
  [],
  [-5.6688],
  [-2.430093356833875, -0.2063599157091915],
  [-0.1073529058151375, -9.594562251023355, -20.47028614809616],
  [7.496443313967647, -10.24680431464352, -33.99990352819905, 11.7089089320616],
  [8.083246795921522, -7.981132988064893, -31.52159432874371, 16.31930543123136, -6.058818238834054],
];

/**
 * A stretch of the motion, in small steps of work, by Rodas, a Rosenbrock method of order 4 with six stages: stiffly accurate, so a step long against
 * every relaxation time lands on the equilibrium of the field at its end. One banded factorisation per step.
 *
 * @param motion  the equation; @param state  c at the start; replaced by c at the end, [n]
 * @param stretch.stageXi  field at `rosenbrockNodes` of every step, [steps, 5]; @param stretch.step_s  [steps]
 * @returns what is observed at the end of every step, [steps], and the largest coefficient at the edge of the basis
 *
 * Valid for   linear motion with any stiffness
 * Source      Hairer & Wanner, Solving Ordinary Differential Equations II, IV.7 and VI.3 (coefficients from memory; the
 *             order was measured, which no wrong digit would survive)
 * Checked by  rosenbrock-steps.test.ts (order 4; a scalar closed form), checks/relaxation
 */
export function* rosenbrockSteps(
  motion: LinearMotion,
  state: Float64Array,
  { stageXi, step_s }: { stageXi: Float64Array; step_s: Float64Array },
): Steps<{ trace: Float64Array; tail: number }> {
  const { size, observed, edge } = motion;
  const nodes = rosenbrockNodes.length;
  const lu = bandedLu(size, motion.halfBand);
  const stages = Array.from({ length: 6 }, () => new Float64Array(size));
  const at = new Float64Array(size);
  const fieldSlope = new Float64Array(size);
  const unused = new Float64Array(size);
  const trace = new Float64Array(step_s.length);
  let tail = 0;
  for (let s = 0; s < step_s.length; s++) {
    const h = step_s[s];
    const xi = stageXi.subarray(s * nodes, (s + 1) * nodes);
    setMatrix(motion, lu.band, { xi: xi[0], diagonal: 1 / (h * gamma) });
    factorBand(lu);
    const rate = xi.reduce((sum, value, i) => sum + rateWeights[i] * value, 0); // times h
    for (let stage = 0; stage < 6; stage++) {
      const u = stages[stage];
      combine(state, stages, { weights: argument[stage], out: at });
      const slope = stage === 0 ? fieldSlope : unused;
      motionRate(motion, at, { xi: xi[Math.min(stage, nodes - 1)], out: u, slope });
      addTo(u, stages, { weights: right[stage], factor: 1 / h });
      if (rateShare[stage] !== 0) for (let i = 0; i < size; i++) u[i] += rateShare[stage] * rate * fieldSlope[i];
      solveBand(lu, u);
    }
    for (let i = 0; i < size; i++) state[i] = at[i] + stages[5][i];
    trace[s] = state.reduce((sum, value, i) => sum + observed[i] * value, 0);
    for (const i of edge) tail = Math.max(tail, Math.abs(state[i]));
    if ((s + 1) % stepsPerBreath === 0) yield (s + 1) / step_s.length;
  }
  return { trace, tail };
}

/** band = diagonal - A0 - xi A1, with room for the pivots. */
function setMatrix(
  { size, halfBand: b, a0, a1 }: LinearMotion,
  band: Float64Array,
  { xi, diagonal }: { xi: number; diagonal: number },
): void {
  const narrow = 2 * b + 1;
  const wide = 3 * b + 1;
  for (let i = 0; i < size; i++) {
    for (let j = 0; j < narrow; j++) band[i * wide + j] = -a0[i * narrow + j] - xi * a1[i * narrow + j];
    band.fill(0, i * wide + narrow, (i + 1) * wide);
    band[i * wide + b] += diagonal;
  }
}

function combine(
  state: Float64Array,
  stages: readonly Float64Array[],
  { weights, out }: { weights: readonly number[]; out: Float64Array },
): void {
  out.set(state);
  addTo(out, stages, { weights, factor: 1 });
}

function addTo(
  out: Float64Array,
  stages: readonly Float64Array[],
  { weights, factor }: { weights: readonly number[]; factor: number },
): void {
  weights.forEach((weight, j) => {
    const u = stages[j];
    for (let i = 0; i < out.length; i++) out[i] += factor * weight * u[i];
  });
}

/** Derivative at 0 of the polynomial through values at the nodes (0 first): Lagrange weights. */
function startRateWeights(nodes: readonly number[]): number[] {
  const others = nodes.slice(1);
  const weights = others.map((node) =>
    others.reduce((product, other) => (other === node ? product : (product * -other) / (node - other)), 1 / node),
  );
  return [-weights.reduce((sum, weight) => sum + weight, 0), ...weights];
}
