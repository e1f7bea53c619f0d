/**
 * A measured magnetisation curve as the fits take it: coherent SI, acquisition order kept, and with it everything
 * that was assumed to read it. An assumption made here must be told beside every number derived later.
 */

/** What the magnetisation column is divided by. A moment of the whole sample is divided by nothing. */
export const curveBases = {
  "whole-sample": { dimensionUnit: "A.m2", summary: "magnetic moment of the whole sample" },
  "per-iron-mass": { dimensionUnit: "A.m2/kg", summary: "moment per kg of iron (Fe)" },
  "per-oxide-mass": { dimensionUnit: "A.m2/kg", summary: "moment per kg of iron oxide" },
  "per-sample-mass": { dimensionUnit: "A.m2/kg", summary: "moment per kg of sample, coating and carrier included" },
  "per-core-volume": { dimensionUnit: "A/m", summary: "moment per volume of magnetic cores" },
  "per-sample-volume": { dimensionUnit: "A/m", summary: "moment per volume of sample" },
} as const;

export type CurveBasis = keyof typeof curveBases;

export const curveBranches = ["initial", "descending", "ascending", "loop", "anhysteretic"] as const;
export type CurveBranch = (typeof curveBranches)[number];

/** Something neither measured nor stated with the file, taken on somebody's word. */
export interface CurveAssumption {
  readonly fact: string;
  readonly value: string;
  readonly note: string;
}

export interface MagnetisationCurve {
  readonly name: string;
  /** mu0*H, T, shape [n], in the order of acquisition (sorting would lose hysteresis). */
  readonly field_T: Float64Array;
  /** Shape [n], in `magnetisationUnit`. */
  readonly magnetisation: Float64Array;
  /** Standard deviation of each magnetisation, same unit, shape [n]; absent when the file has none. */
  readonly sigma?: Float64Array;
  /** Coherent SI: `A.m2`, `A.m2/kg` or `A/m`. */
  readonly magnetisationUnit: "A.m2" | "A.m2/kg" | "A/m";
  readonly basis: CurveBasis;
  readonly branch?: CurveBranch;
  readonly temperature_K?: number;
  readonly coreMaterial?: string;
  /** Volume magnetisation of the core at saturation: turns a moment into a diameter. */
  readonly coreSaturation_A_per_m?: number;
  readonly assumptions: readonly CurveAssumption[];
  /** What was odd in the file, in words, with line numbers. */
  readonly findings: readonly string[];
}
