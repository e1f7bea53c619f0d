import type { DocumentProblem } from "../document-error.js";
import { type Axis, axes, axisIndex } from "../fields/axis-field.js";
import type { Vector3 } from "../fields/vector-field.js";
import type { ScannerModel } from "../scanner/scanner-model.js";
import type { ProtocolModel } from "./protocol-model.js";

/** Relative slack for comparing two numbers that were each written in decimal: not an allowance for the hardware. */
const writtenTwice = 1e-9;

/**
 * Whether the scanner can run the protocol: drive axis, frequency and amplitude, and the shift field that moves the
 * field-free centre to each position p,
 *   B_shift = -G p,   needed on axis i: max over the raster of |sum_j G_ij p_j|
 * (a linear function on a box: its largest magnitude is at a corner).
 *
 * @returns one problem per thing that cannot be done, code NotExecutable, `path` inside the protocol; empty: it can
 *
 * Valid for   ideal gradients and shift fields alone (no bed motion). Slew rate and power are not known here.
 * Source      definitions of gradient and shift field; derived.
 * Checked by  check-executable.test.ts (80 mm at 7 T/m need 280 mT)
 */
export function checkExecutable(scanner: ScannerModel, protocol: ProtocolModel): DocumentProblem[] {
  return [...driveProblems(scanner, protocol), ...lineProblems(scanner, protocol), ...shiftProblems(scanner, protocol)];
}

function driveProblems({ driveAxes }: ScannerModel, { drive }: ProtocolModel): DocumentProblem[] {
  const onAxis = driveAxes.filter(({ axis }) => axis === drive.axis);
  if (onAxis.length === 0) {
    const known = [...new Set(driveAxes.map(({ axis }) => `"${axis}"`))].join(", ");
    return [problem("drive.axis", `"${drive.axis}"`, `a drive axis of this scanner: ${known}`)];
  }
  const tuned = onAxis.find(({ frequency_Hz }) => isSame(frequency_Hz, drive.frequency_Hz));
  if (tuned === undefined) {
    const known = onAxis.map(({ frequency_Hz }) => `${frequency_Hz} Hz`).join(", ");
    return [
      problem("drive.frequency", `${drive.frequency_Hz} Hz`, `what drive axis ${drive.axis} is tuned to: ${known}`),
    ];
  }
  if (drive.amplitude_T <= tuned.maximumAmplitude_T * (1 + writtenTwice)) return [];
  const most = millitesla(tuned.maximumAmplitude_T);
  return [problem("drive.amplitude", millitesla(drive.amplitude_T), `at most ${most} (peak) on axis ${drive.axis}`)];
}

/** Along a field-free line no field moves the centre: several positions there would be one and the same. */
function lineProblems({ selectionField }: ScannerModel, { raster }: ProtocolModel): DocumentProblem[] {
  const tensor = selectionField.gradient_T_per_m;
  const largest = Math.max(...tensor.flat().map(Math.abs));
  const isLine = (axis: Axis) => tensor.every((row) => Math.abs(row[axisIndex(axis)]) <= 1e-6 * largest);
  return axes
    .filter((axis) => isLine(axis) && raster.axes[axis].count > 1)
    .map((axis) =>
      problem(
        `raster.axes.${axis}`,
        `${raster.axes[axis].count} positions along the field-free line`,
        `one position on axis ${axis}: shift fields do not move the centre along the line`,
      ),
    );
}

function shiftProblems({ selectionField, shiftFields }: ScannerModel, { raster }: ProtocolModel): DocumentProblem[] {
  const tensor = selectionField.gradient_T_per_m;
  return axes.flatMap((axis) => {
    const row = tensor[axisIndex(axis)];
    const needed_T = largestShift_T(row, raster);
    const range_T = shiftFields.find((shift) => shift.axis === axis)?.range_T;
    if (needed_T <= (range_T ?? 0) * (1 + writtenTwice)) return [];
    const available =
      range_T === undefined ? `no shift field on axis ${axis}` : `at most ${millitesla(range_T)} on axis ${axis}`;
    const path = `raster.axes.${farthestContributor(row, raster)}`;
    return [
      problem(
        path,
        `positions that need a shift of ${millitesla(needed_T)} on axis ${axis}`,
        `${available}: positions nearer to the centre`,
      ),
    ];
  });
}

/** Largest |sum_j G_ij p_j| over the box: the sum's own largest and smallest value, each taken axis by axis. */
function largestShift_T(row: Vector3, { axes: positions }: ProtocolModel["raster"]): number {
  const ends = axes.map((axis) => {
    const slope = row[axisIndex(axis)];
    return [slope * positions[axis].from_m, slope * positions[axis].to_m] as const;
  });
  const largest = ends.reduce((sum, pair) => sum + Math.max(...pair), 0);
  const smallest = ends.reduce((sum, pair) => sum + Math.min(...pair), 0);
  return Math.max(largest, -smallest);
}

/** The raster axis that asks most of this shift field: where the writer has to give way. */
function farthestContributor(row: Vector3, { axes: positions }: ProtocolModel["raster"]): Axis {
  const share = (axis: Axis) => Math.abs(row[axisIndex(axis)]) * reach_m(positions[axis]);
  return axes.reduce((worst, axis) => (share(axis) > share(worst) ? axis : worst));
}

function reach_m({ from_m, to_m }: { readonly from_m: number; readonly to_m: number }): number {
  return Math.max(Math.abs(from_m), Math.abs(to_m));
}

function problem(path: string, found: string, accepted: string): DocumentProblem {
  return { code: "NotExecutable", path, found, accepted };
}

function isSame(a: number, b: number): boolean {
  return Math.abs(a - b) <= writtenTwice * Math.max(Math.abs(a), Math.abs(b));
}

function millitesla(field_T: number): string {
  return `${Number((field_T * 1e3).toPrecision(6))} mT`;
}
