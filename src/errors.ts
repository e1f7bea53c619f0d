/**
 * Tagged errors and their one guard.
 *
 * An error here means "the request cannot be honoured as asked": it carries the place (file, line, column, path),
 * what was found there and what is accepted, so that the reader can act. Faces print it; they never print a stack.
 */

export const errorCodes = [
  "InvalidValue", // a value of the right kind, but not one that can be used
  "ShapeMismatch", // arrays or grids that do not fit each other
  "UnitMismatch", // missing, unknown, ambiguous unit or wrong dimension
  "UnknownName", // no such field, formula, option, file kind
  "InvalidDocument", // a document that does not follow its schema
  "InvalidFile", // a file that cannot be read as what it should be
  "MissingFact", // something the file does not say and that we never guess
  "NotIdentifiable", // the data cannot carry the answer
  "NotExecutable", // e.g. a protocol that its scanner cannot run
  "Conflict", // something exists already, or changed under us
  "Cancelled", // stopped by the user
] as const;

export type ErrorCode = (typeof errorCodes)[number];

/** Where the trouble is. Line and column count from 1; `path` is the dotted path inside a document. */
export interface ErrorPlace {
  readonly file?: string;
  readonly line?: number;
  readonly column?: number;
  readonly path?: string;
}

export interface ErrorDetails extends ErrorPlace {
  /** What came, in the user's own words where possible. */
  readonly found: string;
  /** What would be accepted, with an example. */
  readonly accepted: string;
  readonly cause?: unknown;
}

export class FerruleError extends Error {
  readonly code: ErrorCode;
  readonly place: ErrorPlace;
  readonly found: string;
  readonly accepted: string;

  constructor(code: ErrorCode, { found, accepted, cause, ...place }: ErrorDetails) {
    super(`${describePlace(place)}found ${found}; accepted: ${accepted}`, cause === undefined ? undefined : { cause });
    this.name = "FerruleError";
    this.code = code;
    this.place = place;
    this.found = found;
    this.accepted = accepted;
  }

  /** The same error with more of its place known (an outer caller knows the file, an inner one the path). */
  at(place: ErrorPlace): FerruleError {
    return new FerruleError(this.code, {
      ...place,
      ...this.place,
      found: this.found,
      accepted: this.accepted,
      cause: this.cause,
    });
  }
}

/** The one guard: `isKnownError(e)` or `isKnownError(e, "ShapeMismatch")`. */
export function isKnownError(error: unknown, code?: ErrorCode): error is FerruleError {
  return error instanceof FerruleError && (code === undefined || error.code === code);
}

/** `study.json:4:12 at scanner.bore: ` - the parts that are known, or nothing. */
export function describePlace({ file, line, column, path }: ErrorPlace): string {
  const position = line === undefined ? "" : column === undefined ? `:${line}` : `:${line}:${column}`;
  const where = file === undefined ? (position === "" ? "" : `line ${position.slice(1)}`) : `${file}${position}`;
  const parts = [where, path === undefined || path === "" ? "" : `at ${path}`].filter((part) => part !== "");
  return parts.length === 0 ? "" : `${parts.join(" ")}: `;
}
