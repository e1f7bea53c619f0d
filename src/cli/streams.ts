/**
 * What becomes of this process's two output streams. Without a listener a reader that goes away (`| head -3`) or a full
 * disk ends the process with a stack trace, whatever the work was worth.
 */
export interface WatchedStreams {
  /** False once the stream has failed: what is written later goes nowhere. */
  readonly isOpen: (stream: "stdout" | "stderr") => boolean;
  /** Waits until everything written has left or failed, then says why the results could not be written, if so. */
  readonly settle: () => Promise<NodeJS.ErrnoException | undefined>;
}

/** A reader that closed its end has seen what it wanted: no failure of ours. */
const isReaderGone = ({ code }: NodeJS.ErrnoException): boolean =>
  code === "EPIPE" || code === "EOF" || code === "ERR_STREAM_DESTROYED";

export function watchStreams(): WatchedStreams {
  const closed = new Set<string>();
  let failure: NodeJS.ErrnoException | undefined;
  for (const name of ["stdout", "stderr"] as const)
    process[name].on("error", (error: NodeJS.ErrnoException) => {
      closed.add(name);
      if (name === "stdout" && !isReaderGone(error)) failure ??= error;
    });
  return {
    isOpen: (name) => !closed.has(name),
    settle: async () => {
      await Promise.all((["stdout", "stderr"] as const).map((name) => drained(name, closed)));
      return failure;
    },
  };
}

/** An empty write returns after all before it; an error reaches the listener before the callback's next turn. */
function drained(name: "stdout" | "stderr", closed: ReadonlySet<string>): Promise<void> {
  return new Promise((resolve) => {
    if (closed.has(name)) resolve();
    else process[name].write("", () => setImmediate(resolve));
  });
}
