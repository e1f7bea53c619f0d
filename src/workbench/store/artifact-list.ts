import { existsSync, readdirSync, rmSync } from "node:fs";
import { join } from "node:path";
import { isKnownError } from "../../errors.js";
import { readSoundManifest } from "./artifact-manifest.js";
import { derivedFolder } from "./artifact-store.js";
import { partEnding } from "./publish-folder.js";

export interface ListedArtifact {
  readonly node: string;
  /** The whole key; of a damaged artifact the part of it that its folder is called by. */
  readonly key: string;
  readonly digest: string | null;
  readonly sizes_bytes: Readonly<Record<string, number>>;
  /** What is wrong with it; it will be computed again. Absent when every byte is as the manifest says. */
  readonly fault?: string;
}

/** Every artifact of a study's folder with all its bytes verified, by node and key. */
export function listArtifacts(folder: string): ListedArtifact[] {
  return artifactFolders(folder)
    .filter(({ name }) => !name.endsWith(partEnding))
    .map(({ node, name, path }) => listed(path, { node, name }));
}

function listed(path: string, { node, name }: { readonly node: string; readonly name: string }): ListedArtifact {
  try {
    const { key, digest, files, spec } = readSoundManifest(path);
    const sizes_bytes = Object.fromEntries(Object.entries(files).map(([file, { bytes }]) => [file, bytes]));
    const isAtHome = spec.node === node && key.startsWith(name);
    return { node, key, digest, sizes_bytes, ...(isAtHome ? {} : { fault: `the artifact ${spec.node}/${key}` }) };
  } catch (error) {
    if (isKnownError(error)) return { node, key: name, digest: null, sizes_bytes: {}, fault: error.message };
    throw error;
  }
}

/**
 * Removes what a killed process left half-written, and says how many. Only while holding the study's lock: another
 * writer's half would be taken for a rest.
 */
export function removeAbandonedParts(folder: string): number {
  const parts = artifactFolders(folder).filter(({ name }) => name.endsWith(partEnding));
  for (const { path } of parts) rmSync(path, { recursive: true, force: true });
  return parts.length;
}

function artifactFolders(folder: string): { node: string; name: string; path: string }[] {
  const root = join(folder, derivedFolder);
  if (!existsSync(root)) return [];
  return foldersIn(root).flatMap((node) =>
    foldersIn(join(root, node)).map((name) => ({ node, name, path: join(root, node, name) })),
  );
}

function foldersIn(folder: string): string[] {
  return readdirSync(folder, { withFileTypes: true })
    .filter((entry) => entry.isDirectory())
    .map(({ name }) => name)
    .sort();
}
