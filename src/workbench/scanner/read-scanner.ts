import { parseDocument, type ScannerModel } from "../../documents/index.js";
import { readTextInput } from "../store/read-input.js";

/** @throws FerruleError when the file is no sound scanner document */
export function readScanner(file: string): ScannerModel {
  return parseDocument(readTextInput(file), { file, family: "scanner" }).model;
}
