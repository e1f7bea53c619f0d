import { randomBytes } from "node:crypto";
import { linkSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { hostname } from "node:os";
import { join } from "node:path";
import { setTimeout as wait } from "node:timers/promises";
import { FerruleError } from "../../errors.js";
import { hasEnded, type LockOwner, ownerWords, parseOwner } from "./lock-owner.js";

export const lockName = ".ferrule-lock";

/**
 * Does work in a study's folder while no other process does. The lock is a file that names its owner; it goes away when
 * the work ends, by success, error or exit of the process. One left by a process of this machine that has ended
 * (killed, power cut) is taken over, and `note` is told.
 *
 * @throws FerruleError Conflict when another process holds it: who, since when, what to do
 */
export async function withStudyLock<Result>(
  folder: string,
  work: () => Result | Promise<Result>,
  { note = () => {} }: { readonly note?: (message: string) => void } = {},
): Promise<Result> {
  const path = join(folder, lockName);
  const owner = newOwner();
  await acquire(path, owner, note);
  removeLeftovers(folder);
  const release = () => removeIfOwned(path, owner);
  process.once("exit", release);
  try {
    return await work();
  } finally {
    process.removeListener("exit", release);
    release();
  }
}

function newOwner(): LockOwner {
  const since = new Date().toISOString();
  return { host: hostname(), pid: process.pid, since, token: randomBytes(8).toString("hex") };
}

async function acquire(path: string, owner: LockOwner, note: (message: string) => void): Promise<void> {
  if (createLock(path, owner)) return;
  const holder = readOwner(path);
  if (holder === "gone") return acquire(path, owner, note);
  if (holder === undefined || !hasEnded(holder)) throw conflict(path, holder);
  await removeAbandoned(path, holder);
  if (!createLock(path, owner)) throw conflict(path, readOwner(path));
  note(`took over the lock of ${ownerWords(holder)}: that process has ended without removing it`);
}

/** Makes the lock with its content in one step: no reader ever sees a lock that names nobody. */
function createLock(path: string, owner: LockOwner): boolean {
  const beside = `${path}.${owner.token}`;
  writeFileSync(beside, `${JSON.stringify(owner)}\n`, { flag: "wx" });
  try {
    linkSync(beside, path);
    return true;
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException;
    if (code === "EEXIST") return false;
    if (code !== "EPERM" && code !== "ENOTSUP" && code !== "ENOSYS") throw error;
    return createWithoutLinks(path, owner);
  } finally {
    rmSync(beside, { force: true });
  }
}

/** Files beside the lock that a process killed while it made one has left. */
function removeLeftovers(folder: string): void {
  const names = readdirSync(folder).filter((name) => name.startsWith(lockName) && /\.[0-9a-f]{16}$/.test(name));
  for (const name of names) {
    const holder = readOwner(join(folder, name));
    if (holder !== "gone" && holder !== undefined && hasEnded(holder)) rmSync(join(folder, name), { force: true });
  }
}

/** For file systems without links. Who looks between the two steps sees a lock of an unknown owner, and refuses. */
function createWithoutLinks(path: string, owner: LockOwner): boolean {
  try {
    writeFileSync(path, `${JSON.stringify(owner)}\n`, { flag: "wx" });
    return true;
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === "EEXIST") return false;
    throw error;
  }
}

/**
 * Removes the lock of an ended process. Two that find it at once must not remove each other's new lock, so they take
 * turns under a second lock and look again; the owner of a dead lock cannot come back to change it.
 */
async function removeAbandoned(path: string, holder: LockOwner): Promise<void> {
  const guard = `${path}-takeover`;
  const owner = newOwner();
  for (let tries = 0; !createLock(guard, owner); tries++) {
    if (tries >= 40) throw conflict(guard, readOwner(guard));
    await wait(25);
  }
  try {
    removeIfOwned(path, holder);
  } finally {
    removeIfOwned(guard, owner);
  }
}

function removeIfOwned(path: string, { token }: LockOwner): void {
  const holder = readOwner(path);
  if (holder !== "gone" && holder?.token === token) rmSync(path, { force: true });
}

function readOwner(path: string): LockOwner | undefined | "gone" {
  try {
    return parseOwner(readFileSync(path, "utf8"));
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === "ENOENT") return "gone";
    throw error;
  }
}

function conflict(path: string, holder: LockOwner | undefined | "gone"): FerruleError {
  const isKnown = holder !== undefined && holder !== "gone";
  return new FerruleError("Conflict", {
    file: path,
    found: isKnown ? `the study in use by ${ownerWords(holder)}` : "a lock that does not say whose it is",
    accepted:
      "one run at a time in a study: wait until that one ends or stop it; when you are sure that it runs no more, delete this file",
  });
}
