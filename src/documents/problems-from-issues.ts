import type { z } from "zod";
import type { ErrorCode } from "../errors.js";
import { nearestName } from "../handbook/index.js";
import { acceptedWords, quantityKindOf } from "./accepted-words.js";
import { isBareKind } from "./fields/quantity-field.js";
import { refusalOf } from "./fields/refuse.js";
import { foundWords } from "./found-words.js";
import { type DocumentPath, pathText, valueAt } from "./json/document-path.js";
import type { JsonObject } from "./json/json-value.js";
import { oneOfNames, quotedList } from "./nearest-name.js";
import { propertiesOf, schemaAt } from "./schema-at.js";

/** A problem before its place in the text is known. */
export interface UnplacedProblem {
  readonly code: ErrorCode;
  readonly path: DocumentPath;
  /** Point at the field's name (it should not be there) or at its value. */
  readonly part: "value" | "key";
  readonly found: string;
  readonly accepted: string;
  /** Nothing stood there. */
  readonly isMissing?: boolean;
  /** The path that a misspelt field was meant to have: its absence there is not a problem of its own. */
  readonly meant?: string;
}

export interface IssueContext {
  readonly document: unknown;
  readonly jsonSchema: JsonObject;
}

/** Turns the schema library's issues into problems that a reader can act on, one per thing to mend. */
export function problemsFromIssues(issues: readonly z.core.$ZodIssue[], context: IssueContext): UnplacedProblem[] {
  const problems = issues.flatMap((issue) => fromIssue(issue, issue.path.map(segment), context));
  const misspelt = new Set(problems.map(({ meant }) => meant).filter((path) => path !== undefined));
  return problems.filter(({ isMissing, path }) => !(isMissing === true && misspelt.has(pathText(path))));
}

function fromIssue(issue: z.core.$ZodIssue, path: DocumentPath, context: IssueContext): UnplacedProblem[] {
  if (issue.code === "unrecognized_keys") return issue.keys.map((key) => unknownField(key, path, context));
  if (issue.code === "invalid_union") return fromUnion(issue, path, context);
  const refusal = issue.code === "custom" ? refusalOf(issue.params) : undefined;
  if (refusal !== undefined) return [{ code: "InvalidValue", path, part: "value", ...refusal }];
  return [mismatch(path, context)];
}

/** The value at `path` is not what the schema asks for there. */
function mismatch(path: DocumentPath, { document, jsonSchema }: IssueContext): UnplacedProblem {
  const value = valueAt(document, path);
  const schema = schemaAt(jsonSchema, path, document);
  const kind = quantityKindOf(schema);
  const wantsUnit = kind !== undefined && !isBareKind(kind);
  return {
    code: wantsUnit && typeof value === "number" ? "UnitMismatch" : "InvalidDocument",
    path,
    part: "value",
    isMissing: value === undefined,
    found: wantsUnit && typeof value === "number" ? `the bare number ${value}` : foundWords(value),
    accepted:
      typeof value === "string" && Array.isArray(schema?.enum)
        ? oneOfNames(value, schema.enum.map(String))
        : acceptedWords(schema),
  };
}

function unknownField(key: string, path: DocumentPath, { document, jsonSchema }: IssueContext): UnplacedProblem {
  const present = valueAt(document, path);
  const known = Object.keys(propertiesOf(schemaAt(jsonSchema, path, document)));
  const free = known.filter((name) => typeof present !== "object" || present === null || !Object.hasOwn(present, name));
  const nearest = nearestName(key, free);
  return {
    code: "UnknownName",
    path: [...path, key],
    part: "key",
    ...(nearest === undefined ? {} : { meant: pathText([...path, nearest]) }),
    found: `the unknown field ${foundWords(key)}`,
    accepted: free.length === 0 ? `only the fields ${quotedList(known)}` : oneOfNames(key, free),
  };
}

/**
 * Alternatives told as one: a discriminated choice names its discriminator; otherwise the alternative that the writer
 * evidently meant, by its shape, speaks alone.
 */
function fromUnion(issue: z.core.$ZodIssueInvalidUnion, path: DocumentPath, context: IssueContext): UnplacedProblem[] {
  if (issue.discriminator !== undefined) return [wrongDiscriminator(issue, path, context)];
  const meant = meantAlternative(issue.errors, valueAt(context.document, path));
  if (meant === undefined || meant.every((each) => each.path.length === 0 && !isOurs(each)))
    return [mismatch(path, context)];
  return meant.flatMap((each) => fromIssue(each, [...path, ...each.path.map(segment)], context));
}

function wrongDiscriminator(
  issue: z.core.$ZodIssueInvalidUnion,
  path: DocumentPath,
  { document }: IssueContext,
): UnplacedProblem {
  const value = valueAt(document, path);
  const options = ("options" in issue && Array.isArray(issue.options) ? issue.options : []).map(String);
  return {
    code: typeof value === "string" ? "UnknownName" : "InvalidDocument",
    path,
    part: "value",
    isMissing: value === undefined,
    found: foundWords(value),
    accepted: oneOfNames(typeof value === "string" ? value : "", options),
  };
}

/** A refusal of ours: the value had the shape that was asked for. */
const isOurs = (issue: z.core.$ZodIssue): boolean => issue.code === "custom" && refusalOf(issue.params) !== undefined;

/**
 * One whose shape fits, so that only refusals of ours are left; then fewest places where a list or object stands against
 * a plain value, then fewest faults, then the first.
 */
function meantAlternative(
  alternatives: readonly (readonly z.core.$ZodIssue[])[],
  value: unknown,
): readonly z.core.$ZodIssue[] | undefined {
  const misshapen = (issues: readonly z.core.$ZodIssue[]) => issues.filter((issue) => isMisshapen(issue, value)).length;
  const isMeant = (issues: readonly z.core.$ZodIssue[]) => Number(issues.length > 0 && issues.every(isOurs));
  return [...alternatives].sort(
    (a, b) => isMeant(b) - isMeant(a) || misshapen(a) - misshapen(b) || a.length - b.length,
  )[0];
}

function isMisshapen(issue: z.core.$ZodIssue, value: unknown): boolean {
  if (issue.code !== "invalid_type") return false;
  const there = valueAt(value, issue.path.map(segment));
  const isList = Array.isArray(there);
  if (issue.expected === "tuple" || issue.expected === "array") return !isList;
  const isObject = typeof there === "object" && there !== null;
  return issue.expected === "object" ? isList || !isObject : isObject;
}

function segment(key: PropertyKey): string | number {
  return typeof key === "symbol" ? String(key) : key;
}
