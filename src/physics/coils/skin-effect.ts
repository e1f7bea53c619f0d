import { FerruleError } from "../../errors.js";
import { vacuumPermeability_T_m_per_A } from "../../units/index.js";
import { requirePositive } from "../particle/ranges.js";

/**
 * Depth at which an alternating current has fallen to 1/e, m.
 *   δ = √(ρ/(π·f·μ0))
 *
 * Valid for   conductors that are not magnetic; infinite at 0 Hz
 * Source      textbooks (from memory)
 * Checked by  skin-effect.test.ts (worked value), checks/coil-engineering
 */
export function skinDepth_m(resistivity_Ohm_m: number, frequency_Hz: number): number {
  requirePositive(resistivity_Ohm_m, "resistivity_Ohm_m", "1.7241e-8");
  requireFrequency(frequency_Hz);
  return Math.sqrt(resistivity_Ohm_m / (Math.PI * frequency_Hz * vacuumPermeability_T_m_per_A));
}

export interface SkinEffect {
  /** Resistance over that of direct current, >= 1. */
  readonly resistanceRatio: number;
  /** Inductance inside the wire over its direct-current value mu0/(8π) per metre, <= 1. */
  readonly internalInductanceRatio: number;
}

/**
 * Skin effect of one straight round wire, alone.
 *   Z/R0 = (k·a/2)·J0(k·a)/J1(k·a),  k = (1 − i)/δ;   J0/J1 by its continued fraction
 *   R/R0 = Re,  L/L0 = Im·4/q²,  q = a/δ
 *
 * Valid for   every q; relative error 1e-14. From q = 1e4 on by R/R0 = q/2 + 1/4 + 3/(32·q), L/L0 = 2/q − 3/(8·q³).
 *             Neighbouring turns add proximity losses that are not in here and are often larger: see
 *             `strandEddyLoss_W`. Above q of about 1 a wire of many fine insulated strands (litz) is the usual remedy.
 * Source      textbooks (internal impedance of a round wire); from memory
 * Checked by  checks/coil-engineering (mpmath Bessel functions of complex argument, 30 digits)
 */
export function skinEffect(radius_m: number, depth_m: number): SkinEffect {
  requirePositive(radius_m, "radius_m", "1e-3");
  if (depth_m === Number.POSITIVE_INFINITY) return { resistanceRatio: 1, internalInductanceRatio: 1 };
  const q = radius_m / requirePositive(depth_m, "depth_m", "4e-4");
  if (q > 1e4)
    return { resistanceRatio: q / 2 + 0.25 + 3 / (32 * q), internalInductanceRatio: 2 / q - 3 / (8 * q ** 3) };
  // t_n = 2n + 2i·q²/t_{n+1}; Z/R0 = t_1/2. Terms beyond n = |k·a| only repeat what is known.
  let n = Math.ceil(2.2 * q) + 30;
  let re = 2 * n;
  let im = 0;
  for (n--; n >= 1; n--) {
    const scale = (2 * q * q) / (re * re + im * im);
    [re, im] = [2 * n + scale * im, scale * re];
  }
  return { resistanceRatio: re / 2, internalInductanceRatio: q > 0 ? (2 * im) / (q * q) : 1 };
}

export interface StrandField {
  readonly strandDiameter_m: number;
  readonly frequency_Hz: number;
  readonly resistivity_Ohm_m: number;
  /** Mean over the metal of the squared peak field across the strands, T². */
  readonly meanSquareField_T2: number;
  /** All strands, metal only. */
  readonly metalVolume_m3: number;
}

/**
 * Heat of eddy currents in round strands that lie across an alternating field (proximity effect), W, mean over a period.
 *   P = V·ω²·⟨B²⟩·d²/(32·ρ),  B the peak
 *
 * Valid for   strands thinner than the skin depth (at d = δ it is 0.7 % too high, at d = 2·δ 11 %); the field taken as given, that is
 *             without the strands' own shielding
 * Source      derived: E = ω·B·x along the wire at the distance x from its middle; ⟨x²⟩ = d²/16 over the section
 * Checked by  checks/coil-engineering (exact cylinder in a transverse field, mpmath Bessel functions)
 */
export function strandEddyLoss_W({
  strandDiameter_m,
  frequency_Hz,
  resistivity_Ohm_m,
  meanSquareField_T2,
  metalVolume_m3,
}: StrandField): number {
  requirePositive(strandDiameter_m, "strandDiameter_m", "1e-4");
  requirePositive(resistivity_Ohm_m, "resistivity_Ohm_m", "1.7241e-8");
  requirePositive(metalVolume_m3, "metalVolume_m3", "1e-4");
  requireFrequency(frequency_Hz);
  const omega = 2 * Math.PI * frequency_Hz;
  return (metalVolume_m3 * omega ** 2 * meanSquareField_T2 * strandDiameter_m ** 2) / (32 * resistivity_Ohm_m);
}

export function requireFrequency(frequency_Hz: number): number {
  if (Number.isFinite(frequency_Hz) && frequency_Hz >= 0) return frequency_Hz;
  throw new FerruleError("InvalidValue", {
    path: "frequency_Hz",
    found: String(frequency_Hz),
    accepted: "a finite number, 0 or above, e.g. 25e3",
  });
}
