import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { isKnownError } from "../errors.js";
import { quantityKinds } from "../units/index.js";
import { familyNames } from "./families.js";
import { isJsonObject, type JsonObject } from "./json/json-value.js";
import { jsonSchemas } from "./json-schema.js";
import { parseDocument } from "./parse-document.js";

const schemas = jsonSchemas();

/** Every schema inside a schema, the schema itself included. */
function within(schema: unknown): JsonObject[] {
  if (Array.isArray(schema)) return schema.flatMap(within);
  return isJsonObject(schema) ? [schema, ...Object.values(schema).flatMap(within)] : [];
}

describe("jsonSchemas", () => {
  it("has one per family, named by its URN", () => {
    expect([...schemas.keys()]).toEqual(familyNames.map((name) => `urn:ferrule:${name}:1`));
    for (const [urn, schema] of schemas) {
      expect(schema.$id).toBe(urn);
      expect(schema.$schema).toBe("https://json-schema.org/draft/2020-12/schema");
      expect(typeof schema.title === "string" && typeof schema.description === "string").toBe(true);
    }
  });

  it.each(familyNames)("%s: what it requires, the reader requires", (family) => {
    const required = schemas.get(`urn:ferrule:${family}:1`)?.required as string[];
    const document = JSON.parse(readFileSync(new URL(`fixtures/${family}.json`, import.meta.url), "utf8")) as object;
    expect(required.length).toBeGreaterThan(3);
    for (const field of required) {
      const { [field]: _left, ...rest } = document as Record<string, unknown>;
      const reading = () => parseDocument(JSON.stringify(rest));
      expect(reading, field).toThrowError(expect.objectContaining({ place: expect.objectContaining({ path: field }) }));
    }
  });

  it.each(familyNames)("%s: objects are closed, and quantities are text that works", (family) => {
    const inner = within(schemas.get(`urn:ferrule:${family}:1`));
    const objects = inner.filter(({ type, properties }) => type === "object" && isJsonObject(properties));
    expect(objects.every(({ additionalProperties }) => additionalProperties === false)).toBe(true);
    const quantities = inner.filter((each) => each["x-quantity-kind"] !== undefined);
    for (const quantity of quantities) {
      expect(Object.keys(quantityKinds)).toContain(quantity["x-quantity-kind"]);
      expect(quantity.examples).toHaveLength(1);
      expect(typeof quantity.description).toBe("string");
    }
  });

  it("can be written as JSON and read again", () => {
    for (const schema of schemas.values()) expect(JSON.parse(JSON.stringify(schema))).toEqual(schema);
  });

  it("is no part of reading: a bad document is refused by the reader alone", () => {
    expect(() => parseDocument('{"schema":"urn:ferrule:tracer:1"}')).toThrowError(
      expect.toSatisfy((error: unknown) => isKnownError(error, "InvalidDocument")),
    );
  });
});
