import { randomBytes } from "node:crypto";
import { existsSync, mkdirSync, renameSync, rmSync } from "node:fs";
import { basename, dirname, join } from "node:path";
import { syncFolder, writeSynced } from "./atomic-write.js";

/** Ending of folders that are being written or thrown away; nobody reads them. */
export const partEnding = ".part";

/**
 * Puts a folder of files in its place whole or not at all: written beside it, synced, then renamed.
 * Where a folder stands already, `isSound` decides: a sound one stays and ours is dropped (another writer of the same
 * content was first), a damaged one is moved away and replaced.
 *
 * @returns whether the folder now in place is ours
 */
export function publishFolder(
  target: string,
  files: ReadonlyMap<string, Uint8Array>,
  isSound: (folder: string) => boolean,
): boolean {
  const beside = (what: string) =>
    join(dirname(target), `.${basename(target)}.${what}-${randomBytes(6).toString("hex")}${partEnding}`);
  const ours = beside("new");
  const discarded = beside("old");
  try {
    mkdirSync(ours, { recursive: true });
    for (const [name, bytes] of files) writeSynced(join(ours, name), bytes);
    syncFolder(ours);
    if (existsSync(target) && !isSound(target)) moveAway(target, discarded);
    // Between the look and the move another writer may have mended it: then what we moved away is sound.
    if (existsSync(discarded) && isSound(discarded)) {
      renameUnlessTaken(discarded, target);
      return false;
    }
    const isOurs = renameUnlessTaken(ours, target);
    syncFolder(dirname(target));
    return isOurs;
  } finally {
    for (const leftover of [ours, discarded]) rmSync(leftover, { recursive: true, force: true });
  }
}

/** Renaming a folder onto one with files in it fails on every system, so the first writer stays. */
function renameUnlessTaken(from: string, to: string): boolean {
  try {
    renameSync(from, to);
    return true;
  } catch (error) {
    if (["ENOTEMPTY", "EEXIST", "EPERM", "EACCES"].includes(codeOf(error)) && existsSync(to)) return false;
    throw error;
  }
}

/** Another writer may have moved the damaged folder first. */
function moveAway(from: string, to: string): void {
  try {
    renameSync(from, to);
  } catch (error) {
    if (codeOf(error) !== "ENOENT") throw error;
  }
}

const codeOf = (error: unknown): string => String((error as NodeJS.ErrnoException).code);
