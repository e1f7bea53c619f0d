import { finishSteps, type Steps } from "../../numerics/index.js";
import { reportBlock } from "../joint/block-report.js";
import { fitBlockSteps } from "../joint/fit-block.js";
import type { TracerFit } from "../magnetometry/fit-result.js";
import { derive } from "../magnetometry/propagate.js";
import type { HarmonicSpectrum } from "./harmonics.js";
import { type HarmonicRelaxation, harmonicsBlock } from "./harmonics-block.js";
import type { PreparedResponse } from "./response-table.js";

export interface HarmonicsFitOptions {
  /** "none": equilibrium; "debye": one effective time; "brownian": Fokker-Planck of turning particles. */
  readonly relaxation: HarmonicRelaxation;
  /** From `harmonicResponse`, to be shared by fits of spectra with the same harmonics and bias. */
  readonly response?: PreparedResponse;
}

/**
 * Fits the harmonics of particle spectroscopy by independent log-normal cores.
 *   m_k = S <d^3 c_k> / <d^3>,  c_k the harmonics of one core under A cos wt + B0
 * Complex where phases were measured, else amplitudes alone. S is the saturated moment, or in arbitrary units a scale.
 *
 * @param spectrum  harmonics, peak complex amplitudes, sigma or none; core saturation and temperature must be known,
 *                  for "brownian" the viscosity too
 * @returns saturation, median-diameter, log-sd, and relaxation-time ("debye") or median-hydrodynamic-diameter ("brownian")
 * @throws FerruleError MissingFact (coreSaturation, temperature, viscosity), NotIdentifiable (too few harmonics)
 *
 * Valid for   dilute particles; the drive amplitude is taken as exact (10 % of it is 3 % of the diameter)
 * Source      facts M22, R3, R15
 * Checked by  checks/tracer-fit (scipy.optimize.least_squares on the same spectra)
 */
export function fitHarmonics(spectrum: HarmonicSpectrum, options: HarmonicsFitOptions): TracerFit {
  return finishSteps(harmonicsSteps(spectrum, options));
}

/** The same in steps: the first Brownian fit fills a table for some seconds. */
export function* harmonicsSteps(
  spectrum: HarmonicSpectrum,
  { relaxation, response }: HarmonicsFitOptions,
): Steps<TracerFit> {
  const block = harmonicsBlock(spectrum, relaxation, response);
  const fit = yield* fitBlockSteps(block);
  const of = { values: fit.parameters, covariance: fit.covariance };
  const volumeMedian = derive(
    { name: "volume-weighted-median-diameter", unit: "m" },
    ([, median_m, logSd]) => median_m * Math.exp(3 * logSd * logSd),
    of,
  );
  return reportBlock(block, fit, { derived: [volumeMedian] });
}
