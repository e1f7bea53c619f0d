import { readFileSync } from "node:fs";
import { join } from "node:path";
import { z } from "zod";
import { FerruleError } from "../../errors.js";
import { type ArtifactSpec, artifactKey } from "./artifact-spec.js";
import { canonicalHash } from "./canonical-json.js";
import { contentHash } from "./content-hash.js";
import { plainBytes } from "./read-input.js";

export const artifactUrn = "urn:ferrule:artifact:1";
export const manifestName = "manifest.json";

const digest = z.string().regex(/^[0-9a-f]{64}$/);

/** What lies beside an artifact's files. No clock and no version: equal artifacts have equal manifests. */
const manifestSchema = z.strictObject({
  schema: z.literal(artifactUrn),
  key: digest,
  digest,
  files: z.record(z.string(), z.strictObject({ sha256: digest, bytes: z.int().min(0) })),
  spec: z.strictObject({
    node: z.string(),
    method: z.string(),
    methodVersion: z.int(),
    kernel: z.string(),
    inputs: z.record(z.string(), digest),
    options: z.json(),
  }),
});

export type ArtifactManifest = z.output<typeof manifestSchema>;

export function manifestOf(spec: ArtifactSpec, files: ReadonlyMap<string, Uint8Array>): ArtifactManifest {
  const hashed = Object.fromEntries(
    [...files].map(([name, bytes]) => [name, { sha256: contentHash(bytes), bytes: bytes.length }]),
  );
  const { node, method, methodVersion, kernel, inputs, options } = spec;
  return {
    schema: artifactUrn,
    key: artifactKey(spec),
    digest: digestOf(hashed),
    files: hashed,
    spec: { node, method, methodVersion, kernel, inputs, options } as ArtifactManifest["spec"],
  };
}

/** Content digest of a set of files: their names and bytes, in the order of the names. */
export function digestOf(files: ArtifactManifest["files"]): string {
  const names = Object.keys(files).sort();
  return canonicalHash(names.map((name) => [name, files[name].sha256]));
}

/**
 * Reads an artifact's manifest and every byte that it vouches for. Guards against accidents (a cut file, an edit by
 * hand, a bad disk); it is no signature: who rewrites file and manifest alike is not found out.
 *
 * @throws FerruleError InvalidFile at the first thing that does not hold
 */
export function readSoundManifest(folder: string): ArtifactManifest {
  const manifest = readManifest(folder);
  for (const [name, { sha256, bytes }] of Object.entries(manifest.files))
    readArtifactFile(join(folder, name), { sha256, bytes });
  return manifest;
}

function readManifest(folder: string): ArtifactManifest {
  const file = join(folder, manifestName);
  const parsed = manifestSchema.safeParse(parseJson(new TextDecoder("utf-8").decode(readFileOrRefuse(file)), file));
  if (!parsed.success) {
    const [{ path, message }] = parsed.error.issues;
    throw damage(file, `at ${path.join(".")}: ${message}`);
  }
  const { key, digest: stated, files, spec } = parsed.data;
  if (artifactKey(spec as ArtifactSpec) !== key) throw damage(file, "a key that is not the hash of the specification");
  if (digestOf(files) !== stated) throw damage(file, "a digest that is not that of the files listed");
  return parsed.data;
}

/** Bytes of one file of an artifact, compared with what the manifest says of them. */
export function readArtifactFile(
  path: string,
  { sha256, bytes }: { readonly sha256: string; readonly bytes: number },
): Uint8Array {
  const data = readFileOrRefuse(path);
  if (data.length !== bytes) throw damage(path, `${data.length} bytes where the manifest says ${bytes}`);
  if (contentHash(data) !== sha256) throw damage(path, "bytes that differ from the manifest's SHA-256");
  return data;
}

function readFileOrRefuse(path: string): Uint8Array {
  try {
    return plainBytes(readFileSync(path));
  } catch (cause) {
    throw damage(path, "no readable file", cause);
  }
}

function parseJson(text: string, file: string): unknown {
  try {
    return JSON.parse(text);
  } catch (cause) {
    throw damage(file, "text that is not whole JSON", cause);
  }
}

function damage(file: string, found: string, cause?: unknown): FerruleError {
  const accepted = "an artifact as it was written; delete its folder and it is computed again by ferrule run";
  return new FerruleError("InvalidFile", { file, found, accepted, cause });
}
