/** The two points that our sources give: least threshold, and the mean rise at the highest frequency. */
export const departurePoints = { minimum_Hz: 25e3, highest_Hz: 88.1e3, rise: 0.39 } as const;

/**
 * Measured threshold at a frequency over that near 25 kHz, where it is least: no hyperbola rises there.
 *   1 + 0.39 ln(f/25 kHz) / ln(88.1/25)
 *
 * @returns ratio of peak-to-peak thresholds, or `null` outside 25 to 88.1 kHz
 * Valid for   sinusoids on the head, a mean over 8 volunteers; straight in ln f between the two published points, which is
 *             our interpolation
 * Source      Barksdale et al., IEEE J. Transl. Eng. Health Med. 13:275 (2025), PMC12310169; read: minimum near 25 kHz,
 *             +39 % on average at 88.1 kHz, 200 Hz to 88.1 kHz
 * Checked by  checks/limits (E12)
 */
export function measuredDeparture(frequency_Hz: number): number | null {
  const { minimum_Hz, highest_Hz, rise } = departurePoints;
  if (!(frequency_Hz >= minimum_Hz && frequency_Hz <= highest_Hz)) return null;
  return 1 + rise * (Math.log(frequency_Hz / minimum_Hz) / Math.log(highest_Hz / minimum_Hz));
}
