import type { DiscrepancyChoice, GridMap } from "../imaging/index.js";
import type { CalibrationLine, IronMassAnswer, RegionShape } from "../measure/index.js";

/** A tracer of the study: the one that everything was computed with, or one shown beside it. */
export interface ReportTracer {
  readonly name: string;
  readonly role: "used" | "comparison";
  /** Magnetic cores in words, weighting named: "11.0 nm (log-sd 0.34), by number". */
  readonly coreSizes: string;
  readonly momentPerIron_A_m2_per_kg: number;
  /** Full width at half maximum of the static response: a lower bound of the resolution. */
  readonly staticWidth_T: number;
  readonly staticWidthAlong_m: number;
  /** The two axes across the drive, in the order x, y, z. */
  readonly staticWidthAcross_m: readonly [number, number];
  readonly note?: string;
}

export interface ReportScan {
  readonly name: string;
  readonly role: string;
  readonly measuredNoise_V: number;
  readonly blocksOfEmpties: number;
  /** ‖A ĉ − y‖/‖y‖ of the iron map made from it. */
  readonly residualNorm_relative?: number;
}

export interface ReportRegion {
  readonly label: string;
  readonly shape: RegionShape;
}

export interface ReportReconstruction {
  readonly harmonics: { readonly first: number; readonly last: number };
  readonly haloAcross_m: number;
  readonly haloAlong_m: number;
  readonly widthRelativeUncertainty: number;
  readonly contourUncertainty_m: number;
  readonly positionUncertainty_m: number;
}

/** One computed piece: how it was made and what came out. */
export interface ReportProvenance {
  readonly node: string;
  readonly method: string;
  readonly methodVersion: number;
  /** Hash of inputs, options, method version and kernel. */
  readonly key: string;
  /** Hash of the content. */
  readonly digest: string;
}

/** Everything a report of a study is written from. Plain data, SI; nothing is computed from files here. */
export interface StudyReportData {
  readonly study: {
    readonly name: string;
    readonly description?: string;
    readonly invented: boolean;
    readonly notice?: string;
  };
  readonly tracers: readonly ReportTracer[];
  readonly scanner: {
    readonly name: string;
    /** Of µ₀H: x, y, z */
    readonly gradient_T_per_m: readonly [number, number, number];
    readonly driveAxis: string;
    readonly sensitivity_T_per_A: number;
    readonly noise_V_per_sqrtHz: number;
    readonly topology?: string;
    readonly boreDiameter_m?: number;
    readonly bandwidth_Hz?: number | undefined;
  };
  readonly protocol: {
    readonly name: string;
    /** Peak of µ₀H. */
    readonly amplitude_T: number;
    readonly frequency_Hz: number;
    /** Wall clock, with empties and moves. */
    readonly scanTime_s: number;
    readonly patches: number;
    readonly fieldOfView_m: readonly [number, number, number];
    readonly periodsPerPatch?: number;
  };
  /** Settings of the iron map, as the study states them. */
  readonly reconstruction?: ReportReconstruction | undefined;
  readonly scans: readonly ReportScan[];
  readonly answers: readonly IronMassAnswer[];
  /** Of invented studies only: what was put in. */
  readonly truth?: readonly { readonly region: string; readonly iron_kg: number }[];
  readonly calibration: CalibrationLine;
  readonly regularisation: {
    readonly relativeWeight: number;
    readonly outcome: DiscrepancyChoice["outcome"];
    readonly target2: number;
    readonly trials: DiscrepancyChoice["trials"];
    /** Name of the scan that the weight was chosen on. */
    readonly pilot: string;
    /** Chosen once, before any answer, and not touched since. */
    readonly frozen: true;
  };
  readonly maps: {
    readonly iron: Extract<GridMap, { kind: "iron" }>;
    readonly signal: Extract<GridMap, { kind: "signal" }>;
  };
  readonly regions: readonly ReportRegion[];
  readonly provenance: readonly ReportProvenance[];
  readonly seeds: readonly { readonly scan: string; readonly seed: number }[];
  /** Of the program. */
  readonly version: string;
  /** Cautions about the study as a whole; those of one answer travel with it. */
  readonly advisories: readonly string[];
}
