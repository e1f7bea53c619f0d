import type { JsonValue } from "../../documents/index.js";
import { FerruleError } from "../../errors.js";
import { canonicalHash } from "./canonical-json.js";

/** Everything that a computed result depends on, and nothing else: no package version, no commit, no clock. */
export interface ArtifactSpec {
  /** The step of the study's graph, e.g. "scan-vials". */
  readonly node: string;
  readonly method: string;
  /** Raised by hand whenever the method would give different numbers for the same inputs and options. */
  readonly methodVersion: number;
  /** Which implementation ran, e.g. "reference". */
  readonly kernel: string;
  /** Content digests of what goes in, by name. */
  readonly inputs: Readonly<Record<string, string>>;
  readonly options: JsonValue;
}

/**
 * The cache key of a specification.
 *
 * Source      definitions, "cache key": input hashes + options + the method's own integer version + kernel id
 * @throws FerruleError InvalidValue when a part is missing or is not what its name says
 */
export function artifactKey({ node, method, methodVersion, kernel, inputs, options }: ArtifactSpec): string {
  checkFileName(node, "node");
  if (node.includes(".")) refuse("node", JSON.stringify(node), 'a name without dots, e.g. "scan-1"');
  if (!Number.isSafeInteger(methodVersion) || methodVersion < 1)
    refuse("methodVersion", String(methodVersion), "a whole number of at least 1, e.g. 1");
  for (const [path, text] of Object.entries({ method, kernel }))
    if (typeof text !== "string" || text === "") refuse(path, "no name", 'a name, e.g. "reference"');
  for (const [name, digest] of Object.entries(inputs))
    if (!isDigest(digest)) refuse(`inputs.${name}`, String(digest), "a SHA-256, 64 lower-case hexadecimal digits");
  return canonicalHash({ node, method, methodVersion, kernel, inputs, options });
}

export const isDigest = (text: unknown): text is string => typeof text === "string" && /^[0-9a-f]{64}$/.test(text);

/**
 * A node's name from names that people gave: `nodeName("scan", "vial 1")` is "scan-vial-1". Two names may give one node;
 * their artifacts stay apart all the same, because each has its own key.
 */
export function nodeName(...parts: readonly string[]): string {
  return parts
    .map((part) => part.replace(/[^A-Za-z0-9_]+/g, "-"))
    .join("-")
    .slice(0, 100);
}

/** A name that is one step of a path on every system, and no hidden file. */
export function checkFileName(name: string, path: string): void {
  if (/^[A-Za-z0-9_][A-Za-z0-9._-]{0,99}$/.test(name) && !name.endsWith(".")) return;
  refuse(path, JSON.stringify(name), 'letters, digits, ".", "_" and "-", up to 100, e.g. "scan-1"');
}

function refuse(path: string, found: string, accepted: string): never {
  throw new FerruleError("InvalidValue", { path, found, accepted });
}
