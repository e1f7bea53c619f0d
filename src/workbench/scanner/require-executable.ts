import { checkExecutable, DocumentError, parseDocument, type ScannerModel } from "../../documents/index.js";
import { readTextInput } from "../store/read-input.js";

/**
 * Reads a protocol and refuses it, with the place of every number, when the scanner cannot run it.
 *
 * @returns name of the protocol
 * @throws FerruleError  NotExecutable (a DocumentError that lists all problems); what is wrong with the file itself
 */
export function requireExecutable(scanner: ScannerModel, protocolFile: string): string {
  const protocol = parseDocument(readTextInput(protocolFile), { file: protocolFile, family: "protocol" });
  const problems = checkExecutable(scanner, protocol.model);
  if (problems.length === 0) return protocol.model.name;
  throw new DocumentError(
    problems.map((problem) => ({ ...protocol.placeOf((problem.path ?? "").split(".")), ...problem })),
  );
}
