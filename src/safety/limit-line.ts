import { FerruleError } from "../errors.js";
import type { Axis } from "../physics/index.js";
import { type QuantityKind, quantityKinds, type SourceStatus } from "../units/index.js";
import { noPublishedThreshold } from "./research-use.js";

/** Limits of one class never bind another: a bystander's reference level says nothing about a scan subject. */
export type LimitClass = "scan subject" | "staff" | "animal";

/** One figure of a setting beside one published limit. */
export interface LimitLine {
  readonly class: LimitClass;
  /** `nerve stimulation (peak to peak), drive z at 25 kHz`; lines of one quantity are compared with each other. */
  readonly quantity: string;
  readonly axis: Axis | null;
  readonly bodyPart: string;
  readonly kind: QuantityKind;
  /** Coherent SI unit of `value` and `limit`. */
  readonly unit: string;
  readonly value: number;
  /** `null`: no published threshold in our sources. */
  readonly limit: number | null;
  /** value / limit. */
  readonly ratio: number | null;
  readonly source: string;
  readonly edition: string;
  readonly status: SourceStatus;
  readonly caution: string;
  /** "no published threshold in our sources" where the limit is null. */
  readonly note?: string;
}

/** What is compared. */
export type ComparedValue = Pick<LimitLine, "class" | "quantity" | "axis" | "bodyPart" | "kind" | "value">;

/** What it is compared with. */
export type LimitReference = Pick<LimitLine, "limit" | "source" | "edition" | "status" | "caution">;

/**
 * A value beside a limit.
 *   ratio = value / limit
 *
 * @throws FerruleError  InvalidValue for a value that is not a finite number from 0 up, or a limit that is not above 0
 */
export function limitLine(compared: ComparedValue, reference: LimitReference): LimitLine {
  const { value, quantity } = compared;
  const { limit, source, edition, status, caution } = reference;
  if (!(Number.isFinite(value) && value >= 0))
    throw new FerruleError("InvalidValue", {
      path: quantity,
      found: String(value),
      accepted: "a finite magnitude, 0 or above",
    });
  if (limit !== null && !(Number.isFinite(limit) && limit > 0))
    throw new FerruleError("InvalidValue", {
      path: quantity,
      found: `a limit of ${limit}`,
      accepted: "a finite limit above 0, or null where none is published",
    });
  const line = { ...compared, unit: quantityKinds[compared.kind].siUnit, source, edition, status, caution };
  if (limit === null) return { ...line, limit, ratio: null, note: noPublishedThreshold };
  return { ...line, limit, ratio: value / limit };
}
