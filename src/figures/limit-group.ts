import type { ExposedClass } from "./limit-words.js";

/** What a source says, in words. */
export interface LimitSource {
  readonly name: string;
  readonly edition?: string;
  /** A footnote of the figure; the same words have one number wherever they stand. */
  readonly caution?: string;
}

/** A value over its limit, as an interval where our sources differ. */
export interface LimitBar {
  readonly label: string;
  /** Both null where our sources have no published threshold. */
  readonly ratioLow: number | null;
  readonly ratioHigh: number | null;
  /** The value with its unit. */
  readonly value?: string;
  /** The limit with its unit, the strictest where sources differ. */
  readonly limit?: string;
  readonly sources: readonly LimitSource[];
}

export interface LimitGroup {
  readonly class: ExposedClass;
  readonly lines: readonly LimitBar[];
}
