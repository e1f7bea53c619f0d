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
  const scanners = model.cases.map((each, i) => readCase(named(each.scannerPath, ["cases", i, "scanner"]), each));
  refuseAboveNyquist(parsed, scanners);
  return {
    sweep: model,
    tracer: parseDocument(tracer.text, { file: tracer.file, family: "tracer" }).model,
    scanners,
  };
}

/** A drive that a case's digitiser would fold back is refused where the sweep asks for it. */
function refuseAboveNyquist({ model, placeOf }: Parsed<"sweep">, scanners: readonly ScannerModel[]): void {
  const { over, cases, driveAxis } = model;
  for (const [i, scanner] of scanners.entries()) {
    const digitiser = scanner.receive.find(({ axis }) => axis === driveAxis)?.chain.digitiser;
    const asked = over.frequency_Hz === undefined ? [cases[i].frequency_Hz ?? 0] : over.frequency_Hz;
    const highest_Hz = Math.max(...asked);
    if (digitiser === undefined || digitiser.rate_per_s > 2 * highest_Hz) continue;
    throw new FerruleError("InvalidValue", {
      ...placeOf(over.frequency_Hz === undefined ? ["cases", i, "frequency"] : ["over", "frequency"]),
      found: `a drive of ${highest_Hz} Hz for case "${cases[i].name}", whose digitiser takes ${digitiser.rate_per_s} S/s`,
      accepted: `frequencies below ${digitiser.rate_per_s / 2} Hz (Nyquist), low enough for some harmonics`,
    });
  }
}

function readCase(
  { text, file }: { readonly text: string; readonly file: string },
  { subject }: SweepCase,
): ScannerModel {
  const { model }: Parsed<"scanner"> = parseDocument(text, { file, family: "scanner" });
  return subject === undefined ? model : { ...model, subject };
}
