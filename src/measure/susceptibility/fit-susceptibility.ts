import type { LeastSquaresResult } from "../../numerics/index.js";
import { brownTime_s } from "../../physics/index.js";
import { reportBlock } from "../joint/block-report.js";
import { fitBlock } from "../joint/fit-block.js";
import type { FitAdvisory } from "../magnetometry/fit-advisory.js";
import type { DerivedValue, TracerFit } from "../magnetometry/fit-result.js";
import { derive } from "../magnetometry/propagate.js";
import type { AcSusceptibility } from "./susceptibility.js";
import { type SusceptibilityModel, susceptibilityBlock } from "./susceptibility-block.js";

/**
 * Fits a complex susceptibility over frequency.
 *   "debye"             chi_inf + (chi_0 - chi_inf) / (1 + i w tau)
 *   "brown-log-normal"  the same averaged over log-normal hydrodynamic diameters, tau_B = pi eta d_H^3 / (2 kB T)
 * chi' and chi'' are fitted together.
 *
 * @param chi  frequency, chi', chi'', standard deviations or none
 * @param options.model  which; "brown-log-normal" needs viscosity and temperature
 * @returns static-susceptibility, high-frequency-susceptibility, and relaxation-time, or
 *          median-hydrodynamic-diameter and log-sd-hydrodynamic (number-weighted)
 * @throws FerruleError MissingFact (viscosity, temperature), NotIdentifiable (no more values than parameters)
 *
 * Valid for   fields small enough for a linear answer; a band that holds the loss peak
 * Source      facts R4, R6
 * Checked by  checks/tracer-fit (scipy.optimize.least_squares on the same data)
 */
export function fitSusceptibility(
  chi: AcSusceptibility,
  { model }: { readonly model: SusceptibilityModel },
): TracerFit {
  const block = susceptibilityBlock(chi, model);
  const fit = fitBlock(block);
  const peak_Hz = peakFrequency_Hz(chi, model, fit);
  return reportBlock(block, fit, {
    derived: [peak_Hz],
    advisories: bandAdvisories(chi, peak_Hz.value),
    reach: (name, value) => (name.endsWith("-susceptibility") ? Math.abs(fit.parameters[0]) : Math.abs(value)),
  });
}

/** Frequency at which w tau = 1 for the median time: that of the loss peak for one time. */
function peakFrequency_Hz(chi: AcSusceptibility, model: SusceptibilityModel, fit: LeastSquaresResult): DerivedValue {
  const of = { values: fit.parameters, covariance: fit.covariance };
  const time_s = ([, , own]: readonly number[]): number => {
    if (model === "debye") return own;
    return brownTime_s(own, chi.viscosity_Pa_s ?? Number.NaN, chi.temperature_K ?? Number.NaN);
  };
  return derive({ name: "relaxation-frequency", unit: "Hz" }, (p) => 1 / (2 * Math.PI * time_s(p)), of);
}

/** A band without its loss peak fixes a product, not its factors. */
function bandAdvisories({ frequency_Hz }: AcSusceptibility, peak_Hz: number): FitAdvisory[] {
  const [low, high] = [frequency_Hz.reduce((a, b) => Math.min(a, b)), frequency_Hz.reduce((a, b) => Math.max(a, b))];
  if (peak_Hz >= low && peak_Hz <= high) return [];
  const message =
    peak_Hz > high
      ? `the loss peak (${peak_Hz.toPrecision(3)} Hz) lies above the measured band: below it only (chi_0 - chi_inf) tau is fixed, so relaxation time and high-frequency susceptibility float together`
      : `the loss peak (${peak_Hz.toPrecision(3)} Hz) lies below the measured band: above it only (chi_0 - chi_inf) / tau is fixed, so relaxation time and static susceptibility float together`;
  return [{ code: "not-identifiable", message }];
}
