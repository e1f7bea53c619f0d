import type { z } from "zod";
import type { DocumentProblem, PositionedJson } from "../../documents/index.js";
import { nearestName } from "../../handbook/index.js";

type Issue = z.core.$ZodIssue;
type Path = readonly (string | number)[];

/** Names that the schema knows, and an example of its columns: what a refusal can offer. */
export interface KnownNames {
  readonly top: readonly string[];
  readonly facts: readonly string[];
  readonly columns: string;
}

/** `columns[1]`, `facts.basis.value` */
export const pathText = (path: Path): string =>
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
const namesAt = (path: Path, known: KnownNames): readonly string[] =>
  path.length === 0 ? known.top : path.length === 1 ? known.facts : ["value", "status", "note"];

function accepted(issue: Issue, known: KnownNames): string {
  switch (issue.code) {
    case "invalid_value":
      return `one of ${issue.values.map((value) => JSON.stringify(value)).join(", ")}`;
    case "invalid_type":
      return issue.expected === "object" && issue.path.length === 2
        ? 'a fact such as { "value": "A/m", "status": "stated", "note": "header of the original file" }'
        : `${issue.expected === "array" ? `a list, e.g. ${known.columns}` : `a value of type ${issue.expected}`}`;
    case "too_small":
      return issue.origin === "array" ? `at least ${issue.minimum} entries` : "text that is not empty";
    default:
      return issue.message;
  }
}

/** One fault of the schema check as problems with line, column and path. */
export function problemsOf(
  issue: Issue,
  json: PositionedJson,
  { known, file }: { readonly known: KnownNames; readonly file: string | undefined },
): DocumentProblem[] {
  const path = issue.path.filter((part): part is string | number => typeof part !== "symbol");
  const base = { code: "InvalidDocument" as const, ...(file === undefined ? {} : { file }) };
  if (issue.code === "unrecognized_keys") {
    return issue.keys.map((key) => {
      const names = namesAt(path, known);
      const near = nearestName(key, names);
      const list = names.map((name) => `"${name}"`).join(", ");
      const place = { ...json.locate([...path, key], "key"), path: pathText([...path, key]) };
      const fitting = `${near === undefined ? "" : `"${near}" (nearest), or `}one of ${list}`;
      return { ...base, ...place, found: `an unknown field "${key}"`, accepted: fitting };
    });
  }
  const place = { ...json.locate(path), path: pathText(path) };
  return [{ ...base, ...place, found: words(valueAt(json.value, path)), accepted: accepted(issue, known) }];
}
