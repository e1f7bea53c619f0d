/**
 * Published design points and results, as our reference sheet prints them (rows of facts.md and practice.md). What stands
 * behind each, and how well it is known, is in SOURCE.md.
 */
export const published = {
  /** G2: animal scanners. Ranges from reviews, from memory. */
  animalScanners: {
    gradient_T_per_m: [2.5, 7],
    driveAmplitude_T: [12e-3, 20e-3],
    driveFrequency_Hz: [20e3, 45e3],
    boreDiameter_m: [30e-3, 120e-3],
    bandwidth_Hz: [1e6, 1.25e6],
  },
  /** G3: a human-head scanner of 2019, from memory. The axis of the gradient is not named. */
  headScanner: { gradient_T_per_m: 0.2, driveAmplitude_T: 6e-3, driveFrequency_Hz: 26e3 },
  /** N1, E7: a mouse coil, in vitro, read. */
  mouseLimit: { iron_kg: 5e-12, time_s: 2.14, concentration_kg_per_m3: 156e-6, frame_s: 21.5e-3 },
  /** N2: a bolus seen in the heart of a mouse in one frame, read. */
  mouseBolus: { iron_kg: 512e-12, frame_s: 21.5e-3 },
  /** S8, W12, W13: base frequency and dividers of that frame; printed figures of the sheet. */
  frame: { baseFrequency_Hz: 2.5e6, dividers: [102, 96, 99], period_s: 21.5424e-3, framesInScan: 99.339 },
  /** N3, E16: 263 pmol Fe/mL, which is 14.687 ng/mL. Volume and time are not in our sources. */
  headLimit: { amount_mol_per_m3: 263e-12 / 1e-6, concentration_kg_per_m3: 14.687e-6 },
  /** N4: signal-to-noise 1 in one image of 4.7 s at 6 mT, read. */
  primateLimit: { iron_kg: 19.5e-12, time_s: 4.7, driveAmplitude_T: 6e-3 },
  /** E13, G4: a human design study beside rodent systems, abstract read. */
  rodentToHead: { sensitivity: 20, width: 5 },
  /** E12, P8: least threshold near 25 kHz, +39 % at 88.1 kHz, read. */
  stimulation: { least_Hz: 25e3, highest_Hz: 88.1e3, rise: 1.39 },
} as const;
