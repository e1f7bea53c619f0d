import type { DocumentProblem } from "../document-error.js";
import { type Axis, axes, axisIndex } from "../fields/axis-field.js";
import type { ScannerModel } from "../scanner/scanner-model.js";
import { bedProblems } from "./executability/bed-problems.js";
import { driveProblems } from "./executability/drive-problems.js";
import { problem } from "./executability/problem.js";
import { receiveProblems } from "./executability/receive-problems.js";
import { selectionProblems } from "./executability/selection-problems.js";
import { shiftProblems } from "./executability/shift-problems.js";
import type { ProtocolModel } from "./protocol-model.js";

/**
 * Whether the scanner can run the protocol: drive axis, frequency, amplitude, current, voltage and power; the shift field
 * that moves the field-free centre to each position, how fast it gets there and what it costs; the bed; the receive range.
 *
 * @returns one problem per thing that cannot be done, code NotExecutable, `path` inside the protocol; empty: nothing known
 *          speaks against it (what the scanner document does not state is not judged)
 *
 * Valid for   ideal gradients and homogeneous shift fields
 * Source      definitions of gradient and shift field; derived.
 * Checked by  check-executable.test.ts (80 mm at 7 T/m need 280 mT), executability.test.ts, coil-demands.test.ts
 */
export function checkExecutable(scanner: ScannerModel, protocol: ProtocolModel): DocumentProblem[] {
  return [
    ...driveProblems(scanner, protocol),
    ...lineProblems(scanner, protocol),
    ...shiftProblems(scanner, protocol),
    ...bedProblems(scanner, protocol),
    ...selectionProblems(scanner),
    ...receiveProblems(scanner, protocol),
  ];
}

/** Along a field-free line no field moves the centre: several positions there would be one and the same. */
function lineProblems({ selectionField }: ScannerModel, { raster }: ProtocolModel): DocumentProblem[] {
  const tensor = selectionField.gradient_T_per_m;
  const largest = Math.max(...tensor.flat().map(Math.abs));
  const isLine = (axis: Axis) => tensor.every((row) => Math.abs(row[axisIndex(axis)]) <= 1e-6 * largest);
  return axes
    .filter((axis) => isLine(axis) && raster.axes[axis].count > 1 && raster.bedAxis !== axis)
    .map((axis) =>
      problem(
        `raster.axes.${axis}`,
        `${raster.axes[axis].count} positions along the field-free line`,
        `one position on axis ${axis}: shift fields do not move the centre along the line`,
      ),
    );
}
