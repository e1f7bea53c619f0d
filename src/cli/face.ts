import type { WatchedStreams } from "./streams.js";

/**
 * What a verb may use of the terminal: where results and messages go, and how it is told to stop.
 * Results (tables or one JSON document) go to `print`; everything else is a message and goes to `note`.
 */
export interface Face {
  /** One result line on stdout. */
  readonly print: (line: string) => void;
  /** One message line on stderr. */
  readonly note: (line: string) => void;
  /** Replaces the current progress line on a terminal; does nothing elsewhere. */
  readonly progress: (text: string) => void;
  readonly bold: (text: string) => string;
  readonly faint: (text: string) => string;
  /**
   * Aborted by Ctrl-C. Reading it is a promise to look at it: from then on Ctrl-C no longer ends the process by itself.
   * A verb that never reads it is ended at once by the system, like every program; its writes are whole or not there.
   */
  readonly signal: AbortSignal;
}

/** What colour depends on; a stream's `isTTY` is undefined where it is no terminal. */
export interface ColourSetting {
  readonly isTerminal: boolean;
  readonly noColor: string | undefined;
}

/** Colour only on a terminal, and never when NO_COLOR is set to anything (an empty one counts as not set). */
export function wantsColour({ isTerminal, noColor }: ColourSetting): boolean {
  return isTerminal && (noColor ?? "") === "";
}

/** A face on this process's streams, and how to take its hands off Ctrl-C again. */
export function terminalFace({ isOpen }: Pick<WatchedStreams, "isOpen">): Face & { readonly release: () => void } {
  const colour = wantsColour({ isTerminal: process.stdout.isTTY === true, noColor: process.env.NO_COLOR });
  const onTerminal = process.stderr.isTTY === true;
  const stop = new AbortController();
  const onInterrupt = () => stop.abort();
  let isListening = false;
  let shown = false;
  const write = (name: "stdout" | "stderr", text: string) => {
    if (isOpen(name)) process[name].write(text);
  };
  const clear = () => {
    if (shown) write("stderr", "\r\u001b[K");
    shown = false;
  };
  const wrap = (code: number) => (text: string) => (colour ? `\u001b[${code}m${text}\u001b[0m` : text);
  return {
    print: (line) => {
      clear();
      write("stdout", `${line}\n`);
    },
    note: (line) => {
      clear();
      write("stderr", `${line}\n`);
    },
    progress: (text) => {
      if (!onTerminal) return;
      clear();
      write("stderr", text);
      shown = true;
    },
    bold: wrap(1),
    faint: wrap(2),
    get signal() {
      // Once only: a second Ctrl-C ends a verb that is slow to stop.
      if (!isListening) process.once("SIGINT", onInterrupt);
      isListening = true;
      return stop.signal;
    },
    release: () => {
      clear();
      process.removeListener("SIGINT", onInterrupt);
    },
  };
}
