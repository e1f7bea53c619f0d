import type { z } from "zod";
import { DocumentError, type DocumentProblem, parsePositioned } from "../../documents/index.js";
import { nearestName } from "../../handbook/index.js";

type Issue = z.core.$ZodIssue;
type Path = readonly (string | number)[];

/**
 * A small JSON file that a program wrote beside an array, against its schema.
 *
 * @throws DocumentError InvalidDocument, every problem with line, column and path
 */
export function parseSidecar<Output>(schema: z.ZodType<Output>, bytes: Uint8Array, file: string): Output {
  const json = parsePositioned(new TextDecoder("utf-8").decode(bytes), { file });
  const result = schema.safeParse(json.value);
  if (result.success) return result.data;
  const problem = (path: Path, part: "key" | "value", found: string, accepted: string): DocumentProblem => {
    return { code: "InvalidDocument", file, ...json.locate(path, part), path: path.join("."), found, accepted };
  };
  throw new DocumentError(
    result.error.issues.flatMap((issue) => {
      const path = issue.path.filter((part): part is string | number => typeof part !== "symbol");
      if (issue.code !== "unrecognized_keys")
        return [problem(path, "value", foundAt(json.value, path), acceptedBy(issue))];
      return issue.keys.map((key) =>
        problem([...path, key], "key", `an unknown field "${key}"`, knownFields(schema, key)),
      );
    }),
  );
}

function foundAt(root: unknown, path: Path): string {
  const value = path.reduce<unknown>((inside, part) => {
    const isInside = typeof inside === "object" && inside !== null && Object.hasOwn(inside, part);
    return isInside ? (inside as Record<string | number, unknown>)[part] : undefined;
  }, root);
  if (value === undefined) return "nothing: the field is missing";
  const text = JSON.stringify(value);
  return text.length > 60 ? `${text.slice(0, 60)}...` : text;
}

function acceptedBy(issue: Issue): string {
  switch (issue.code) {
    case "invalid_value":
      return `one of ${issue.values.map((value) => JSON.stringify(value)).join(", ")}`;
    case "invalid_type":
      return `a value of type ${issue.expected}`;
    case "too_small":
      return `${issue.origin === "array" ? "entries, in number" : "a number"} ${issue.inclusive ? "of at least" : "above"} ${issue.minimum}`;
    case "too_big":
      return `${issue.origin === "array" ? "entries, in number" : "a number"} ${issue.inclusive ? "of at most" : "below"} ${issue.maximum}`;
    default:
      return issue.message;
  }
}

function knownFields(schema: z.ZodType, key: string): string {
  const names = "shape" in schema ? Object.keys(schema.shape as object) : [];
  const near = nearestName(key, names);
  return near === undefined ? "only the fields of its schema" : `"${near}" (nearest), or no such field`;
}
