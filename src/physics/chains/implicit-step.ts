/** A scalar equation dM/dt = f(t, M) and its slope in M. */
export type ScalarRate = (time_s: number, m: number) => { readonly rate: number; readonly slope: number };

export interface ImplicitStep {
  readonly value: number;
  /** Difference from the embedded third-order result, damped where f is stiff (its own stability is not that of the method). */
  readonly error: number;
  /** Integral of df/dM over the step: the logarithm by which neighbouring solutions approach each other. */
  readonly logContraction: number;
}

const diagonal = 1 / 4;
const nodes = [1 / 4, 3 / 4, 11 / 20, 1 / 2, 1];
const stages = [
  [],
  [1 / 2],
  [17 / 50, -1 / 25],
  [371 / 1360, -137 / 2720, 15 / 544],
  [25 / 24, -49 / 48, 125 / 16, -85 / 12],
];
const weights = [25 / 24, -49 / 48, 125 / 16, -85 / 12, 1 / 4];
const errorWeights = [-3 / 16, -27 / 32, 25 / 32, 0, 1 / 4];

/**
 * One step of a singly diagonally implicit Runge-Kutta method of order 4 (five stages, L-stable, stiffly accurate), for a
 * scalar equation. Fast relaxation costs nothing: only what the solution itself does limits the step.
 *
 * @returns the step, or `undefined` when a stage has no solution near by: take a shorter one
 *
 * Source      Hairer & Wanner, Solving Ordinary Differential Equations II, sec. IV.6 (SDIRK4, gamma = 1/4); from memory
 * Checked by  implicit-step.test.ts (order conditions, order of convergence), checks/chains (scipy)
 */
export function implicitStep(
  rate: ScalarRate,
  [time_s, m]: readonly [number, number],
  step_s: number,
): ImplicitStep | undefined {
  const slopes = [0, 0, 0, 0, 0];
  let value = m;
  let error = 0;
  let logContraction = 0;
  let stiffness = 0;
  for (let i = 0; i < 5; i++) {
    let base = m;
    for (let j = 0; j < i; j++) base += step_s * stages[i][j] * slopes[j];
    // The previous stage's slope is the first guess.
    const guess = base + step_s * diagonal * (i > 0 ? slopes[i - 1] : 0);
    const stage = solveStage(rate, time_s + nodes[i] * step_s, { base, guess, h: diagonal * step_s });
    if (stage === undefined) return undefined;
    slopes[i] = stage.rate;
    value += step_s * weights[i] * stage.rate;
    error += step_s * errorWeights[i] * stage.rate;
    logContraction += step_s * weights[i] * stage.slope;
    stiffness = -diagonal * step_s * stage.slope;
  }
  return { value, error: Math.abs(error) / (1 + Math.max(0, stiffness)), logContraction };
}

/** z = base + h f(t, z) by Newton's method; the slope returned is (z - base)/h, which a stiff f cannot spoil. */
function solveStage(
  rate: ScalarRate,
  time_s: number,
  { base, guess, h }: { base: number; guess: number; h: number },
): { rate: number; slope: number } | undefined {
  let z = guess;
  for (let count = 0; count < 12; count++) {
    const { rate: f, slope } = rate(time_s, z);
    const steepness = 1 - h * slope;
    if (!(steepness > 0.1)) return undefined;
    const change = (base + h * f - z) / steepness;
    z += change;
    if (!(Math.abs(change) < 2)) return undefined;
    if (Math.abs(change) < 1e-14) return { rate: (z - base) / h, slope };
  }
  return undefined;
}
