import type { z } from "zod";
import {
  DocumentError,
  type DocumentProblem,
  nearestName,
  type PositionedJson,
  parsePositioned,
} from "../../documents/index.js";
import { type CurveDescriptor, curveDescriptorSchema } from "./descriptor.js";

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
  if (result.success) return result.data;
  throw new DocumentError(result.error.issues.flatMap((issue) => problemsOf(issue, json, file)));
}
