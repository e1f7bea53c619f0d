import { type ErrorCode, type ErrorPlace, FerruleError, isKnownError } from "../errors.js";

/** An error as plain data: posting one keeps its words and drops its class, code and place. */
export interface PostedError {
  readonly message: string;
  readonly stack?: string;
  /** Only of an error of ours. */
  readonly known?: {
    readonly code: ErrorCode;
    readonly place: ErrorPlace;
    readonly found: string;
    readonly accepted: string;
  };
  readonly cause?: PostedError;
}

export function postedError(error: unknown): PostedError {
  if (!(error instanceof Error)) return { message: String(error) };
  const { message, stack, cause } = error;
  return {
    message,
    ...(stack === undefined ? {} : { stack }),
    ...(cause === undefined ? {} : { cause: postedError(cause) }),
    ...(isKnownError(error)
      ? { known: { code: error.code, place: { ...error.place }, found: error.found, accepted: error.accepted } }
      : {}),
  };
}

/** The error as it was, on the other side. `relocate` turns a path in a share into one in the whole argument. */
export function receivedError(posted: PostedError, relocate: (path: string) => string = (path) => path): Error {
  const cause = posted.cause === undefined ? undefined : receivedError(posted.cause);
  if (posted.known === undefined) {
    const error = new Error(posted.message, cause === undefined ? undefined : { cause });
    if (posted.stack !== undefined) error.stack = posted.stack;
    return error;
  }
  const { code, place, found, accepted } = posted.known;
  const path = place.path === undefined ? {} : { path: relocate(place.path) };
  return new FerruleError(code, { ...place, ...path, found, accepted, ...(cause === undefined ? {} : { cause }) });
}
