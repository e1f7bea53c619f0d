import type { RasterModel } from "../operators/raster-model.js";
import { tikhonov } from "./tikhonov.js";

export interface DiscrepancyTrial {
  readonly relativeWeight: number;
  /** ‖A ĉ − y‖² */
  readonly residual2: number;
}

export interface DiscrepancyChoice {
  readonly relativeWeight: number;
  /** ‖noise‖² + ‖model error‖² that the residual was brought to. */
  readonly target2: number;
  /** In the order tried: decades first, then closer to the target. */
  readonly trials: readonly DiscrepancyTrial[];
  /** "met": the residual crosses the target between the two ends; otherwise the nearest end was taken. */
  readonly outcome: "met" | "target-below-range" | "target-above-range";
}

/**
 * Regularisation weight by the discrepancy principle on a pilot scan: the largest λ whose residual is no more than what
 * noise and the known error of the model explain.
 *   ‖A ĉ_λ − y‖² = N σ² + (ε ‖y‖)²
 * ε is the relative voltage error that the tracer's width uncertainty causes; without it a strong pilot would drive λ to
 * the smallest value tried, because the residual never reaches the noise. The weight is then frozen for the study.
 *
 * Source      Morozov 1966; with model error Vainikko 1982 (from memory)
 */
export function weightByDiscrepancy(
  model: RasterModel,
  y: Float64Array,
  {
    noise_V,
    relativeModelError,
    largest = 1,
    smallest = 1e-5,
    onTrial,
  }: {
    noise_V: number;
    relativeModelError: number;
    largest?: number;
    smallest?: number;
    onTrial?: (trial: DiscrepancyTrial) => void;
  },
): DiscrepancyChoice {
  const energy = squaredNorm(y);
  const target2 = y.length * noise_V ** 2 + relativeModelError ** 2 * energy;
  const trials: DiscrepancyTrial[] = [];
  const attempt = (relativeWeight: number): DiscrepancyTrial => {
    const { estimate } = tikhonov(model, { relativeWeight }).invert(y);
    const predicted = model.operator.forward(estimate);
    let residual2 = 0;
    for (let i = 0; i < y.length; i++) residual2 += (predicted[i] - y[i]) ** 2;
    const trial = { relativeWeight, residual2 };
    trials.push(trial);
    onTrial?.(trial);
    return trial;
  };
  let above = attempt(largest);
  if (above.residual2 <= target2) return { relativeWeight: largest, target2, trials, outcome: "target-above-range" };
  for (let weight = largest / 10; weight >= smallest * 0.999; weight /= 10) {
    const below = attempt(weight);
    if (below.residual2 <= target2)
      return { relativeWeight: close(above, below, { target2, attempt }), target2, trials, outcome: "met" };
    above = below;
  }
  return { relativeWeight: above.relativeWeight, target2, trials, outcome: "target-below-range" };
}

/** Narrows the bracket until the residual is within 1 % of the target (five trials at most; each halves a log-log chord). */
function close(
  above: DiscrepancyTrial,
  below: DiscrepancyTrial,
  { target2, attempt }: { target2: number; attempt: (relativeWeight: number) => DiscrepancyTrial },
): number {
  let bracket = [above, below] as const;
  for (let round = 0; round < 5; round++) {
    const trial = attempt(interpolate(...bracket, target2));
    if (Math.abs(trial.residual2 / target2 - 1) <= 0.01) return trial.relativeWeight;
    bracket = trial.residual2 > target2 ? [trial, bracket[1]] : [bracket[0], trial];
  }
  return interpolate(...bracket, target2);
}

/** Crossing on a double-logarithmic line between two trials. */
function interpolate(above: DiscrepancyTrial, below: DiscrepancyTrial, target2: number): number {
  const span = Math.log(above.residual2 / below.residual2);
  const part = span === 0 ? 1 : Math.log(above.residual2 / target2) / span;
  return above.relativeWeight * (below.relativeWeight / above.relativeWeight) ** Math.min(1, Math.max(0, part));
}

const squaredNorm = (y: Float64Array) => y.reduce((sum, value) => sum + value * value, 0);
