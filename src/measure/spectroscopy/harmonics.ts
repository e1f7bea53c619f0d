import type { CurveAssumption, CurveBasis } from "../magnetometry/curve.js";

/** What the moment of a spectrum is divided by; `arbitrary` where its scale is unknown and a fit must find it. */
export type SpectrumBasis = Exclude<CurveBasis, "per-core-volume" | "per-sample-volume"> | "arbitrary";

/**
 * Harmonics of a sample's moment under one sinusoidal drive, as particle spectroscopy gives them. Coherent SI.
 *   B(t) = B0 + A cos wt,  m(t) = Re sum_k m_k e^{+i k w t}
 * so that a moment which follows the field without lag has real m_k.
 */
export interface HarmonicSpectrum {
  readonly name: string;
  /** Number k of each harmonic, shape [n], from 1: odd ones; even ones too where a bias field is stated. */
  readonly harmonic: Int32Array;
  /** Peak complex amplitude m_k, interleaved re, im, shape [2n], in `unit`. Without phase: re >= 0 and im = 0. */
  readonly moment: Float64Array;
  readonly hasPhase: boolean;
  /** Standard deviation of each of re and im, or of the amplitude where there is no phase; same unit, shape [n]. */
  readonly sigma?: Float64Array;
  /** `1`: arbitrary units, the scale common to all harmonics is a free parameter. */
  readonly unit: "A.m2" | "A.m2/kg" | "1";
  readonly basis: SpectrumBasis;
  /** Peak of mu0*H along the drive. */
  readonly driveAmplitude_T: number;
  readonly frequency_Hz: number;
  /** Static field along the drive, 0 where there is none. */
  readonly biasField_T: number;
  readonly temperature_K?: number;
  readonly coreMaterial?: string;
  readonly coreSaturation_A_per_m?: number;
  readonly medium?: { readonly viscosity_Pa_s?: number; readonly name?: string };
  readonly assumptions: readonly CurveAssumption[];
  /** What was odd in the file, in words, with line numbers. */
  readonly findings: readonly string[];
}
