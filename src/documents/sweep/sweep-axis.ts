import { z } from "zod";
import type { QuantityKind } from "../../units/index.js";
import { quantity } from "../fields/quantity-field.js";
import { refuse } from "../fields/refuse.js";

interface AxisOptions {
  readonly description: string;
  readonly examples: readonly [string, string];
}

/** Values of one quantity: a list, or a range with a count. */
export function sweepAxisField(kind: QuantityKind, { description, examples: [low, high] }: AxisOptions) {
  const value = (words: string, example: string) => quantity(kind, { description: words, example, positive: true });
  const range = z
    .strictObject({
      from: value("first value", low),
      to: value("last value", high),
      count: z
        .int()
        .min(2)
        .max(10_000)
        .meta({ description: "how many values, both ends included", examples: [20] }),
      spacing: z.enum(["even", "ratio"]).meta({ description: "ratio: each value the same multiple of the one before" }),
    })
    .superRefine(({ from, to }, sink) => {
      if (to <= from)
        refuse(sink, ["to"], { found: "a last value that is not above the first", accepted: `e.g. "${high}"` });
    });
  const list = z.array(value("one value", low)).min(1).max(10_000);
  return z.union([list, range]).meta({ description: `${description}: a list, or { from, to, count, spacing }` });
}

export type ParsedSweepAxis = z.output<ReturnType<typeof sweepAxisField>>;

export function axisValues(axis: ParsedSweepAxis): readonly number[] {
  if (!("from" in axis)) return axis;
  const { from, to, count, spacing } = axis;
  return Array.from({ length: count }, (_, i) => {
    const part = i / (count - 1);
    return spacing === "even" ? from + part * (to - from) : from * (to / from) ** part;
  });
}
