/**
 * Limits of the specific absorption rate of people in MRI, W/kg, averaged over 6 minutes (the time from memory).
 * Written for radio-frequency heating. Whole body and head: average over that mass. Local trunk: average over a small
 * mass (10 g in the standard, from memory).
 * Source      IEC 60601-2-33 as quoted in public repository documents; read (secondary)
 */
export const sarLimits = {
  wholeBodyNormal_W_per_kg: 2,
  wholeBodyFirstLevel_W_per_kg: 4,
  head_W_per_kg: 3.2,
  localTrunk_W_per_kg: 10,
} as const;

export const sarAveragingTime_s = 360;
