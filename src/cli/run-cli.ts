import { CommanderError } from "commander";
import { errorDocument, errorLines } from "./describe-error.js";
import { exitCodeOf, exitCodes } from "./exit-codes.js";
import { type Face, terminalFace } from "./face.js";
import { buildProgram } from "./program.js";
import { watchStreams } from "./streams.js";

/**
 * Runs one command line and returns its exit code (`exit-codes.ts`).
 * stdout carries the result only; with `--json` that is exactly one document, an error included.
 * A reader of stdout that goes away early changes nothing; results that cannot be written (full disk) are bad input.
 */
export async function runCli(given: readonly string[]): Promise<number> {
  const args = jsonLast(given);
  const streams = watchStreams();
  const face = terminalFace(streams);
  try {
    const code = await runVerb(args, face);
    const failure = await streams.settle();
    if (failure === undefined) return code;
    face.note(`standard output: ${errorLines(failure).join(" ")}`);
    return code === exitCodes.done ? exitCodes.badInput : code;
  } finally {
    face.release();
  }
}

/** `ferrule --json formula` means what `ferrule formula --json` does; every verb declares the option itself. */
function jsonLast(args: readonly string[]): readonly string[] {
  return args[0] === "--json" && args.length > 1 ? [...args.slice(1), "--json"] : args;
}

async function runVerb(args: readonly string[], face: Face): Promise<number> {
  const outcome: { code: number } = { code: exitCodes.done };
  try {
    await buildProgram(face, (code) => {
      outcome.code = code;
    }).parseAsync([...args], { from: "user" });
    return outcome.code;
  } catch (error) {
    return tell(error, args, face);
  }
}

function tell(error: unknown, args: readonly string[], face: Face): number {
  const code = exitCodeOf(error);
  if (code === exitCodes.done) return code;
  if (args.includes("--json")) face.print(JSON.stringify(errorDocument(error), null, 2));
  // The parser has already written its own message to stderr.
  if (!(error instanceof CommanderError)) for (const line of errorLines(error)) face.note(line);
  if (code === exitCodes.ourFault && process.env.FERRULE_DEBUG && error instanceof Error) face.note(error.stack ?? "");
  return code;
}
