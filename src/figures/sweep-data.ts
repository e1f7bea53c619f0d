import type { ExposedClass } from "./limit-words.js";

/** One quantity that was varied, in the unit it is shown in. */
export interface SweepAxis {
  readonly name: string;
  /** "1" for none. */
  readonly unit: string;
  /** Shape [n], two or more, ascending. */
  readonly values: Float64Array;
  /** "linear" by default. */
  readonly scale?: "log" | "linear";
}

/** One quantity over two sweeps. */
export interface TradeOffPanel {
  readonly name: string;
  readonly unit: string;
  /** Shape [ny, nx]; NaN where there is none. */
  readonly values: Float64Array;
  readonly scale: "log" | "linear";
}

/** At every point of two sweeps, which limit of one class is reached first, and what our sources say of the value. */
export interface BindingLimits {
  readonly class: ExposedClass;
  readonly names: readonly string[];
  /** Place in `names`; -1 where none is known. Shape [ny, nx]. */
  readonly index: Int8Array;
  /** Place in `verdictWords`, 0 to 3. Shape [ny, nx]. */
  readonly verdict: Int8Array;
}
