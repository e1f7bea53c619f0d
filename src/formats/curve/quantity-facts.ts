import { FerruleError } from "../../errors.js";
import { parseQuantity, type QuantityKind } from "../../units/index.js";
import type { CurveDescriptor } from "./descriptor.js";

/**
 * Facts that are quantities, and the range in which a person can have meant them. A slip of the unit (446 A/m for
 * 446 kA/m) turns into a diameter that looks like a result, so it is refused.
 *
 * Source   saturation: from weak ferrites at 10 kA/m to iron-cobalt at 1.95 MA/m (textbook values, from memory);
 *          temperature: what magnetometers reach (common practice)
 */
export const quantityFacts = {
  temperature: { kind: "temperature", low: 1, high: 1200, words: 'from 1 K to 1200 K, e.g. "300 K"' },
  coreSaturation: {
    kind: "magnetisation",
    low: 10e3,
    high: 2.5e6,
    words: 'from 10 kA/m to 2500 kA/m, e.g. "446 kA/m"',
  },
} as const satisfies Record<string, { kind: QuantityKind; low: number; high: number; words: string }>;

export type QuantityFact = keyof typeof quantityFacts;

/** SI value of a fact, or nothing where the descriptor does not state it. */
export function quantityFact(
  descriptor: CurveDescriptor | undefined,
  fact: QuantityFact,
  file?: string,
): number | undefined {
  const text = descriptor?.facts[fact]?.value;
  if (text === undefined) return undefined;
  const { kind, low, high, words } = quantityFacts[fact];
  const place = { file, path: `facts.${fact}.value` };
  const value = parseQuantity(text, kind, place);
  if (value >= low && value <= high) return value;
  throw new FerruleError("InvalidValue", { ...place, found: JSON.stringify(text), accepted: words });
}
