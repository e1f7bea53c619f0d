import { hostname } from "node:os";
import { z } from "zod";

/** Who holds a lock. `token` tells two holds of one process apart. */
export interface LockOwner {
  readonly host: string;
  readonly pid: number;
  /** ISO 8601, UTC */
  readonly since: string;
  readonly token: string;
}

const ownerSchema = z.strictObject({
  host: z.string(),
  pid: z.int().min(1),
  since: z.string(),
  token: z.string(),
});

/** The owner that a lock file names, or undefined when it names none. */
export function parseOwner(text: string): LockOwner | undefined {
  try {
    return ownerSchema.parse(JSON.parse(text));
  } catch {
    return undefined;
  }
}

/**
 * Whether the owner's process has ended for certain. A process of another machine counts as running: from here nobody
 * can tell. A process number that the system has given to another program counts as running, too.
 */
export function hasEnded({ host, pid }: LockOwner): boolean {
  if (host !== hostname()) return false;
  try {
    process.kill(pid, 0); // signal 0 only asks whether the process is there
    return false;
  } catch (error) {
    return (error as NodeJS.ErrnoException).code === "ESRCH";
  }
}

export function ownerWords({ host, pid, since }: LockOwner): string {
  return `process ${pid} on ${host}, since ${since}`;
}
