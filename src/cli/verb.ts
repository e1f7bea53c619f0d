import type { Command } from "commander";
import type { Face } from "./face.js";

/** Adds one verb to the program. Heavy modules are imported inside the verb's action, never at its top. */
export type AddVerb = (program: Command, face: Face, setExitCode: (code: number) => void) => void;

/** Help text with the examples that a test runs. */
export function examples(...lines: readonly string[]): string {
  return `\nExamples:\n${lines.map((line) => `  ${line}`).join("\n")}`;
}
