import type { ExposedClass } from "./limit-words.js";

/** A value over its limit, as an interval where our sources differ. */
export interface LimitBar {
  readonly label: string;
  /** Both null where our sources have no published threshold. */
  readonly ratioLow: number | null;
  readonly ratioHigh: number | null;
  readonly source: string;
}

export interface LimitGroup {
  readonly class: ExposedClass;
  readonly lines: readonly LimitBar[];
}
