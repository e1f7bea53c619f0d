/** How an amplitude was written down, and what makes it a peak value: x(t) = peak * cos wt. */
export const amplitudeMeanings = ["peak", "peak-to-peak", "rms"] as const;
export type AmplitudeMeaning = (typeof amplitudeMeanings)[number];

/** Peak value of an amplitude of 1 in the given meaning; of a sine, which is what a single frequency is. */
export const peakPer: Readonly<Record<AmplitudeMeaning, number>> = {
  peak: 1,
  "peak-to-peak": 0.5,
  rms: Math.SQRT2,
};
