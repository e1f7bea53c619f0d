import { join } from "node:path";
import { FerruleError } from "../../errors.js";
import { type ArtifactManifest, readArtifactFile } from "./artifact-manifest.js";

/** A computed result on disk. `digest` names its content and is what a later step lists among its inputs. */
export interface Artifact {
  readonly node: string;
  /** How it was made. */
  readonly method: string;
  readonly methodVersion: number;
  readonly key: string;
  readonly digest: string;
  /** Whether it was there already. */
  readonly fromCache: boolean;
  /** File names, sorted. */
  readonly names: readonly string[];
  /** Bytes of a file, compared again with their hash: a file altered since it was found sound is refused. */
  read(name: string): Uint8Array;
  readText(name: string): string;
  path(name: string): string;
}

export function artifactAt(folder: string, manifest: ArtifactManifest, fromCache: boolean): Artifact {
  const names = Object.keys(manifest.files).sort();
  const path = (name: string) => {
    if (Object.hasOwn(manifest.files, name)) return join(folder, name);
    throw new FerruleError("UnknownName", {
      file: folder,
      found: `"${name}", which the step ${manifest.spec.node} does not make`,
      accepted: names.length === 0 ? "nothing: it makes no files" : `one of ${names.join(", ")}`,
    });
  };
  const read = (name: string) => readArtifactFile(path(name), manifest.files[name]);
  return {
    node: manifest.spec.node,
    method: manifest.spec.method,
    methodVersion: manifest.spec.methodVersion,
    key: manifest.key,
    digest: manifest.digest,
    fromCache,
    names,
    path,
    read,
    readText: (name) => new TextDecoder("utf-8", { fatal: true }).decode(read(name)),
  };
}
