import { familyUrn } from "./document-family.js";
import { families } from "./families.js";
import type { JsonObject } from "./json/json-value.js";
import { inputSchema } from "./validate.js";

/**
 * JSON Schema (draft 2020-12) of what people write, by URN, which is also its `$id`. Nothing has to be fetched.
 * Units and their limits are in `x-quantity-*`; rules across fields (a traceless tensor, whole samples per period,
 * names that must exist) are beyond JSON Schema and are checked when a document is read.
 */
export function jsonSchemas(): ReadonlyMap<string, JsonObject> {
  return new Map(Object.values(families).map((family) => [familyUrn(family), withId(family)]));
}

function withId(family: (typeof families)[keyof typeof families]): JsonObject {
  const { $schema, ...rest } = inputSchema(family.schema);
  return { $schema, $id: familyUrn(family), ...rest };
}
