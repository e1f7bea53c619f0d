import type { DocumentProblem } from "../../document-error.js";
import { type Axis, axes, axisIndex } from "../../fields/axis-field.js";
import type { Vector3 } from "../../fields/vector-field.js";
import { coilElectrics, fieldPerAmpere_T_per_A } from "../../scanner/coil-needs.js";
import type { ScannerModel, ShiftFieldModel } from "../../scanner/scanner-model.js";
import type { AxisPositions } from "../axis-positions.js";
import type { ProtocolModel } from "../protocol-model.js";
import { millitesla, problem, unmetNeeds, writtenTwice } from "./problem.js";

type Raster = ProtocolModel["raster"];

/**
 * Shift fields of a raster: B_shift = -G p on the axes that they move, so on axis i
 *   range  max |sum_j G_ij p_j|;  slew  (largest - smallest) / settle time, for the way back to the first position
 *   current B/(field per ampere);  mean power R <I^2> over the raster;  voltage L dI/dt + R I while it moves
 *
 * Valid for   fields homogeneous over the raster; moves at a constant rate within the settle time
 */
export function shiftProblems(scanner: ScannerModel, protocol: ProtocolModel): DocumentProblem[] {
  const tensor = scanner.selectionField.gradient_T_per_m;
  const raster = movedByFields(protocol.raster);
  return axes.flatMap((axis) => {
    const demand = demandOf(tensor[axisIndex(axis)], raster);
    const shift = scanner.shiftFields.find((each) => each.axis === axis);
    const path = `raster.axes.${farthestContributor(tensor[axisIndex(axis)], raster)}`;
    if (demand.largest_T > (shift?.range_T ?? 0) * (1 + writtenTwice)) {
      const available =
        shift === undefined ? `no shift field on axis ${axis}` : `at most ${millitesla(shift.range_T)} on axis ${axis}`;
      return [
        problem(
          path,
          `positions that need a shift of ${millitesla(demand.largest_T)} on axis ${axis}`,
          `${available}: positions nearer to the centre`,
        ),
      ];
    }
    return shift === undefined || demand.largest_T === 0
      ? []
      : movingProblems(shift, { demand, path, settleTime_s: protocol.settleTime_s });
  });
}

interface Demand {
  readonly largest_T: number;
  readonly span_T: number;
  readonly meanSquare_T2: number;
}

function movingProblems(
  { axis, slew_T_per_s, coil }: ShiftFieldModel,
  { demand, path, settleTime_s }: { readonly demand: Demand; readonly path: string; readonly settleTime_s: number },
): DocumentProblem[] {
  const rate = demand.span_T === 0 ? 0 : demand.span_T / settleTime_s; // no settle time: infinite
  const slewing =
    slew_T_per_s === undefined || rate <= slew_T_per_s * (1 + writtenTwice)
      ? []
      : [
          problem(
            "settleTime",
            `${settleTime_s} s for a move of ${millitesla(demand.span_T)} on axis ${axis}: ${Number.isFinite(rate) ? `${Number(rate.toPrecision(6))} T/s` : "at once"}`,
            `at least ${Number((demand.span_T / slew_T_per_s).toPrecision(6))} s at ${slew_T_per_s} T/s`,
          ),
        ];
  if (coil === undefined) return slewing;
  const perAmpere = Math.abs(fieldPerAmpere_T_per_A(coil, axis));
  const { resistance_Ohm: r, inductance_H: l } = coilElectrics(coil);
  const current_A = demand.largest_T / perAmpere;
  const power_W = r === null ? null : (r * demand.meanSquare_T2) / perAmpere ** 2;
  const ramp_V = r === null || l === null || !Number.isFinite(rate) ? null : (l * rate) / perAmpere + r * current_A;
  const at = { path, where: `in shift coil ${axis}` };
  const { maximumCurrent_A, maximumVoltage_V, maximumPower_W } = coil.supply;
  return [
    ...slewing,
    ...unmetNeeds([
      { ...at, what: "a current of", kind: "current", needed: current_A, available: maximumCurrent_A },
      { ...at, what: "a voltage of", kind: "voltage", needed: ramp_V, available: maximumVoltage_V },
      { ...at, what: "a mean power of", kind: "power", needed: power_W, available: maximumPower_W },
      { ...at, what: "a mean heat of", kind: "power", needed: power_W, available: coil.cooling_W },
    ]),
  ];
}

/** The raster without what the bed moves. */
function movedByFields(raster: Raster): Raster {
  if (raster.bedAxis === undefined) return raster;
  const still: AxisPositions = { from_m: 0, to_m: 0, count: 1 };
  return { ...raster, axes: { ...raster.axes, [raster.bedAxis]: still } };
}

/** A linear function on a box of positions: its extremes are at corners, its mean square from those of each axis. */
function demandOf(row: Vector3, { axes: positions }: Raster): Demand {
  const ends = axes.map((axis) => {
    const slope = row[axisIndex(axis)];
    return [slope * positions[axis].from_m, slope * positions[axis].to_m] as const;
  });
  const largest = ends.reduce((sum, pair) => sum + Math.max(...pair), 0);
  const smallest = ends.reduce((sum, pair) => sum + Math.min(...pair), 0);
  const mean = (largest + smallest) / 2;
  const variance = axes.reduce((sum, axis) => sum + (row[axisIndex(axis)] * spread_m(positions[axis])) ** 2, 0);
  return {
    largest_T: Math.max(largest, -smallest),
    span_T: largest - smallest,
    meanSquare_T2: mean ** 2 + variance,
  };
}

/** Standard deviation of equally spaced positions: span sqrt((n + 1)/(12 (n - 1))). */
function spread_m({ from_m, to_m, count }: AxisPositions): number {
  return count < 2 ? 0 : (to_m - from_m) * Math.sqrt((count + 1) / (12 * (count - 1)));
}

/** The raster axis that asks most of this shift field: where the writer has to give way. */
function farthestContributor(row: Vector3, { axes: positions }: Raster): Axis {
  const share = (axis: Axis) => Math.abs(row[axisIndex(axis)]) * reach_m(positions[axis]);
  return axes.reduce((worst, axis) => (share(axis) > share(worst) ? axis : worst));
}

function reach_m({ from_m, to_m }: { readonly from_m: number; readonly to_m: number }): number {
  return Math.max(Math.abs(from_m), Math.abs(to_m));
}
