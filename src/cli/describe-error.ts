import { CommanderError } from "commander";
import { describePlace, isKnownError } from "../errors.js";
import { isSystemRefusal } from "./exit-codes.js";

export interface ErrorDocument {
  readonly error: {
    readonly code: string;
    readonly file?: string;
    readonly line?: number;
    readonly column?: number;
    readonly path?: string;
    readonly found: string;
    readonly accepted: string;
    readonly problems?: readonly unknown[];
  };
}

/** An error as the one JSON document that `--json` prints. */
export function errorDocument(error: unknown): ErrorDocument {
  if (isKnownError(error)) {
    const problems = "problems" in error && Array.isArray(error.problems) ? { problems: error.problems } : {};
    return { error: { code: error.code, ...error.place, found: error.found, accepted: error.accepted, ...problems } };
  }
  if (error instanceof CommanderError)
    return { error: { code: "InvalidValue", found: plain(error.message), accepted: "see --help" } };
  if (isSystemRefusal(error))
    return { error: { code: "InvalidFile", file: error.path, found: systemReason(error), accepted: "a usable file" } };
  return { error: { code: "Internal", found: messageOf(error), accepted: "nothing: this is a fault of ours" } };
}

/** The same for a person: never a stack trace. */
export function errorLines(error: unknown): string[] {
  if (isKnownError(error, "Cancelled")) return ["stopped: what was finished is kept, nothing is half-written"];
  if (isKnownError(error)) {
    const more = "problems" in error && Array.isArray(error.problems) ? error.problems.slice(1) : [];
    return [
      `${describePlace(error.place)}${error.code}`,
      `  found:    ${error.found}`,
      `  accepted: ${error.accepted}`,
      ...more.map((problem) => `  also ${describePlace(problem)}found ${problem.found}; accepted: ${problem.accepted}`),
    ];
  }
  if (error instanceof CommanderError) return [plain(error.message)];
  if (isSystemRefusal(error)) return [`${error.path ?? "file"}: ${systemReason(error)}`];
  return [
    `A fault of ours, not of your input: ${messageOf(error)}`,
    "  Set FERRULE_DEBUG=1 to see where; please report it.",
  ];
}

function systemReason(error: NodeJS.ErrnoException): string {
  const reasons: Record<string, string> = {
    ENOENT: "no such file or folder",
    EACCES: "no permission to use it",
    EPERM: "the system does not permit it",
    EISDIR: "a folder, where a file was expected",
    ENOTDIR: "a file, where a folder was expected",
    ENOSPC: "no space left on the disk",
    EROFS: "the folder is read-only",
    EEXIST: "exists already",
    ENAMETOOLONG: "a name too long for this system",
  };
  return reasons[error.code ?? ""] ?? error.message;
}

const plain = (message: string) => message.replace(/^error: /, "").trim();
const messageOf = (error: unknown) => (error instanceof Error ? error.message : String(error));
