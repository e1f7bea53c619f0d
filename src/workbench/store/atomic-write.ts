import { randomBytes } from "node:crypto";
import { closeSync, fsyncSync, mkdirSync, openSync, renameSync, rmSync, writeSync } from "node:fs";
import { basename, dirname, join } from "node:path";

/**
 * Writes a file whole or not at all: beside its place, synced, then renamed over it.
 * A reader sees the old bytes or the new ones, never half of them; a failure leaves the old file as it was.
 */
export function writeFileAtomically(path: string, data: string | Uint8Array): void {
  const folder = dirname(path);
  mkdirSync(folder, { recursive: true });
  const beside = join(folder, `.${basename(path)}.${randomBytes(6).toString("hex")}.part`);
  try {
    writeSynced(beside, typeof data === "string" ? Buffer.from(data, "utf8") : data);
    renameSync(beside, path);
    syncFolder(folder);
  } catch (error) {
    rmSync(beside, { force: true });
    throw error;
  }
}

export function writeSynced(path: string, bytes: Uint8Array): void {
  const file = openSync(path, "wx");
  try {
    for (let written = 0; written < bytes.length; ) written += writeSync(file, bytes, written);
    fsyncSync(file);
  } finally {
    closeSync(file);
  }
}

/** Makes the rename itself durable. Systems that cannot open a folder (Windows) do without. */
export function syncFolder(folder: string): void {
  if (process.platform === "win32") return;
  const handle = openSync(folder, "r");
  try {
    fsyncSync(handle);
  } finally {
    closeSync(handle);
  }
}
