import { excerpt } from "./json/syntax-words.js";

/** A value as it came, in a few words. */
export function foundWords(value: unknown): string {
  if (value === undefined) return "nothing: the field is missing";
  if (typeof value === "string") return excerpt(JSON.stringify(value));
  if (Array.isArray(value)) return value.length === 0 ? "an empty list" : `a list of ${value.length}`;
  if (typeof value === "object" && value !== null) return "an object";
  return typeof value === "number" ? `the number ${value}` : String(value);
}
