import { type Axis, axes, axisIndex } from "../../fields/axis-field.js";
import type { Vector3 } from "../../fields/vector-field.js";
import type { ProtocolModel } from "../protocol-model.js";

/**
 * Largest change of a linear function of the position between two patches that follow each other.
 *   when axis k steps:  row_k step_k - sum over faster axes j of row_j span_j
 * The drive axis runs fastest, then the others in the order x, y, z; faster axes go back to their first position.
 * The slowest axis with more than one position only steps.
 *
 * @param row  e.g. one row of the gradient, T/m; a unit vector for the path itself
 * @returns magnitude, in the unit of `row` times m; 0 for a single patch
 * Source      order of the raster in the protocol document; derived
 * Checked by  raster-moves.test.ts (every pair of patches)
 */
export function largestMove(
  row: Vector3,
  { raster, driveAxis }: { readonly raster: Pick<ProtocolModel["raster"], "axes">; readonly driveAxis: Axis },
): number {
  let back = 0;
  let largest = 0;
  for (const axis of [driveAxis, ...axes.filter((each) => each !== driveAxis)]) {
    const { from_m, to_m, count } = raster.axes[axis];
    if (count < 2) continue;
    const slope = row[axisIndex(axis)];
    const span = slope * (to_m - from_m);
    largest = Math.max(largest, Math.abs(span / (count - 1) - back));
    back += span;
  }
  return largest;
}
