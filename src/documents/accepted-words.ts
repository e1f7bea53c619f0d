import { type QuantityKind, quantityKinds } from "../units/index.js";
import { isBareKind, kindWords } from "./fields/quantity-field.js";
import { isJsonObject, type JsonObject } from "./json/json-value.js";
import { quotedList } from "./nearest-name.js";
import { alternativesOf, propertiesOf } from "./schema-at.js";

/** What a schema accepts, in a line for a person: `field gradient with its unit, e.g. "5.7 T/m"`. */
export function acceptedWords(schema: JsonObject | undefined): string {
  if (schema === undefined) return "nothing here";
  const kind = quantityKindOf(schema);
  if (kind !== undefined) return quantityWords(kind, schema);
  if (schema.const !== undefined) return JSON.stringify(schema.const);
  if (Array.isArray(schema.enum)) return `one of ${schema.enum.map((each) => JSON.stringify(each)).join(", ")}`;
  const alternatives = alternativesOf(schema);
  if (alternatives.length > 0) return alternativeWords(schema, alternatives);
  return `${typeWords(schema)}${exampleWords(schema)}`;
}

/** The quantity kind of a field that `quantity()` made. */
export function quantityKindOf(schema: JsonObject | undefined): QuantityKind | undefined {
  const kind = schema?.["x-quantity-kind"];
  return typeof kind === "string" && Object.hasOwn(quantityKinds, kind) ? (kind as QuantityKind) : undefined;
}

function quantityWords(kind: QuantityKind, schema: JsonObject): string {
  const form = isBareKind(kind) ? "as a number or with its unit" : "as text with its unit";
  return `${kindWords(kind)} ${form}${exampleWords(schema)}`;
}

function exampleWords({ examples, description }: JsonObject): string {
  if (Array.isArray(examples) && examples[0] !== undefined) return `, e.g. ${JSON.stringify(examples[0])}`;
  return typeof description === "string" ? ` (${description})` : "";
}

function alternativeWords({ description }: JsonObject, alternatives: readonly JsonObject[]): string {
  const kinds = alternatives.map((each) => propertiesOf(each).kind?.const).filter((kind) => typeof kind === "string");
  if (kinds.length === alternatives.length) return `an object whose "kind" is one of ${quotedList(kinds)}`;
  return typeof description === "string" ? description : [...new Set(alternatives.map(acceptedWords))].join(", or ");
}

function typeWords(schema: JsonObject): string {
  switch (schema.type) {
    case "object":
      return `an object with the fields ${quotedList(requiredOf(schema))}`;
    case "array":
      return listWords(schema);
    case "string":
      return "text in double quotes";
    case "integer":
      return `a whole number${boundWords(schema)}`;
    case "number":
      return `a number${boundWords(schema)}`;
    case "boolean":
      return "true or false";
    default:
      return "a value as the schema says";
  }
}

function requiredOf(schema: JsonObject): string[] {
  return Array.isArray(schema.required) ? schema.required.map(String) : [];
}

function listWords(schema: JsonObject): string {
  const { minItems, prefixItems } = schema;
  if (Array.isArray(prefixItems)) {
    const [item] = prefixItems;
    return `a list of ${prefixItems.length}: each ${acceptedWords(isJsonObject(item) ? item : undefined)}`;
  }
  return typeof minItems === "number" ? `a list of at least ${minItems}` : "a list";
}

function boundWords({ minimum, maximum, exclusiveMinimum }: JsonObject): string {
  if (typeof exclusiveMinimum === "number") return ` above ${exclusiveMinimum}`;
  const isEveryInteger = maximum === Number.MAX_SAFE_INTEGER;
  if (typeof minimum !== "number" || minimum === Number.MIN_SAFE_INTEGER) return "";
  return typeof maximum === "number" && !isEveryInteger ? ` from ${minimum} to ${maximum}` : ` of at least ${minimum}`;
}
