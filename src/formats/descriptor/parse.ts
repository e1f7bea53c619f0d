import type { z } from "zod";
import { DocumentError, type DocumentProblem, type PositionedJson, parsePositioned } from "../../documents/index.js";
import { isKnownError } from "../../errors.js";
import type { AnyFacts } from "./fact-schema.js";
import { pathText, problemsOf } from "./problems.js";
import { type QuantityFact, quantityFact } from "./quantity-facts.js";

/** What a unit fact must be. */
export interface UnitFact {
  readonly isUnit: (unit: string) => boolean;
  readonly refusal: (unit: string) => { readonly found: string; readonly accepted: string };
}

/** The rules of one kind of descriptor beyond its schema. */
export interface DescriptorRules {
  /** `["field", "magnetisation", "sigma"]` */
  readonly columns: string;
  readonly units: Readonly<Record<string, UnitFact>>;
  readonly quantities: Readonly<Record<string, QuantityFact>>;
}

interface DescriptorShape {
  readonly facts: AnyFacts;
}

type DescriptorSchema<T extends DescriptorShape> = z.ZodType<T> & {
  readonly shape: { readonly facts: { readonly shape: object } };
};

/**
 * A descriptor from its JSON text, by its schema and then by the rules for its units and quantities.
 *
 * @throws FerruleError InvalidDocument with line, column and path of every problem
 */
export function parseDescriptor<T extends DescriptorShape>(
  text: string,
  schema: DescriptorSchema<T>,
  { rules, file }: { readonly rules: DescriptorRules; readonly file?: string },
): T {
  const json = parsePositioned(text, file === undefined ? {} : { file });
  const known = {
    top: Object.keys(schema.shape),
    facts: Object.keys(schema.shape.facts.shape),
    columns: rules.columns,
  };
  const result = schema.safeParse(json.value);
  if (!result.success)
    throw new DocumentError(result.error.issues.flatMap((issue) => problemsOf(issue, json, { known, file })));
  const problems = factProblems(result.data.facts, json, { rules, file });
  if (problems.length > 0) throw new DocumentError(problems);
  return result.data;
}

/** Units that are none and quantities that cannot be: said here, where line and column are known. */
function factProblems(
  facts: AnyFacts,
  json: PositionedJson,
  { rules, file }: { readonly rules: DescriptorRules; readonly file?: string },
): DocumentProblem[] {
  const problems: DocumentProblem[] = [];
  const add = (fact: string, code: DocumentProblem["code"], words: { found: string; accepted: string }) => {
    const path = ["facts", fact, "value"];
    const place = { ...(file === undefined ? {} : { file }), ...json.locate(path), path: pathText(path) };
    problems.push({ code, ...place, ...words });
  };
  for (const [fact, { isUnit, refusal }] of Object.entries(rules.units)) {
    const unit = facts[fact]?.value;
    if (unit !== undefined && !isUnit(unit)) add(fact, "UnitMismatch", refusal(unit));
  }
  for (const [fact, rule] of Object.entries(rules.quantities))
    try {
      quantityFact(facts, fact, { rule });
    } catch (error) {
      if (!isKnownError(error)) throw error;
      add(fact, error.code, { found: error.found, accepted: error.accepted });
    }
  return problems;
}
