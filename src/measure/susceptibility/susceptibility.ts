import type { CurveAssumption, CurveBasis } from "../magnetometry/curve.js";

/** What a susceptibility is divided by; `arbitrary` where its scale is unknown and a fit must find it. */
export type SusceptibilityBasis = CurveBasis | "arbitrary";

/**
 * Complex susceptibility of a sample over frequency, at a field small enough for a linear answer. Coherent SI.
 *   chi = chi' - i chi'',  M(t) = Re chi H e^{+i w t}
 * so that chi'' >= 0 for every passive sample.
 */
export interface AcSusceptibility {
  readonly name: string;
  /** Shape [n], in the order of the file, all > 0. */
  readonly frequency_Hz: Float64Array;
  /** chi', shape [n], in `unit`. */
  readonly real: Float64Array;
  /** chi'', shape [n], in `unit`. */
  readonly imaginary: Float64Array;
  readonly sigmaReal?: Float64Array;
  readonly sigmaImaginary?: Float64Array;
  /** Of what: `1` SI volume susceptibility, `m3/kg` per mass, `m3` of the whole sample (moment over H). */
  readonly unit: "1" | "m3/kg" | "m3" | "arbitrary";
  readonly basis: SusceptibilityBasis;
  /** Peak of mu0*H. */
  readonly fieldAmplitude_T: number;
  readonly temperature_K?: number;
  readonly viscosity_Pa_s?: number;
  readonly coreMaterial?: string;
  readonly coreSaturation_A_per_m?: number;
  readonly assumptions: readonly CurveAssumption[];
  /** What was odd in the file, in words, with line numbers. */
  readonly findings: readonly string[];
}
