import { FerruleError, isKnownError } from "../../errors.js";
import type { CurveAssumption } from "../../measure/index.js";
import { parseQuantity, type QuantityKind } from "../../units/index.js";
import type { HeaderColumn } from "../table/header.js";
import type { AnyFacts } from "./fact-schema.js";

/** Who can state a fact about a table: its descriptor, or its header. */
export interface FactSource {
  readonly facts?: AnyFacts;
  /** The table. */
  readonly file?: string;
  /** What says the facts: blamed for those that are wrong. */
  readonly descriptorFile?: string;
  /** "the curve's descriptor": where a missing fact goes. */
  readonly descriptorName: string;
}

/** The file to blame for a fact: the descriptor where it speaks, else the table whose header does. */
export const placeOf = (fact: string, { facts, file, descriptorFile }: FactSource) =>
  facts?.[fact] === undefined
    ? { file, path: `the unit in the header (facts.${fact})` }
    : { file: descriptorFile ?? file, path: `facts.${fact}.value` };

export const factExample = (fact: string, value: string): string =>
  `"${fact}": { "value": "${value}", "status": "stated", "note": "who said so" }`;

/** The error that asks for a fact: names the field to add to the descriptor and shows it. */
export function missingFact(
  fact: string,
  found: string,
  { file, descriptorName, example }: { file?: string; descriptorName: string; example: string },
) {
  const path = fact === "columns" ? "columns" : `facts.${fact}`;
  const accepted = `add "${path}" to ${descriptorName}, e.g. ${example}`;
  return new FerruleError("MissingFact", { file, path, found, accepted });
}

/** The error that asks for a fact by an example value. */
export const askFor = (fact: string, found: string, { source, value }: { source: FactSource; value: string }) =>
  missingFact(fact, found, { ...source, example: factExample(fact, value) });

/** The fact's value, or the error that asks for it. */
export function requiredFact<T extends string>(
  said: { readonly value: T } | undefined,
  fact: string,
  { source, found, value }: { source: FactSource; found: string; value: string },
): T {
  if (said !== undefined) return said.value;
  throw askFor(fact, found, { source, value });
}

/** The unit of a column said by header or descriptor; both may speak, but not differently. */
export function unitOf(
  fact: string,
  header: HeaderColumn | undefined,
  { source, of, value }: { readonly source: FactSource; readonly of: string; readonly value: string },
): string {
  const said = source.facts?.[fact]?.value;
  const written = header?.unit;
  if (said !== undefined && written !== undefined && said !== written) {
    throw new FerruleError("Conflict", {
      ...placeOf(fact, source),
      found: `"${said}" in the descriptor but "${written}" in the file's header`,
      accepted: "one unit: correct the descriptor, or leave the fact out so that the header speaks",
    });
  }
  const unit = said ?? written;
  if (unit !== undefined) return unit;
  throw askFor(fact, `no unit for the ${of} column, neither in the file nor in the descriptor`, { source, value });
}

/** SI value of one unit as a given kind, or `undefined` where the unit has another dimension. */
export function factorAs(unit: string, kind: QuantityKind): number | undefined {
  try {
    return parseQuantity(`1 ${unit}`, kind);
  } catch (error) {
    if (isKnownError(error)) return undefined;
    throw error;
  }
}

/** Every fact of the descriptor that is marked "assumed", as an advisory to carry. */
export function assumptionsOf(facts: AnyFacts | undefined): CurveAssumption[] {
  return Object.entries(facts ?? {}).flatMap(([fact, entry]) =>
    entry?.status === "assumed" ? [{ fact, value: entry.value, note: entry.note }] : [],
  );
}
