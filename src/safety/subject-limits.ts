import { FerruleError } from "../errors.js";
import { type Body, checkedBody } from "./body.js";
import { type Drive, driveName, type ShiftField } from "./drive.js";
import { heatingLines } from "./heating/heating-lines.js";
import type { LimitLine } from "./limit-line.js";
import { driveStimulationLines, shiftStimulationLines } from "./stimulation/stimulation-lines.js";

/** A body part in the coils, and every field that changes there. */
export interface SubjectExposure {
  readonly body: Body;
  readonly drives: readonly Drive[];
  readonly shifts: readonly ShiftField[];
}

/**
 * What a setting does to the person or animal in it, beside every published limit that we know.
 * Compare with `limitBands`, then `firstLimits`. Show `researchUse` and `usualCautions` beside it.
 *
 * @throws FerruleError  InvalidValue, UnknownName, MissingFact; Conflict for two fields of one name
 */
export function subjectLimits({ body, drives, shifts }: SubjectExposure): LimitLine[] {
  checkedBody(body);
  requireDistinct(drives.map(driveName), "drives");
  requireDistinct(
    shifts.map(({ axis }) => `shift ${axis}`),
    "shifts",
  );
  return [
    ...drives.flatMap((drive) => driveStimulationLines(body, drive)),
    ...shifts.flatMap((shift) => shiftStimulationLines(body, shift)),
    ...heatingLines(body, drives),
  ];
}

/** Two entries of one axis and frequency act as one field: the reader must add them, with their phase. */
function requireDistinct(names: readonly string[], path: string): void {
  const twice = names.find((name, i) => names.indexOf(name) !== i);
  if (twice === undefined) return;
  throw new FerruleError("Conflict", {
    path,
    found: `"${twice}" twice`,
    accepted: "one entry for each axis and frequency, with the amplitude of their sum",
  });
}
