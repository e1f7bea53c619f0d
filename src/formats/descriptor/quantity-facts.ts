import { FerruleError } from "../../errors.js";
import { parseQuantity, type QuantityKind } from "../../units/index.js";
import type { AnyFacts } from "./fact-schema.js";

/** A fact that is a quantity, and the range in SI in which a person can have meant it. */
export interface QuantityFact {
  readonly kind: QuantityKind;
  readonly low: number;
  readonly high: number;
  readonly words: string;
}

/**
 * Facts of the sample that are quantities. A slip of the unit (446 A/m for 446 kA/m) turns into a diameter that looks
 * like a result, so it is refused.
 *
 * Source   saturation: from weak ferrites at 10 kA/m to iron-cobalt at 1.95 MA/m (textbook values, from memory);
 *          temperature: what magnetometers reach (common practice)
 */
export const sampleQuantityFacts = {
  temperature: { kind: "temperature", low: 1, high: 1200, words: 'from 1 K to 1200 K, e.g. "300 K"' },
  coreSaturation: {
    kind: "magnetisation",
    low: 10e3,
    high: 2.5e6,
    words: 'from 10 kA/m to 2500 kA/m, e.g. "446 kA/m"',
  },
} as const satisfies Record<string, QuantityFact>;

/**
 * Facts of an alternating drive, and of the liquid.
 *
 * Source   viscosity: from below that of light hydrocarbons (0.2 mPa.s) to stiff gels; frequency: from quasi-static to
 *          far above any particle's resonance (common practice)
 */
export const driveQuantityFacts = {
  fieldAmplitude: { kind: "appliedField", low: 1e-9, high: 2, words: 'above 0, up to 2 T, e.g. "20 mT"' },
  biasField: { kind: "appliedField", low: -20, high: 20, words: 'from -20 T to 20 T, e.g. "0 mT"' },
  driveFrequency: { kind: "frequency", low: 1e-3, high: 1e10, words: 'from 1 mHz to 10 GHz, e.g. "25 kHz"' },
  viscosity: { kind: "viscosity", low: 1e-5, high: 1e4, words: 'from 0.01 mPa.s to 10 kPa.s, e.g. "0.89 mPa.s"' },
  receiveSensitivity: {
    kind: "receiveSensitivity",
    low: 1e-12,
    high: 10,
    words: 'above 0, up to 10 T/A, e.g. "31.4 uT/A"; a reversed coil is said by "coilPolarity"',
  },
} as const satisfies Record<string, QuantityFact>;

/** SI value of a fact, or nothing where the descriptor does not state it. */
export function quantityFact(
  facts: AnyFacts | undefined,
  fact: string,
  { rule, file }: { readonly rule: QuantityFact; readonly file?: string },
): number | undefined {
  const text = facts?.[fact]?.value;
  if (text === undefined) return undefined;
  const { kind, low, high, words } = rule;
  const place = { file, path: `facts.${fact}.value` };
  const value = parseQuantity(text, kind, place);
  if (value >= low && value <= high) return value;
  throw new FerruleError("InvalidValue", { ...place, found: JSON.stringify(text), accepted: words });
}
