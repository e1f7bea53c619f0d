import type { Axis } from "../../physics/index.js";
import type { StrengthDuration } from "./strength-duration.js";

/**
 * Mean thresholds of sensation measured on 84 people in whole-body gradient coils, by gradient axis. The axes are those
 * of the coils (y front to back, z head to foot); a homogeneous drive field is another thing. None for x in our sources.
 * Source      Bourland, Nyenhuis & Schaefer, Neuroimaging Clin. N. Am. 9:363 (1999), abstract; read
 */
const measured: Partial<Record<Axis, StrengthDuration>> = {
  y: { rheobase_T_per_s: 15, chronaxie_s: 0.37e-3 },
  z: { rheobase_T_per_s: 26, chronaxie_s: 0.38e-3 },
};

/** Measured fit of one gradient axis, or `null` where our sources have none. */
export function measuredWholeBody(axis: Axis): StrengthDuration | null {
  return measured[axis] ?? null;
}

/** Discomfort over sensation, about; same source. */
export const discomfortOverSensation = 1.5;
