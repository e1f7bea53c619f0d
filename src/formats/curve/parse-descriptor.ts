import type { z } from "zod";
import { DocumentError, type DocumentProblem, type PositionedJson, parsePositioned } from "../../documents/index.js";
import { isKnownError } from "../../errors.js";
import { nearestName } from "../../handbook/index.js";
import { type CurveDescriptor, curveDescriptorSchema } from "./descriptor.js";
import { fieldUnitRefusal, isFieldUnit, isMagnetisationUnit, magnetisationUnitRefusal } from "./facts.js";
import { type QuantityFact, quantityFact, quantityFacts } from "./quantity-facts.js";

type Issue = z.core.$ZodIssue;
type Path = readonly (string | number)[];

/** `columns[1]`, `facts.basis.value` */
const pathText = (path: Path): string =>
  path.reduce<string>(
    (text, part) => (typeof part === "number" ? `${text}[${part}]` : text === "" ? part : `${text}.${part}`),
    "",
  );

function valueAt(root: unknown, path: Path): unknown {
  return path.reduce<unknown>((value, part) => {
    const isInside = typeof value === "object" && value !== null && Object.hasOwn(value, part);
    return isInside ? (value as Record<string | number, unknown>)[part] : undefined;
  }, root);
}

const words = (value: unknown): string => {
  if (value === undefined) return "nothing";
  const text = JSON.stringify(value);
  return text.length > 60 ? `${text.slice(0, 60)}...` : text;
};

/** The names a field with this one's neighbours may have: the schema's own, for the nearest-name hint. */
const factNames = Object.keys(curveDescriptorSchema.shape.facts.shape);
const topNames = Object.keys(curveDescriptorSchema.shape);
const namesAt = (path: Path): readonly string[] =>
  path.length === 0 ? topNames : path.length === 1 ? factNames : ["value", "status", "note"];

function accepted(issue: Issue): string {
  switch (issue.code) {
    case "invalid_value":
      return `one of ${issue.values.map((value) => JSON.stringify(value)).join(", ")}`;
    case "invalid_type":
      return issue.expected === "object" && issue.path.length === 2
        ? 'a fact such as { "value": "A/m", "status": "stated", "note": "header of the original file" }'
        : `${issue.expected === "array" ? 'a list, e.g. ["field", "magnetisation", "sigma"]' : `a value of type ${issue.expected}`}`;
    case "too_small":
      return issue.origin === "array" ? `at least ${issue.minimum} entries` : "text that is not empty";
    default:
      return issue.message;
  }
}

function problemsOf(issue: Issue, json: PositionedJson, file: string | undefined): DocumentProblem[] {
  const path = issue.path.filter((part): part is string | number => typeof part !== "symbol");
  const base = { code: "InvalidDocument" as const, ...(file === undefined ? {} : { file }) };
  if (issue.code === "unrecognized_keys") {
    return issue.keys.map((key) => {
      const names = namesAt(path);
      const near = nearestName(key, names);
      const accepted = `${near === undefined ? "" : `"${near}" (nearest), or `}one of ${names.map((name) => `"${name}"`).join(", ")}`;
      const place = { ...json.locate([...path, key], "key"), path: pathText([...path, key]) };
      return { ...base, ...place, found: `an unknown field "${key}"`, accepted };
    });
  }
  const place = { ...json.locate(path), path: pathText(path) };
  return [{ ...base, ...place, found: words(valueAt(json.value, path)), accepted: accepted(issue) }];
}

/**
 * A curve's descriptor from its JSON text.
 *
 * @throws FerruleError InvalidDocument with line, column and path of every problem
 */
export function parseCurveDescriptor(text: string, { file }: { readonly file?: string } = {}): CurveDescriptor {
  const json = parsePositioned(text, file === undefined ? {} : { file });
  const result = curveDescriptorSchema.safeParse(json.value);
  if (!result.success) throw new DocumentError(result.error.issues.flatMap((issue) => problemsOf(issue, json, file)));
  const problems = factProblems(result.data, json, file);
  if (problems.length > 0) throw new DocumentError(problems);
  return result.data;
}

/** Units that are none and quantities that cannot be: said here, where line and column are known. */
function factProblems(descriptor: CurveDescriptor, json: PositionedJson, file: string | undefined): DocumentProblem[] {
  const { fieldUnit, magnetisationUnit } = descriptor.facts;
  const problems: DocumentProblem[] = [];
  const add = (fact: string, code: DocumentProblem["code"], words: { found: string; accepted: string }) => {
    const path = ["facts", fact, "value"];
    problems.push({
      code,
      ...(file === undefined ? {} : { file }),
      ...json.locate(path),
      path: pathText(path),
      ...words,
    });
  };
  if (fieldUnit !== undefined && !isFieldUnit(fieldUnit.value))
    add("fieldUnit", "UnitMismatch", fieldUnitRefusal(fieldUnit.value));
  if (magnetisationUnit !== undefined && !isMagnetisationUnit(magnetisationUnit.value))
    add("magnetisationUnit", "UnitMismatch", magnetisationUnitRefusal(magnetisationUnit.value));
  for (const fact of Object.keys(quantityFacts) as QuantityFact[])
    try {
      quantityFact(descriptor, fact);
    } catch (error) {
      if (!isKnownError(error)) throw error;
      add(fact, error.code, { found: error.found, accepted: error.accepted });
    }
  return problems;
}
