import { FerruleError } from "../../errors.js";
import { contentHash } from "./content-hash.js";

/**
 * The one JSON text of a value: fields sorted by their UTF-16 code units, no white space, numbers as ECMAScript writes
 * them. Two values that mean the same give the same bytes, so a hash of them can serve as a name.
 *
 * Refused, with the path: what JSON cannot carry (NaN, infinities, undefined, functions, big integers) and what it
 * would carry as something else (typed arrays, dates, maps, other classes), and values that contain themselves.
 * JSON.stringify would turn these into null or {} in silence, and two different inputs into one key.
 *
 * Source      RFC 8785, JSON Canonicalization Scheme, sections 3.2.2-3.2.3 (from memory)
 * Checked by  canonical-json.test.ts (the RFC's examples; Python's json module)
 */
export function canonicalJson(value: unknown): string {
  return write(value, { path: "", above: [] });
}

/** SHA-256 of the canonical JSON of a value, hexadecimal. */
export function canonicalHash(value: unknown): string {
  return contentHash(canonicalJson(value));
}

interface Place {
  readonly path: string;
  /** The objects and lists that contain this value. */
  readonly above: readonly object[];
}

function write(value: unknown, place: Place): string {
  if (value === null || typeof value === "boolean" || typeof value === "string") return JSON.stringify(value);
  if (typeof value === "number") return Number.isFinite(value) ? JSON.stringify(value) : refuse(String(value), place);
  if (typeof value !== "object") return refuse(value === undefined ? "undefined" : `a ${typeof value}`, place);
  if (place.above.includes(value)) return refuse("a value that contains itself", place);
  return Array.isArray(value) ? writeList(value, place) : writeObject(value, place);
}

function writeList(list: readonly unknown[], { path, above }: Place): string {
  // Array.from visits holes too, and finds undefined there.
  const items = Array.from(list, (item, i) => write(item, { path: `${path}[${i}]`, above: [...above, list] }));
  return `[${items.join(",")}]`;
}

function writeObject(object: object, place: Place): string {
  const prototype: unknown = Object.getPrototypeOf(object);
  if (prototype !== Object.prototype && prototype !== null)
    return refuse(`a ${(object.constructor as { name?: string } | undefined)?.name ?? "class"}`, place);
  const above = [...place.above, object];
  const fields = Object.entries(object)
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .map(([name, item]) => `${JSON.stringify(name)}:${write(item, { path: fieldPath(place.path, name), above })}`);
  return `{${fields.join(",")}}`;
}

function fieldPath(path: string, name: string): string {
  if (!/^[A-Za-z_$][\w$-]*$/.test(name)) return `${path}[${JSON.stringify(name)}]`;
  return path === "" ? name : `${path}.${name}`;
}

function refuse(found: string, { path }: Place): never {
  throw new FerruleError("InvalidValue", {
    path: path === "" ? "value" : path,
    found,
    accepted: 'what JSON can carry: null, true, false, finite numbers, text, lists and plain objects, e.g. {"step": 2}',
  });
}
