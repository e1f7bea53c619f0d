import { appendFileSync, mkdirSync } from "node:fs";
import { join } from "node:path";
import { FerruleError, isKnownError } from "../../errors.js";
import { type Artifact, artifactAt } from "./artifact.js";
import { type ArtifactManifest, manifestName, manifestOf, readSoundManifest } from "./artifact-manifest.js";
import { type ArtifactSpec, artifactKey, checkFileName } from "./artifact-spec.js";
import { publishFolder } from "./publish-folder.js";

/** File name -> content; text is written as UTF-8. */
export type ArtifactFiles = Readonly<Record<string, Uint8Array | string>>;

export interface ArtifactStore {
  /**
   * The result of a step: from disk when it is there and sound, else computed, written whole and logged.
   * A computation that throws, or a signal that is aborted, leaves nothing behind.
   */
  resolve(
    spec: ArtifactSpec,
    compute: () => ArtifactFiles | Promise<ArtifactFiles>,
    options?: { readonly signal?: AbortSignal },
  ): Promise<Artifact>;
}

export const derivedFolder = "derived";
const logName = "log.jsonl";

/**
 * The store of computed results in a study's folder:
 *   derived/<node>/<first 16 digits of the key>/  the files and manifest.json
 *   derived/log.jsonl                             one line per call: the only place with a clock and a version
 * A folder whose bytes do not match its manifest is never trusted: it is computed again and replaced.
 *
 * @param options.programVersion  goes to the log only; a new version of the program alone recomputes nothing
 */
export function openArtifactStore(
  folder: string,
  { programVersion = null }: { readonly programVersion?: string | null } = {},
): ArtifactStore {
  const root = join(folder, derivedFolder);
  return {
    async resolve(spec, compute, { signal } = {}) {
      const started_ms = performance.now();
      const key = artifactKey(spec);
      const place = join(root, spec.node, key.slice(0, 16));
      const found = soundArtifact(place, key);
      const artifact =
        found === undefined ? await make(place, spec, { compute, signal }) : artifactAt(place, found, true);
      const seconds = Number(((performance.now() - started_ms) / 1000).toFixed(3));
      log(root, { artifact, seconds, programVersion });
      return artifact;
    },
  };
}

/** The manifest of a sound artifact with exactly this key, or undefined: absent, damaged, or of another key. */
function soundArtifact(place: string, key: string): ArtifactManifest | undefined {
  try {
    const manifest = readSoundManifest(place);
    return manifest.key === key ? manifest : undefined;
  } catch (error) {
    if (isKnownError(error)) return undefined;
    throw error;
  }
}

async function make(
  place: string,
  spec: ArtifactSpec,
  { compute, signal }: { compute: () => ArtifactFiles | Promise<ArtifactFiles>; signal: AbortSignal | undefined },
): Promise<Artifact> {
  refuseIfAborted(spec, signal);
  const files = toBytes(await compute());
  refuseIfAborted(spec, signal);
  const manifest = manifestOf(spec, files);
  const written = new Map([...files, [manifestName, Buffer.from(`${JSON.stringify(manifest, null, 2)}\n`)]]);
  const isOurs = publishFolder(place, written, (folder) => soundArtifact(folder, manifest.key) !== undefined);
  // Where another writer was first, theirs is what later steps will read.
  return artifactAt(place, isOurs ? manifest : readSoundManifest(place), false);
}

function toBytes(files: ArtifactFiles): Map<string, Uint8Array> {
  return new Map(
    Object.entries(files).map(([name, content]) => {
      checkFileName(name, "file name");
      if (name === manifestName)
        throw new FerruleError("InvalidValue", { path: "file name", found: name, accepted: 'another, e.g. "map.npy"' });
      return [name, typeof content === "string" ? Buffer.from(content, "utf8") : content];
    }),
  );
}

function refuseIfAborted({ node }: ArtifactSpec, signal: AbortSignal | undefined): void {
  if (signal?.aborted)
    throw new FerruleError("Cancelled", { found: `a request to stop at the step ${node}`, accepted: "to run again" });
}

function log(
  root: string,
  { artifact, seconds, programVersion }: { artifact: Artifact; seconds: number; programVersion: string | null },
): void {
  const { node, key, digest, fromCache } = artifact;
  const line = { time: new Date().toISOString(), node, key, digest, fromCache, seconds, version: programVersion };
  mkdirSync(root, { recursive: true });
  appendFileSync(join(root, logName), `${JSON.stringify(line)}\n`);
}
