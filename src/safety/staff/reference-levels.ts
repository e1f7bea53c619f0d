import { FerruleError } from "../../errors.js";

/** For whom a level holds: people at work who know of the field, or anyone. */
export type Audience = "occupational" | "public";

/**
 * ICNIRP 2010 reference level of the magnetic flux density, rms.
 *   occupational 0.3 T/(f/Hz) from 300 Hz to 3 kHz, 0.1 mT from 3 kHz to 10 MHz
 *   public       0.08 T/(f/Hz) from 400 Hz to 3 kHz, 0.027 mT from 3 kHz to 10 MHz
 *
 * @returns T rms, or `null` at frequencies where our sources give none
 * Valid for   sinusoids in place of the person who is not there; 300 (400) Hz to 10 MHz; heating limits apply beside them
 *             above 100 kHz (from memory)
 * Source      Health Phys. 99:818 (2010), as table 7.3 of a bioelectromagnetism handbook; read
 * Checked by  checks/limits (P16)
 */
export function referenceLevel_T(frequency_Hz: number, audience: Audience): number | null {
  const { from_Hz, slope_T_Hz, plateau_T } = levels[audience];
  requireFrequency(frequency_Hz);
  if (frequency_Hz < from_Hz || frequency_Hz > 10e6) return null;
  return frequency_Hz < 3e3 ? slope_T_Hz / frequency_Hz : plateau_T;
}

const levels = {
  occupational: { from_Hz: 300, slope_T_Hz: 0.3, plateau_T: 0.1e-3 },
  public: { from_Hz: 400, slope_T_Hz: 0.08, plateau_T: 0.027e-3 },
} as const;

/**
 * ICNIRP 2010 basic restriction of the electric field in all tissue of head and body, rms.
 *   occupational 0.8 V/m up to 3 kHz, 2.7e-4 f above; public 0.4 V/m, 1.35e-4 f
 *
 * @returns V/m rms, or `null` outside 60 Hz to 10 MHz
 * Source      at 60 Hz: emftesting.net summary, read (secondary); between, and above 3 kHz: from memory. The workers'
 *             rule below agrees with both.
 * Checked by  checks/limits (P17, P18, W28)
 */
export function basicRestriction_V_per_m(frequency_Hz: number, audience: Audience): number | null {
  requireFrequency(frequency_Hz);
  if (frequency_Hz < 60 || frequency_Hz > 10e6) return null;
  const half = audience === "public" ? 0.5 : 1;
  return half * (frequency_Hz < 3e3 ? 0.8 : 2.7e-4 * frequency_Hz);
}

/**
 * European and Norwegian workers' rule for the electric field in all tissue, *peak*.
 *   1.1 V/m below 3 kHz, 3.8e-4 f above
 *
 * @returns V/m peak, or `null` outside 1 Hz to 10 MHz
 * Source      arbeidstilsynet.no, regulation, table 7.2; read
 * Checked by  checks/limits (P18: sqrt 2 x 2.7e-4 = 3.818e-4)
 */
export function workersPeakField_V_per_m(frequency_Hz: number): number | null {
  requireFrequency(frequency_Hz);
  if (frequency_Hz < 1 || frequency_Hz > 10e6) return null;
  return frequency_Hz < 3e3 ? 1.1 : 3.8e-4 * frequency_Hz;
}

/**
 * ICNIRP 2010 basic restriction of the electric field in the central nervous system of the head, rms; 60 Hz only.
 * Source      emftesting.net summary; read (secondary)
 */
export const headAt60Hz_V_per_m = { occupational: 120e-3, public: 24e-3 } as const;

/**
 * Line around a static magnet inside which people with pacemakers and other active implants do not come, T.
 * Source      IEC 60601-2-33 in earlier editions and common practice; from memory. A later edition may draw another.
 */
export const implantLine_T = 0.5e-3;

function requireFrequency(frequency_Hz: number): void {
  if (frequency_Hz > 0 && Number.isFinite(frequency_Hz)) return;
  throw new FerruleError("InvalidValue", {
    path: "frequency_Hz",
    found: String(frequency_Hz),
    accepted: "a frequency above 0, e.g. 25e3 (25 kHz); a static field is given as staticStray",
  });
}
