import { spawnSync } from "node:child_process";
import { join } from "node:path";
import { root } from "./layers.js";

export interface CommandResult {
  readonly code: number | null;
  readonly stdout: string;
  readonly stderr: string;
}

/** Runs the built command as a user's shell would, in `cwd` (the project's root by default). */
export function runFerrule(
  args: readonly string[],
  {
    cwd = root,
    env = {},
    node = [],
  }: { cwd?: string; env?: Readonly<Record<string, string | undefined>>; node?: readonly string[] } = {},
): CommandResult {
  const { status, stdout, stderr } = spawnSync(
    process.execPath,
    [...node, join(root, "dist", "cli", "main.js"), ...args],
    { cwd, encoding: "utf8", env: { ...process.env, NO_COLOR: "1", ...env }, maxBuffer: 64 << 20 },
  );
  return { code: status, stdout, stderr };
}
