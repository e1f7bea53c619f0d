import type { ScaleOptions } from "@observablehq/plot";
import { FerruleError } from "../errors.js";
import { unitForDisplay } from "../units/index.js";
import { fewLogTicks } from "./few-log-ticks.js";
import { centred } from "./key-panel.js";
import { plainNumber } from "./mass-unit.js";
import type { SweepAxis } from "./sweep-data.js";

/** @throws FerruleError InvalidValue: fewer than two values, not ascending, or not above 0 on a logarithmic axis */
export function checkSweep({ values, scale, name }: SweepAxis, path: string): void {
  const isAscending = values.every((x, i) => Number.isFinite(x) && (i === 0 || x > values[i - 1]));
  const refuse = (found: string, accepted: string) => {
    throw new FerruleError("InvalidValue", { path: `${path}.values`, found, accepted });
  };
  if (!isAscending) refuse(`values of ${name} that do not ascend`, "values in ascending order, such as 1, 2, 5");
  if (values.length < 2) refuse(`${values.length} values`, "two values or more: what is varied takes at least two");
  if (scale === "log" && values[0] <= 0) refuse(`${values[0]}`, "values above 0: the axis is logarithmic");
}

/** " (mT)"; nothing for a number alone. */
export const inUnit = (unit: string): string => (unit === "1" ? "" : ` (${unitForDisplay(unit)})`);

export const titleOf = ({ name, unit }: Pick<SweepAxis, "name" | "unit">): string => `${name}${inUnit(unit)}`;

/** Outer edges of the cells around every value, half way to its neighbours on the axis; shape [n + 1]. */
export function cellEdges({ values, scale }: SweepAxis): Float64Array {
  const isLog = scale === "log";
  const at = isLog ? values.map(Math.log) : values;
  const n = at.length;
  const edges = Float64Array.from({ length: n + 1 }, (_, i) => {
    if (i === 0) return at[0] - (at[1] - at[0]) / 2;
    if (i === n) return at[n - 1] + (at[n - 1] - at[n - 2]) / 2;
    return (at[i - 1] + at[i]) / 2;
  });
  return isLog ? edges.map(Math.exp) : edges;
}

/** The plot's scale for a sweep over a range, with ticks for so many picture elements. */
export function sweepScale(
  sweep: SweepAxis,
  [from, to]: readonly [number, number],
  { length, labelOffset }: { length: number; labelOffset: number },
): ScaleOptions & { labelOffset: number } {
  const few = Math.max(2, Math.floor(length / 50));
  const rest = { domain: [from, to], label: titleOf(sweep), ...centred, labelOffset };
  const tickFormat = (v: number) => plainNumber(v, 4);
  if (sweep.scale !== "log") return { type: "linear", ...rest, ticks: few, tickFormat };
  return { type: "log", ...rest, ticks: fewLogTicks([from, to], few + 1), tickFormat };
}

/** Place of a value on the axis, 0 to 1, and back. */
export function axisPlaces({ scale }: SweepAxis, [from, to]: readonly [number, number]) {
  const isLog = scale === "log";
  const span = isLog ? Math.log(to / from) : to - from;
  return {
    part: (value: number): number => (isLog ? Math.log(value / from) : value - from) / span,
    value: (part: number): number => (isLog ? from * Math.exp(part * span) : from + part * span),
  };
}
