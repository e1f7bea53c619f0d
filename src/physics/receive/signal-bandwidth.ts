import { FerruleError } from "../../errors.js";
import { findRoot } from "../../numerics/index.js";
import { requireBetween, requirePositive } from "../particle/ranges.js";

/**
 * Spectrum of the static response L'(xi), relative to its value at zero frequency.
 *   |F(w)| / F(0) = pi w / (e^(pi w) - 1),  w = 2 pi f / (d xi/dt)
 *
 * Source      facts M20, derived. Checked by checks/receive-chain (facts W8: half of 0.8244617, 0.2837845, 0.02351088)
 */
export function responseShare(omega: number): number {
  requireBetween(omega, [0, Number.MAX_VALUE], { path: "omega", example: "0.4" });
  return omega === 0 ? 1 : (Math.PI * omega) / Math.expm1(Math.PI * omega);
}

/** w at which the spectrum has fallen to a share: 0.39993 for a half, 1.15067 for 10 %, 2.06093 for 1 %. */
export function omegaOfShare(share: number): number {
  if (!(share >= 1e-300 && share < 1))
    throw new FerruleError("InvalidValue", {
      path: "share",
      found: String(share),
      accepted: "a share from 1e-300 to below 1, e.g. 0.1",
    });
  // ln is monotonous and nearly straight; pi w e^(-pi w) (1 + ...) reaches any double before w = 225.
  const excess = (omega: number) => Math.log(Math.PI * omega) - Math.log(Math.expm1(Math.PI * omega)) - Math.log(share);
  return findRoot(excess, [1e-17, 225], { relative: 1e-14 }).root;
}

/**
 * Frequency at which the signal of one pass over a point has fallen to a share of its start, Hz.
 *   f = w d(xi)/dt / (2 pi),  d(xi)/dt = k G v
 *
 * @param xiRate_per_s  k G v: moment over kB T, gradient and speed of the field-free point
 * Valid for   equilibrium response of equal cores, constant speed; relaxation only narrows it
 * Source      facts M21, derived. Checked by checks/receive-chain
 */
export function passBandwidth_Hz(xiRate_per_s: number, share: number): number {
  requirePositive(xiRate_per_s, "xiRate_per_s", "2.8e6");
  return (omegaOfShare(share) * xiRate_per_s) / (2 * Math.PI);
}

/**
 * The same for a sinusoidal drive, at its fastest: f = w f0 xi0; f/f0 is the number of the harmonic.
 *
 * @param driveXi  xi at the peak of the drive, xi0
 * Valid for   xi0 of 10 and more, where it runs low by 1 % at the 9th and 6 % at the 21st harmonic; at xi0 = 5 by 15 % at
 *             the 9th. Below, few harmonics exist: use `quasiStaticHarmonic`.
 * Source      facts M21, derived. Checked by signal-bandwidth.test.ts (exact harmonics)
 */
export function driveBandwidth_Hz(driveXi: number, frequency_Hz: number, share: number): number {
  requirePositive(driveXi, "driveXi", "10");
  requirePositive(frequency_Hz, "frequency_Hz", "25e3");
  return omegaOfShare(share) * frequency_Hz * driveXi;
}

/** One line of a measured or computed spectrum beside its noise. */
export interface SpectrumLine {
  readonly order: number;
  /** Peak amplitude. */
  readonly amplitude_V: number;
  readonly noiseDensity_V_per_sqrtHz: number;
}

export interface VisibleHarmonics {
  readonly count: number;
  /** Highest order above the noise; 0 when there is none. */
  readonly highestOrder: number;
  /** Amplitude over its standard uncertainty, in the order of the lines. */
  readonly signalToNoise: Float64Array;
}

/**
 * Harmonics that stand out of the noise after a time.
 *   A_n / (S_n / sqrt t) >= ratio: the amplitude of a line of known phase has the standard uncertainty S/sqrt(t)
 *   (S one-sided density, V/Hz^0.5)
 *
 * @param options.ratio  1: as strong as its standard uncertainty
 * Source      least squares in white noise; derived. Checked by checks/receive-chain (normal equations)
 */
export function harmonicsAboveNoise(
  lines: readonly SpectrumLine[],
  { time_s, ratio = 1 }: { time_s: number; ratio?: number },
): VisibleHarmonics {
  requirePositive(time_s, "time_s", "1");
  requirePositive(ratio, "ratio", "3");
  const signalToNoise = Float64Array.from(lines, ({ amplitude_V, noiseDensity_V_per_sqrtHz: s }, i) => {
    requirePositive(s, `lines[${i}].noiseDensity_V_per_sqrtHz`, "1e-9");
    return (Math.abs(amplitude_V) * Math.sqrt(time_s)) / s;
  });
  const visible = lines.filter((_, i) => signalToNoise[i] >= ratio);
  return {
    count: visible.length,
    highestOrder: visible.reduce((highest, { order }) => Math.max(highest, order), 0),
    signalToNoise,
  };
}
