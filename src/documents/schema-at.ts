import type { DocumentPath } from "./json/document-path.js";
import { isJsonObject, type JsonObject, type JsonValue } from "./json/json-value.js";

/**
 * The part of a JSON Schema that governs the value at `path`, or `undefined`.
 *
 * Messages are worded from the JSON Schema, so that what a message accepts and what the shipped schema accepts are one
 * thing. Alternatives are resolved by the document itself: by its discriminator where the schema has one, else by the
 * first alternative in which the path leads anywhere.
 */
export function schemaAt(schema: JsonObject, path: DocumentPath, value: unknown): JsonObject | undefined {
  const [segment, ...rest] = path;
  const alternatives = alternativesOf(schema);
  if (alternatives.length > 0) {
    if (segment === undefined) return chosenByConstants(alternatives, value) ?? schema;
    const chosen = chosenByConstants(alternatives, value);
    const candidates = chosen === undefined ? alternatives : [chosen];
    return candidates.map((each) => schemaAt(each, path, value)).find((found) => found !== undefined);
  }
  if (segment === undefined) return schema;
  const child = childSchema(schema, segment);
  return child === undefined ? undefined : schemaAt(child, rest, childValue(value, segment));
}

/** The alternatives of a `oneOf` or `anyOf`; none for a plain schema. */
export function alternativesOf(schema: JsonObject): JsonObject[] {
  const list = schema.oneOf ?? schema.anyOf;
  return Array.isArray(list) ? list.filter(isJsonObject) : [];
}

/** The fields of an object schema by name. */
export function propertiesOf(schema: JsonObject | undefined): Readonly<Record<string, JsonObject>> {
  return isJsonObject(schema?.properties) ? (schema.properties as Readonly<Record<string, JsonObject>>) : {};
}

/** The alternative whose constant fields (`"kind": "sphere"`) the value carries. */
function chosenByConstants(alternatives: readonly JsonObject[], value: unknown): JsonObject | undefined {
  if (!isJsonObject(value)) return undefined;
  return alternatives.find((alternative) => {
    const constants = Object.entries(propertiesOf(alternative)).filter(([, property]) => property.const !== undefined);
    return constants.length > 0 && constants.every(([name, property]) => value[name] === property.const);
  });
}

function childSchema(schema: JsonObject, segment: string | number): JsonObject | undefined {
  const child: JsonValue | undefined =
    typeof segment === "string"
      ? ownProperty(propertiesOf(schema), segment)
      : Array.isArray(schema.prefixItems)
        ? schema.prefixItems[segment]
        : schema.items;
  return isJsonObject(child) ? child : undefined;
}

function childValue(value: unknown, segment: string | number): unknown {
  return typeof value === "object" && value !== null
    ? ownProperty(value as Record<string | number, unknown>, segment)
    : undefined;
}

function ownProperty<T>(record: Readonly<Record<string | number, T>>, name: string | number): T | undefined {
  return Object.hasOwn(record, name) ? record[name] : undefined;
}
