import type { Formula } from "../../units/index.js";

/**
 * Decision and detection limits for counts at alpha = beta = 0.05.
 * `critical` decides "detected"; `detection` plans; `quantification` is where the relative standard deviation is 10 %.
 */
export interface CountingLimits {
  readonly critical: number;
  readonly detection: number;
  readonly quantification: number;
}

/** 95 % one-sided normal quantile. Source: standard normal tables; derived; compared with numerics in currie.test.ts. */
const k = 1.6448536269514722;

/**
 * Paired observations: the blank is measured as long as the sample. Coefficients as published, rounded.
 *   L_C = 2.33 sqrt B,  L_D = 2.71 + 4.65 sqrt B,  L_Q = 50 (1 + sqrt(1 + B/12.5))
 *
 * @param blankCounts  counts of the blank in the time of the sample
 * @returns net counts
 * Valid for   Poisson counts, normal approximation (B of some tens or more)
 * Source      Currie, Anal. Chem. 40:586 (1968): L_C, L_D read (secondary page); L_Q from memory, derivation checked
 * Checked by  checks/handbook (B = 100)
 */
export function pairedLimits(blankCounts: number): CountingLimits {
  const root = Math.sqrt(blankCounts);
  return { critical: 2.33 * root, detection: 2.71 + 4.65 * root, quantification: quantificationLimit(blankCounts, 2) };
}

/**
 * Well-known blank: its mean is known without error. Coefficients as published, rounded.
 *   L_C = 1.645 sqrt B,  L_D = 2.71 + 3.29 sqrt B,  L_Q = 50 (1 + sqrt(1 + B/25))
 * Parameters, validity, source and check as `pairedLimits`.
 */
export function knownBlankLimits(blankCounts: number): CountingLimits {
  const root = Math.sqrt(blankCounts);
  return { critical: 1.645 * root, detection: 2.71 + 3.29 * root, quantification: quantificationLimit(blankCounts, 1) };
}

/** `pairedLimits` without rounding: L_C = k sqrt(2B), L_D = k^2 + 2 L_C, k = 1.644854. Derived. */
export function exactPairedLimits(blankCounts: number): CountingLimits {
  return exactLimits(blankCounts, 2);
}

/** `knownBlankLimits` without rounding: L_C = k sqrt B, L_D = k^2 + 2 L_C. Derived. */
export function exactKnownBlankLimits(blankCounts: number): CountingLimits {
  return exactLimits(blankCounts, 1);
}

/** `blanks`: how many times the blank's Poisson variance enters the net count: 2 when it is measured too, 1 when known. */
function exactLimits(blankCounts: number, blanks: 1 | 2): CountingLimits {
  const critical = k * Math.sqrt(blanks * blankCounts);
  return { critical, detection: k * k + 2 * critical, quantification: quantificationLimit(blankCounts, blanks) };
}

/** L_Q = 10 sqrt(L_Q + blanks B) solved for L_Q: exact as published, nothing is rounded. */
function quantificationLimit(blankCounts: number, blanks: 1 | 2): number {
  return 50 * (1 + Math.sqrt(1 + (blanks * blankCounts) / 25));
}

const output = (name: string, summary: string) =>
  ({ name, kind: "dimensionless", unit: "1", summary: `${summary}, net counts` }) as const;

export const currieLimitsFormula: Formula = {
  name: "currie-limits",
  subject: "metrology",
  summary: "critical level, detection limit and quantification limit of a count, alpha = beta = 0.05",
  equation:
    "paired: L_C = 2.33 sqrt B, L_D = 2.71 + 4.65 sqrt B, L_Q = 50 (1 + sqrt(1 + B/12.5)); known blank: L_C = 1.645 sqrt B, L_D = 2.71 + 3.29 sqrt B, L_Q = 50 (1 + sqrt(1 + B/25)); exact: L_D = k^2 + 2 L_C, k = 1.644854",
  inputs: [
    {
      name: "blank",
      kind: "dimensionless",
      summary: "blank counts B in the time of the sample",
      example: "100",
      minimum: 0,
    },
  ],
  outputs: [
    output("critical-paired", "blank measured as long as the sample, published coefficients"),
    output("detection-paired", "same"),
    output("quantification-paired", "same; relative standard deviation 10 %"),
    output("critical-known-blank", "mean of the blank known, published coefficients"),
    output("detection-known-blank", "same"),
    output("quantification-known-blank", "same; relative standard deviation 10 %"),
    output("exact-critical-paired", "unrounded coefficients"),
    output("exact-detection-paired", "unrounded coefficients"),
    output("exact-critical-known-blank", "unrounded coefficients"),
    output("exact-detection-known-blank", "unrounded coefficients"),
  ],
  validity: "Poisson counts in the normal approximation; L_Q has no rounded coefficient, so no second form",
  source: {
    text: "Currie, Anal. Chem. 40:586 (1968), as quoted on a radiometrics page; L_Q from memory, derivation checked",
    status: "read (secondary)",
  },
  compute: ({ blank }) => {
    const [paired, known] = [pairedLimits(blank), knownBlankLimits(blank)];
    const [exactPaired, exactKnown] = [exactPairedLimits(blank), exactKnownBlankLimits(blank)];
    return {
      "critical-paired": paired.critical,
      "detection-paired": paired.detection,
      "quantification-paired": paired.quantification,
      "critical-known-blank": known.critical,
      "detection-known-blank": known.detection,
      "quantification-known-blank": known.quantification,
      "exact-critical-paired": exactPaired.critical,
      "exact-detection-paired": exactPaired.detection,
      "exact-critical-known-blank": exactKnown.critical,
      "exact-detection-known-blank": exactKnown.detection,
    };
  },
  advise: adviseOnBlank,
};

/** Source: common practice; Currie (1968) asks for about 70 counts for the short forms (from memory). */
function adviseOnBlank({ blank }: Readonly<Record<string, number>>): string[] {
  if (blank >= 70) return [];
  return [`a blank of ${blank} counts is small for the normal approximation (about 70 or more)`];
}
