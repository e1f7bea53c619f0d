import { z } from "zod";
import type { JsonObject } from "./json/json-value.js";
import { problemsFromIssues, type UnplacedProblem } from "./problems-from-issues.js";

export type Validation<Output> =
  | { readonly kind: "valid"; readonly value: Output }
  | { readonly kind: "invalid"; readonly problems: readonly UnplacedProblem[] };

/** A value against a schema: typed and with its quantities in SI, or everything that is wrong with it. */
export function validate<Output>(schema: z.ZodType<Output>, document: unknown): Validation<Output> {
  const result = schema.safeParse(document);
  if (result.success) return { kind: "valid", value: result.data };
  const jsonSchema = inputSchema(schema);
  return { kind: "invalid", problems: problemsFromIssues(result.error.issues, { document, jsonSchema }) };
}

/** The JSON Schema of what people write (before strings become SI numbers). */
export function inputSchema(schema: z.ZodType): JsonObject {
  return z.toJSONSchema(schema, { io: "input" }) as unknown as JsonObject;
}
