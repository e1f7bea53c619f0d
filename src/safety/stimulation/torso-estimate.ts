/**
 * Range of the torso's asymptotic threshold, peak to peak, and of the chronaxie: a homogeneous solenoid field on limbs,
 * scaled to the torso.
 * Source      Saritas et al., IEEE TMI 32:1600 (2013); from memory, low confidence
 */
export const torsoEstimate = {
  low: { asymptote_T: 6e-3, chronaxie_s: 0.4e-3 },
  high: { asymptote_T: 7e-3, chronaxie_s: 0.3e-3 },
} as const;

/**
 * Ends of the range of thresholds of a rise of duration d, peak to peak.
 *   dB = A (1 + d/c):  6 mT with c = 0.4 ms, 7 mT with c = 0.3 ms
 *
 * Valid for, Source   as `torsoEstimate`
 * Checked by  checks/limits
 */
export function torsoThresholds_T(duration_s: number): { readonly low: number; readonly high: number } {
  const at = ({ asymptote_T: A, chronaxie_s: c }: { asymptote_T: number; chronaxie_s: number }) =>
    A * (1 + duration_s / c);
  return { low: at(torsoEstimate.low), high: at(torsoEstimate.high) };
}
