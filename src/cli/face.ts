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
  /** Aborted by Ctrl-C. */
  readonly signal: AbortSignal;
}

/** A face on this process's streams. Colour only on a terminal, and never when NO_COLOR is set (any value). */
export function terminalFace(signal: AbortSignal): Face {
  const colour = process.stdout.isTTY === true && (process.env.NO_COLOR ?? "") === "";
  const onTerminal = process.stderr.isTTY === true;
  let shown = false;
  const clear = () => {
    if (shown) process.stderr.write("\r\u001b[K");
    shown = false;
  };
  const wrap = (code: number) => (text: string) => (colour ? `\u001b[${code}m${text}\u001b[0m` : text);
  return {
    print: (line) => {
      clear();
      process.stdout.write(`${line}\n`);
    },
    note: (line) => {
      clear();
      process.stderr.write(`${line}\n`);
    },
    progress: (text) => {
      if (!onTerminal) return;
      clear();
      process.stderr.write(text);
      shown = true;
    },
    bold: wrap(1),
    faint: wrap(2),
    signal,
  };
}
