import { randomBytes } from "node:crypto";
import { lstatSync, mkdirSync, renameSync, rmdirSync, rmSync, statSync } from "node:fs";
import { dirname, join } from "node:path";
import { FerruleError } from "../../errors.js";
import { syncFolder, writeSynced } from "./atomic-write.js";

interface Staged {
  readonly target: string;
  readonly beside: string;
  readonly data: string | Uint8Array;
}

/**
 * Writes a set of result files into a folder and returns their paths. Whatever can be wrong (a name taken, a folder in
 * a file's place, no permission, no space) is found while the files still lie beside their places; then all are renamed.
 * Existing files are kept, and the whole set refused, unless `replace` is set.
 */
export function writeResults(
  folder: string,
  files: Readonly<Record<string, string | Uint8Array>>,
  { replace = false }: { replace?: boolean } = {},
): string[] {
  if (folder === "")
    throw new FerruleError("InvalidValue", {
      path: "--out",
      found: "an empty folder name",
      accepted: 'a folder, e.g. "first-fit"; "." for the current one',
    });
  const staged = Object.entries(files).map(([name, data]): Staged => {
    const beside = join(folder, `.${name}.${randomBytes(6).toString("hex")}.part`);
    return { target: join(folder, name), beside, data };
  });
  for (const { target } of staged) refuseTaken(target, replace);
  const made = naming(folder, () => mkdirSync(folder, { recursive: true }));
  try {
    for (const { target, beside, data } of staged)
      naming(target, () => writeSynced(beside, typeof data === "string" ? Buffer.from(data, "utf8") : data));
    for (const { target, beside } of staged) naming(target, () => renameSync(beside, target));
    syncFolder(folder);
  } catch (error) {
    for (const { beside } of staged) rmSync(beside, { force: true });
    if (made !== undefined) removeEmpty(folder, made);
    throw error;
  }
  return staged.map(({ target }) => target);
}

/** A rename replaces a file, never a folder; a link is a name of its own. */
function refuseTaken(target: string, replace: boolean): void {
  if (lstatSync(target, { throwIfNoEntry: false }) === undefined) return;
  const isFolder = statSync(target, { throwIfNoEntry: false })?.isDirectory() === true;
  if (replace && !isFolder) return;
  throw new FerruleError("Conflict", {
    file: target,
    found: isFolder ? "a folder, where a result file goes" : "a file of this name",
    accepted: `another --out folder${isFolder ? "" : ", or --replace to overwrite the results in it"}`,
  });
}

/** A system's refusal names the path that the user knows, not the file beside it. */
function naming<T>(path: string, work: () => T): T {
  try {
    return work();
  } catch (error) {
    if (error instanceof Error && "code" in error) Object.assign(error, { path });
    throw error;
  }
}

/** Takes back the folders that we made, as far as nobody else has put something there. */
function removeEmpty(folder: string, made: string): void {
  try {
    for (let path = folder; ; path = dirname(path)) {
      rmdirSync(path);
      if (join(path) === join(made) || path === dirname(path)) return;
    }
  } catch {
    // Not empty: somebody else's now.
  }
}
