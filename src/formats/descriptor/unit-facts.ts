import { FerruleError } from "../../errors.js";
import type { QuantityKind } from "../../units/index.js";
import type { HeaderColumn } from "../table/header.js";
import { type FactSource, factorAs, placeOf, unitOf } from "./facts.js";
import type { UnitFact } from "./parse.js";

/** A unit fact that one kind of quantity settles. */
export interface KindUnitFact extends UnitFact {
  readonly kind: QuantityKind;
  /** What the column is, in words, and a unit to show. */
  readonly of: string;
  readonly value: string;
}

const unitFact = (kind: QuantityKind, of: string, units: readonly [string, ...string[]]): KindUnitFact => ({
  kind,
  of,
  value: units[0],
  isUnit: (unit) => factorAs(unit, kind) !== undefined,
  refusal: (unit) => ({
    found: `"${unit}", which is no unit of ${of}`,
    accepted: units.map((each) => `"${each}"`).join(" or "),
  }),
});

export const frequencyUnit = unitFact("frequency", "frequency", ["Hz", "kHz", "MHz"]);
export const phaseUnit = unitFact("angle", "phase", ["deg", "rad"]);

/** SI value of one unit of a column, as header or descriptor say it. */
export function columnFactor(
  fact: string,
  header: HeaderColumn | undefined,
  { source, rule }: { readonly source: FactSource; readonly rule: KindUnitFact },
): number {
  const unit = unitOf(fact, header, { source, of: rule.of, value: rule.value });
  const factor = factorAs(unit, rule.kind);
  if (factor !== undefined) return factor;
  throw new FerruleError("UnitMismatch", { ...placeOf(fact, source), ...rule.refusal(unit) });
}
