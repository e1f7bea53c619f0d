import type { QuantityKind } from "./kinds.js";

/** How well a formula's source is known: the marks of our references, used in every listing. */
export type SourceStatus = "read" | "read (secondary)" | "common practice" | "from memory" | "derived";

export interface FormulaInput {
  /** kebab-case, as typed on the command line: `core-diameter`. */
  readonly name: string;
  readonly kind: QuantityKind;
  readonly summary: string;
  /** An example that works, written as a person would: `"25 nm"`. */
  readonly example: string;
  /** Used when the input is not given; with its unit. Absent: the input is required. */
  readonly default?: string;
  /** Inclusive bounds in SI outside which the formula has no meaning (refused). */
  readonly minimum?: number;
  readonly maximum?: number;
  /** `true`: the minimum itself is refused too (a diameter must be above 0). */
  readonly aboveMinimum?: boolean;
}

export interface FormulaOutput {
  readonly name: string;
  readonly kind: QuantityKind;
  /** Unit in which the value is shown; one of the symbols of the unit table. */
  readonly unit: string;
  readonly summary: string;
  /** Printed in place of the name where the trade's usual word would mislead, e.g. "static width". */
  readonly label?: string;
}

/**
 * A published formula, declared once beside the function that computes it.
 * Everything is plain data except `compute`, which takes and returns coherent SI by input and output name.
 */
export interface Formula {
  readonly name: string;
  readonly subject: "particle" | "field" | "signal" | "noise" | "metrology" | "safety" | "comparator" | "kinetics";
  readonly summary: string;
  /** One line of plain text: `L(xi) = coth xi - 1/xi`. */
  readonly equation: string;
  readonly inputs: readonly FormulaInput[];
  readonly outputs: readonly FormulaOutput[];
  /** The range in which the formula holds, in words. */
  readonly validity: string;
  readonly source: { readonly text: string; readonly status: SourceStatus };
  readonly compute: (inputs: Readonly<Record<string, number>>) => Readonly<Record<string, number>>;
  /** Cautions for these inputs: outside the validity range, extrapolated, a common confusion. */
  readonly advise?: (inputs: Readonly<Record<string, number>>) => readonly string[];
}
