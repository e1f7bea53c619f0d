import { z } from "zod";
import { type ErrorCode, isKnownError } from "../../errors.js";
import { parseQuantity, type QuantityKind, quantityKinds } from "../../units/index.js";
import { refuse } from "./refuse.js";

export interface QuantityOptions {
  /** What the quantity is, for the JSON Schema and for people reading it. */
  readonly description?: string;
  /** Written as a person would; default: the kind's own example. */
  readonly example?: string;
  /** Inclusive limits, written like the quantity itself so that messages can show them: `"1 nm"`. */
  readonly min?: string;
  readonly max?: string;
  /** Refuse zero and below. */
  readonly positive?: boolean;
}

/**
 * A document field for a quantity: a string with its unit on paper, a number in coherent SI once parsed.
 * `dimensionless` and `fraction` may also be bare numbers; anywhere else a bare number is refused.
 */
export function quantity(kind: QuantityKind, options: QuantityOptions = {}) {
  const text = z.union([z.string(), z.number()]).meta(quantityMeta(kind, options));
  const strict = z.string().meta(quantityMeta(kind, options));
  return (isBareKind(kind) ? text : strict).transform((written: string | number, sink) => {
    const value = readQuantity(String(written), kind, options);
    if (typeof value === "number") return value;
    refuse(sink, [], value);
    return z.NEVER;
  });
}

/** Kinds whose unit is 1: a bare number says all there is. */
export function isBareKind(kind: QuantityKind): boolean {
  return kind === "dimensionless" || kind === "fraction";
}

type QuantityRefusal = { found: string; accepted: string; code: ErrorCode };

function readQuantity(written: string, kind: QuantityKind, options: QuantityOptions): number | QuantityRefusal {
  try {
    const value = parseQuantity(written, kind);
    return isWithin(value, kind, options)
      ? value
      : { code: "InvalidValue", found: JSON.stringify(written), accepted: limitWords(kind, options) };
  } catch (error) {
    if (!isKnownError(error)) throw error;
    return { code: error.code, found: error.found, accepted: error.accepted };
  }
}

function isWithin(value: number, kind: QuantityKind, { min, max, positive = false }: QuantityOptions): boolean {
  if (positive && !(value > 0)) return false;
  if (min !== undefined && value < parseQuantity(min, kind)) return false;
  return max === undefined || value <= parseQuantity(max, kind);
}

function limitWords(kind: QuantityKind, { min, max, positive = false, example }: QuantityOptions): string {
  const limits = [
    positive ? "above 0" : "",
    min === undefined ? "" : `at least ${min}`,
    max === undefined ? "" : `at most ${max}`,
  ].filter((words) => words !== "");
  return `${kindWords(kind)} ${limits.join(", ")}, e.g. "${example ?? quantityKinds[kind].example}"`;
}

/** `fieldGradient` -> `field gradient` */
export function kindWords(kind: string): string {
  return kind.replace(/[A-Z]/g, (capital) => ` ${capital.toLowerCase()}`);
}

function quantityMeta(kind: QuantityKind, { description, example, min, max, positive }: QuantityOptions) {
  return {
    description: description ?? `${kindWords(kind)} with its unit`,
    examples: [example ?? quantityKinds[kind].example],
    "x-quantity-kind": kind,
    ...(min === undefined ? {} : { "x-quantity-minimum": min }),
    ...(max === undefined ? {} : { "x-quantity-maximum": max }),
    ...(positive ? { "x-quantity-exclusive-minimum": "0" } : {}),
  };
}
