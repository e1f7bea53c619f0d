import type { DocumentProblem } from "../../document-error.js";
import { unitVector } from "../../fields/direction-field.js";
import type { ScannerModel } from "../../scanner/scanner-model.js";
import type { ProtocolModel } from "../protocol-model.js";
import { problem, quantityText, writtenTwice } from "./problem.js";
import { largestMove } from "./raster-moves.js";

/** What a raster asks of the bed: its axis, its range, and its speed for the longest move within the settle time. */
export function bedProblems({ bed }: ScannerModel, { drive, raster, settleTime_s }: ProtocolModel): DocumentProblem[] {
  const { bedAxis } = raster;
  if (bedAxis === undefined) return [];
  if (bed === undefined)
    return [problem("raster.bed", `"${bedAxis}"`, "no bed motion: this scanner has no bed that moves")];
  if (bed.axis !== bedAxis)
    return [problem("raster.bed", `"${bedAxis}"`, `"${bed.axis}", the axis along which this scanner's bed moves`)];
  const { from_m, to_m } = raster.axes[bedAxis];
  const reach_m = Math.max(Math.abs(from_m), Math.abs(to_m));
  const path = `raster.axes.${bedAxis}`;
  const range =
    reach_m <= bed.range_m * (1 + writtenTwice)
      ? []
      : [
          problem(
            path,
            `positions that need the bed at ${quantityText(reach_m, "length")}`,
            `at most ${quantityText(bed.range_m, "length")} either way`,
          ),
        ];
  const move_m = largestMove(unitVector(bedAxis), { raster, driveAxis: drive.axis });
  const needed_s = move_m / bed.speed_m_per_s;
  const speed =
    settleTime_s >= needed_s * (1 - writtenTwice)
      ? []
      : [
          problem(
            "settleTime",
            `${settleTime_s} s for a bed move of ${quantityText(move_m, "length")}`,
            `at least ${Number(needed_s.toPrecision(6))} s at ${quantityText(bed.speed_m_per_s, "velocity")}`,
          ),
        ];
  return [...range, ...speed];
}
