import { CommanderError } from "commander";
import { errorDocument, errorLines } from "./describe-error.js";
import { exitCodeOf, exitCodes } from "./exit-codes.js";
import { terminalFace } from "./face.js";
import { buildProgram } from "./program.js";

/**
 * Runs one command line and returns its exit code (`exit-codes.ts`).
 * stdout carries the result only; with `--json` that is exactly one document, an error included.
 */
export async function runCli(args: readonly string[]): Promise<number> {
  const stop = new AbortController();
  const onInterrupt = () => stop.abort();
  process.once("SIGINT", onInterrupt);
  const face = terminalFace(stop.signal);
  const outcome: { code: number } = { code: exitCodes.done };
  try {
    await buildProgram(face, (code) => {
      outcome.code = code;
    }).parseAsync([...args], { from: "user" });
    return outcome.code;
  } catch (error) {
    const code = exitCodeOf(error);
    if (code === exitCodes.done) return code;
    if (args.includes("--json")) face.print(JSON.stringify(errorDocument(error), null, 2));
    // The parser has already written its own message to stderr.
    if (!(error instanceof CommanderError)) for (const line of errorLines(error)) face.note(line);
    if (code === exitCodes.ourFault && process.env.FERRULE_DEBUG && error instanceof Error)
      face.note(error.stack ?? "");
    return code;
  } finally {
    process.removeListener("SIGINT", onInterrupt);
  }
}
