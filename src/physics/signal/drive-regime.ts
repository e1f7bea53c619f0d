import { responseSpectrum } from "./response-spectrum.js";

/** How a tracer follows one drive, judged at the amplitude of that drive and nowhere else. */
export interface DriveRegime {
  readonly verdict: "quasi-static" | "relaxing" | "blocked" | "below-threshold" | "hysteretic";
  /** Fundamental of the response over that of the equilibrium curve. */
  readonly fundamentalRatio: number;
  /** How far the fundamental lags behind the drive's, rad. */
  readonly lag_rad: number;
  readonly words: string;
}

/** Lags and losses of the fundamental that separate the verdicts; ours, for words only: the numbers are given beside. */
const quasiStaticLag_rad = (5 * Math.PI) / 180;
const quasiStaticRatio = 0.95;
/** A steep tracer's fundamental hides what its width shows. */
const quasiStaticWidening = 1.1;
const blockedRatio = 0.3;

/**
 * Which regime a tracer is in at this drive, from its own response there.
 * Zero-field times are not used: they misjudge every good tracer (a 25 nm core of 13 kJ/m3 has an Arrhenius time of 142 s).
 *
 * @param response  M/Ms, [n]; @param equilibrium  M/Ms without memory at the same times, [n]; @param field_T  drive, [n]
 * @param options.thresholdField_T  coercive field of coupled chains, when there is one
 * @param options.widening  width at the drive over the static one, where both are known
 * @param options.isRelaxing  false: chains on their quasi-static loop, late by their coercive field alone
 * Source      definitions, surprise 8; limits of the words are ours
 */
export function driveRegime(
  response: Float64Array,
  equilibrium: Float64Array,
  {
    field_T,
    thresholdField_T,
    widening = 1,
    isRelaxing = true,
  }: {
    field_T: Float64Array;
    thresholdField_T?: number | undefined;
    widening?: number | undefined;
    isRelaxing?: boolean;
  },
): DriveRegime {
  const [own, ideal, drive] = [response, equilibrium, field_T].map((waveform) => responseSpectrum(waveform, 1));
  const fundamentalRatio = own.amplitude[1] / ideal.amplitude[1];
  const lag = drive.phase_rad[1] - own.phase_rad[1];
  const lag_rad = lag - 2 * Math.PI * Math.round(lag / (2 * Math.PI));
  const peak_T = field_T.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
  const facts = { fundamentalRatio, lag_rad };
  if (thresholdField_T !== undefined && peak_T < thresholdField_T)
    return {
      verdict: "below-threshold",
      ...facts,
      words: "the drive stays below the field at which the chains reverse: they answer on one branch only",
    };
  if (thresholdField_T !== undefined && !isRelaxing)
    return {
      verdict: "hysteretic",
      ...facts,
      words: "the chains' quasi-static loop: late by their coercive field alone",
    };
  if (fundamentalRatio < blockedRatio)
    return { verdict: "blocked", ...facts, words: "most of the moment does not follow the drive" };
  if (
    Math.abs(lag_rad) <= quasiStaticLag_rad &&
    fundamentalRatio >= quasiStaticRatio &&
    widening <= quasiStaticWidening
  )
    return { verdict: "quasi-static", ...facts, words: "the moment follows the equilibrium curve closely" };
  return {
    verdict: "relaxing",
    ...facts,
    words: "the moment follows late or not in full: wider and lower than the static curve says",
  };
}
