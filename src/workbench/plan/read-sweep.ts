import { dirname, join } from "node:path";
import {
  type Parsed,
  parseDocument,
  type ScannerModel,
  type SweepCase,
  type SweepModel,
  type TracerModel,
} from "../../documents/index.js";
import { FerruleError } from "../../errors.js";
import { readTextInput } from "../store/read-input.js";

export interface LoadedSweep {
  readonly sweep: SweepModel;
  readonly tracer: TracerModel;
  /** In the order of the cases. */
  readonly scanners: readonly ScannerModel[];
}

/**
 * A sweep document with the tracer and scanners that it names, relative to its own folder. Nothing is written.
 *
 * @throws FerruleError for the sweep, for a file that is not there (with the place of its name) or not sound
 */
export function readSweep(file: string): LoadedSweep {
  const parsed = parseDocument(readTextInput(file), { file, family: "sweep" });
  const { model } = parsed;
  const named = (path: string, at: (string | number)[]) => {
    const full = join(dirname(file), path);
    try {
      return { text: readTextInput(full), file: full };
    } catch (cause) {
      throw new FerruleError("InvalidFile", {
        ...parsed.placeOf(at),
        found: `"${path}", which cannot be read (${full})`,
        accepted: "a file relative to the sweep document",
        cause,
      });
    }
  };
  const tracer = named(model.tracerPath, ["tracer"]);
  return {
    sweep: model,
    tracer: parseDocument(tracer.text, { file: tracer.file, family: "tracer" }).model,
    scanners: model.cases.map((each, i) => readCase(named(each.scannerPath, ["cases", i, "scanner"]), each)),
  };
}

function readCase(
  { text, file }: { readonly text: string; readonly file: string },
  { subject }: SweepCase,
): ScannerModel {
  const { model }: Parsed<"scanner"> = parseDocument(text, { file, family: "scanner" });
  return subject === undefined ? model : { ...model, subject };
}
