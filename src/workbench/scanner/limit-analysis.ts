import type { DriveAxisModel, ScannerModel } from "../../documents/index.js";
import { clearance_m, type FieldSource, fieldAtPoint, type Vector3 } from "../../physics/index.js";
import {
  type Drive,
  type DriveWaveform,
  firstLimits,
  type IronDose,
  ironDoseLimits,
  type LimitBand,
  type LimitClass,
  type LimitLine,
  limitBands,
  researchUse,
  staffLimits,
  subjectLimits,
  usualCautions,
} from "../../safety/index.js";
import { bodyAxis, scannerBody } from "./scanner-body.js";
import { coilSourcesAt, selectionSources } from "./scanner-fields.js";

export interface LimitAnalysis {
  readonly subject: string;
  readonly lines: readonly LimitLine[];
  readonly bands: readonly LimitBand[];
  /** Within each class, never across classes; of fields, for a labelled dose is no limit. */
  readonly first: Partial<Record<LimitClass, LimitBand>>;
  readonly notice: string;
  readonly cautions: readonly string[];
  readonly advisories: readonly string[];
}

/** The scanner at its largest fields beside every limit that we know, for what lies in it and for staff beside it. */
export function limitAnalysis(
  scanner: ScannerModel,
  { dose }: { readonly dose?: IronDose | undefined } = {},
): LimitAnalysis {
  const { body, advisories } = scannerBody(scanner);
  const staff = staffLines(scanner);
  const subject = [
    ...subjectLimits({
      body,
      drives: scanner.driveAxes.map((drive) => driveOf(drive, scanner)),
      shifts: scanner.shiftFields.flatMap(({ axis, range_T, slew_T_per_s }) =>
        slew_T_per_s === undefined
          ? []
          : [{ axis: bodyAxis(axis, scanner.bore.axis), amplitude_T: range_T, slew_T_per_s }],
      ),
    }),
  ];
  const doses = dose === undefined ? [] : ironDoseLimits(dose);
  return {
    subject: body.part,
    lines: [...subject, ...doses, ...staff.lines],
    bands: limitBands([...subject, ...doses, ...staff.lines]),
    // A labelled dose is that of another product, and no limit of this scanner.
    first: firstLimits(limitBands([...subject, ...staff.lines])),
    notice: researchUse,
    cautions: usualCautions,
    advisories: [
      // Of a stated subject the document has said it already.
      ...(scanner.subject === undefined ? advisories : []),
      ...(scanner.bore.axis === "z"
        ? []
        : [`limits name the body's axes: its z lies along the bore, ${scanner.bore.axis}`]),
      ...slewAdvisories(scanner),
      ...staff.advisories,
    ],
  };
}

export function driveOf(
  { axis, maximumAmplitude_T, frequency_Hz, waveform }: DriveAxisModel,
  { bore, duty }: Pick<ScannerModel, "bore" | "duty">,
): Drive {
  return {
    axis: bodyAxis(axis, bore.axis),
    amplitude_T: maximumAmplitude_T,
    frequency_Hz,
    waveform: waveformOf(waveform),
    duty,
  };
}

function waveformOf({ kind, edge_s }: DriveAxisModel["waveform"]): DriveWaveform {
  if (kind === "trapezoid") return { kind, rampTime_s: edge_s };
  return kind === "pulsed" ? { kind, riseTime_s: edge_s } : { kind };
}

function slewAdvisories({ shiftFields }: ScannerModel): string[] {
  return shiftFields
    .filter(({ slew_T_per_s }) => slew_T_per_s === undefined)
    .map(({ axis }) => `shift ${axis} states no slew: its nerve stimulation is not in the limits`);
}

/** Stray fields at the stated place of staff, along the bore's axis (the largest of the six directions). */
function staffLines(scanner: ScannerModel): { lines: LimitLine[]; advisories: string[] } {
  const { staffDistance_m, driveAxes } = scanner;
  if (staffDistance_m === undefined)
    return {
      lines: [],
      advisories: ["no place of staff is stated (staffDistance): stray fields are not in the limits"],
    };
  const place = `${staffDistance_m} m from the centre`;
  const known = driveAxes.filter((drive) => drive.coil !== undefined);
  const stray = known.map((drive) => ({
    place,
    access: "staff only" as const,
    frequency_Hz: drive.frequency_Hz,
    amplitude_T: largestAt(coilSourcesAt(drive), staffDistance_m),
  }));
  const selection = selectionSources(scanner);
  return {
    lines: staffLimits({
      stray: strongestPerFrequency(stray),
      staticStray: selection.length === 0 ? [] : [{ place, amplitude_T: largestAt(selection, staffDistance_m) }],
    }),
    advisories: [
      ...(known.length < driveAxes.length ? ["a drive without a coil has no stray field that could be computed"] : []),
      ...(selection.length === 0 ? ["an ideal selection field has no stray field that could be computed"] : []),
      "stray fields are those of the bare coils: no shield, yoke or building steel",
      ...placeAdvisories([...selection, ...known.flatMap(coilSourcesAt)], staffDistance_m),
    ],
  };
}

/** Six places at the stated distance: one inside a coil or magnet is no place of anybody. */
function placeAdvisories(sources: readonly FieldSource[], distance_m: number): string[] {
  const nearest_m = Math.min(...sixPlaces(distance_m).map((place) => clearance_m(sources, place)));
  if (nearest_m > leastRoom_m) return [];
  return [
    `the place of staff (staffDistance) lies ${nearest_m <= 0 ? "inside" : "within a hand's width of"} a coil or magnet: its stray fields mean nothing`,
  ];
}

const leastRoom_m = 0.1;

/** Drives of one frequency act together: their peaks are added, an upper figure. */
function strongestPerFrequency<Field extends { readonly frequency_Hz: number; readonly amplitude_T: number }>(
  fields: readonly Field[],
): Field[] {
  const all = [...new Set(fields.map(({ frequency_Hz }) => frequency_Hz))];
  return all.map((frequency_Hz) => {
    const same = fields.filter((field) => field.frequency_Hz === frequency_Hz);
    return { ...same[0], amplitude_T: same.reduce((sum, { amplitude_T }) => sum + amplitude_T, 0) };
  });
}

function largestAt(sources: Parameters<typeof fieldAtPoint>[0], distance_m: number): number {
  return Math.max(...sixPlaces(distance_m).map((place) => Math.hypot(...fieldAtPoint(sources, place))));
}

function sixPlaces(distance_m: number): Vector3[] {
  return [0, 1, 2].flatMap((axis) =>
    [distance_m, -distance_m].map((at): Vector3 => [axis === 0 ? at : 0, axis === 1 ? at : 0, axis === 2 ? at : 0]),
  );
}
