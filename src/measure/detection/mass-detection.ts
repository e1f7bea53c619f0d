import { FerruleError } from "../../errors.js";
import { type ConstantLimits, constantLimits } from "./constant-limits.js";

/** One harmonic of the signal as the receive chain sees it. */
export interface HarmonicChannel {
  readonly order: number;
  /** Peak amplitude per mass of iron of a point at the field-free point, phase known. */
  readonly signal_V_per_kg: number;
  /** One-sided density of the noise there, referred to the same place as the signal. */
  readonly noiseDensity_V_per_sqrtHz: number;
  /** Peak amplitude of what is there without any iron: feedthrough and its distortion. 0: none. */
  readonly background_V: number;
}

export interface MassDetectionOptions {
  /** Time that the point is measured for. */
  readonly time_s: number;
  /** Time of the empties that are subtracted; Infinity: their noise is negligible. */
  readonly emptyTime_s?: number;
  /** Standard deviation of (background during the scan - background subtracted) over the background. 0: stable. */
  readonly instability?: number;
}

/** A standard uncertainty of mass and its limits, kg. */
export interface MassLimits {
  readonly standardUncertainty_kg: number;
  readonly limits_kg: ConstantLimits;
}

export interface MassDetection {
  /** The chain's noise alone, matched filter. */
  readonly noise: MassLimits;
  /** Instability of the background alone, through that same filter; harmonics unstable independently. */
  readonly background: MassLimits;
  /** The same with every harmonic's change in the worst phase at once: an upper bound. */
  readonly worstBackground_kg: number;
  /** Both, independent, same filter. */
  readonly combined: MassLimits;
  /** Both, with a filter weighted against both: leaves out harmonics whose background is unstable. */
  readonly reweighted: MassLimits;
  /** Matched filter: mass = sum weight_n x_n, kg/V, in the order of the channels. */
  readonly weights_kg_per_V: Float64Array;
}

/**
 * Smallest mass of iron that a chain can see: a planning estimate, before image reconstruction.
 * A line A cos(w t + phi) of known phase in white noise of one-sided density S^2 (V^2/Hz): N samples at rate fs have the
 * variance S^2 fs/2 each and least squares gives var A = (S^2 fs/2)/(N/2) = S^2/t. With A_n = m u_n:
 *   weights g_n = (u_n/S_n^2) / sum u^2/S^2,  var m = 1 / (t sum u_n^2/S_n^2)       (noise)
 *   sd m = instability sqrt(sum (g_n b_n)^2), worst phase instability sum |g_n b_n|  (background)
 * Subtracting empties of duration t_e adds their noise: var times (1 + t/t_e).
 *
 * @param channels  harmonics that the chain passes. Leave the fundamental out where the filter removes it.
 * @returns kg Fe; limits at alpha = beta = 0.05, sigma known
 *
 * Valid for   a point at the field-free point, measured all the time; whole periods; sigma known and constant. A field of
 *             view shares the time among its places: an image's limit is higher, and is found by its own pipeline.
 * Source      least squares (matched filter); Currie (facts Q6); derived
 * Checked by  checks/receive-chain (normal equations of the sampled signal), mass-detection.test.ts (simulation)
 */
export function massDetection(
  channels: readonly HarmonicChannel[],
  { time_s, emptyTime_s = Number.POSITIVE_INFINITY, instability = 0 }: MassDetectionOptions,
): MassDetection {
  requireChannels(channels);
  requireAbove(time_s, "time_s", "2.14");
  if (!(emptyTime_s > 0)) throw refused("emptyTime_s", emptyTime_s, "a time above 0, e.g. 2.14 (Infinity: no noise)");
  if (!(instability >= 0 && Number.isFinite(instability)))
    throw refused("instability", instability, "a relative standard deviation from 0, e.g. 1e-6");
  const noiseVariance = channels.map(({ noiseDensity_V_per_sqrtHz: s }) => s * s * (1 / time_s + 1 / emptyTime_s));
  const drift_V = channels.map(({ background_V }) => instability * background_V);
  const weights = matchedWeights(channels, noiseVariance);
  const noise = weightedSd(weights, noiseVariance.map(Math.sqrt));
  const background = weightedSd(weights, drift_V);
  const totalVariance = noiseVariance.map((v, i) => v + drift_V[i] ** 2);
  const reweighted = weightedSd(matchedWeights(channels, totalVariance), totalVariance.map(Math.sqrt));
  return {
    noise: limitsOf(noise),
    background: limitsOf(background),
    worstBackground_kg: drift_V.reduce((sum, drift, i) => sum + Math.abs(weights[i] * drift), 0),
    combined: limitsOf(Math.hypot(noise, background)),
    reweighted: limitsOf(reweighted),
    weights_kg_per_V: weights,
  };
}

/** Weights of least variance that return the mass without bias: sum g_n u_n = 1. */
function matchedWeights(channels: readonly HarmonicChannel[], variance_V2: readonly number[]): Float64Array {
  const pull = channels.map(({ signal_V_per_kg: u }, i) => u / variance_V2[i]);
  const information = channels.reduce((sum, { signal_V_per_kg: u }, i) => sum + u * pull[i], 0);
  return Float64Array.from(pull, (value) => value / information);
}

function weightedSd(weights: Float64Array, sd_V: readonly number[]): number {
  return Math.hypot(...sd_V.map((sd, i) => weights[i] * sd));
}

function limitsOf(standardUncertainty_kg: number): MassLimits {
  return { standardUncertainty_kg, limits_kg: constantLimits(standardUncertainty_kg) };
}

function requireChannels(channels: readonly HarmonicChannel[]): void {
  channels.forEach(({ order, signal_V_per_kg, noiseDensity_V_per_sqrtHz, background_V }, i) => {
    if (!(Number.isInteger(order) && order >= 1))
      throw refused(`channels[${i}].order`, order, "the whole number of a harmonic from 1, e.g. 3");
    if (!(Number.isFinite(signal_V_per_kg) && signal_V_per_kg >= 0))
      throw refused(`channels[${i}].signal_V_per_kg`, signal_V_per_kg, "a peak amplitude per kg from 0, e.g. 3400");
    requireAbove(noiseDensity_V_per_sqrtHz, `channels[${i}].noiseDensity_V_per_sqrtHz`, "1e-9");
    if (!(Number.isFinite(background_V) && background_V >= 0))
      throw refused(`channels[${i}].background_V`, background_V, "a peak amplitude from 0, e.g. 4e-6");
  });
  if (!channels.some(({ signal_V_per_kg }) => signal_V_per_kg > 0))
    throw new FerruleError("NotIdentifiable", {
      path: "channels",
      found: channels.length === 0 ? "no harmonic" : "no harmonic that carries any signal",
      accepted: "one harmonic or more with a signal above 0",
    });
}

function requireAbove(value: number, path: string, example: string): void {
  if (!(Number.isFinite(value) && value > 0)) throw refused(path, value, `a finite number above 0, e.g. ${example}`);
}

function refused(path: string, found: number, accepted: string): FerruleError {
  return new FerruleError("InvalidValue", { path, found: String(found), accepted });
}
