import { CommanderError } from "commander";
import { isKnownError } from "../errors.js";

/** Documented exit codes (README, "Exit codes"). */
export const exitCodes = { done: 0, withheld: 1, badInput: 2, ourFault: 3, interrupted: 130 } as const;

/** The exit code that an error means. The parser's own errors are bad input; help and version are not errors. */
export function exitCodeOf(error: unknown): number {
  if (error instanceof CommanderError) return error.exitCode === 0 ? exitCodes.done : exitCodes.badInput;
  if (isKnownError(error, "Cancelled")) return exitCodes.interrupted;
  if (isKnownError(error) || isSystemRefusal(error)) return exitCodes.badInput;
  return exitCodes.ourFault;
}

/** The operating system refused a file that the user named: missing, not readable, a folder, full disk. */
export function isSystemRefusal(error: unknown): error is NodeJS.ErrnoException {
  return (
    error instanceof Error &&
    typeof (error as NodeJS.ErrnoException).code === "string" &&
    ["ENOENT", "EACCES", "EPERM", "EISDIR", "ENOTDIR", "ENOSPC", "EROFS", "EEXIST", "ENAMETOOLONG"].includes(
      (error as NodeJS.ErrnoException).code as string,
    )
  );
}
