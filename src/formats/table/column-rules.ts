import type { WantedColumn } from "./read-columns.js";

/** A column of standard deviations: all above 0, or they weigh nothing. */
export const sigmaColumn = (index: number): WantedColumn => ({
  index,
  rule: {
    isFit: (sigma) => sigma > 0,
    refusal: (sigma) => ({
      found: `a standard deviation of ${sigma}`,
      accepted: 'standard deviations above 0; call the column "ignore" in the descriptor if it was never filled in',
    }),
  },
});

/** A column of frequencies: none is 0 or negative (a transform's negative half repeats the positive one). */
export const frequencyColumn = (index: number): WantedColumn => ({
  index,
  rule: {
    isFit: (frequency) => frequency > 0,
    refusal: (frequency) => ({ found: `a frequency of ${frequency}`, accepted: "frequencies above 0" }),
  },
});

/** A column of amplitudes: the sign belongs to the phase. */
export const amplitudeColumn = (index: number): WantedColumn => ({
  index,
  rule: {
    isFit: (amplitude) => amplitude >= 0,
    refusal: (amplitude) => ({
      found: `an amplitude of ${amplitude}`,
      accepted: 'amplitudes from 0 up; signed values are a "real" column with its "imaginary" one',
    }),
  },
});
