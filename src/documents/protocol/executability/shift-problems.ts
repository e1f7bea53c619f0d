import type { DocumentProblem } from "../../document-error.js";
import { type Axis, axes, axisIndex } from "../../fields/axis-field.js";
import type { Vector3 } from "../../fields/vector-field.js";
import type { SupplyModel } from "../../scanner/coil-field.js";
import { type CoilElectrics, coilElectrics, fieldPerAmpere_T_per_A } from "../../scanner/coil-needs.js";
import type { ScannerModel, ShiftFieldModel } from "../../scanner/scanner-model.js";
import type { AxisPositions } from "../axis-positions.js";
import type { ProtocolModel } from "../protocol-model.js";
import { millitesla, problem, quantityText, unmetNeeds, writtenTwice } from "./problem.js";
import { largestMove } from "./raster-moves.js";

type Raster = ProtocolModel["raster"];

/**
 * Shift fields of a raster: B_shift = -G p on the axes that they move, so on axis i
 *   range  max |sum_j G_ij p_j|;  slew  (largest change between two patches, ways back included) / settle time
 *   current B/(field per ampere);  mean power R <I^2> over the raster;  voltage L dI/dt + R I while it moves
 * Of R and L the one that is known counts alone when the other is not: a lower bound.
 *
 * Valid for   fields homogeneous over the raster; moves at a constant rate within the settle time
 */
export function shiftProblems(scanner: ScannerModel, protocol: ProtocolModel): DocumentProblem[] {
  const tensor = scanner.selectionField.gradient_T_per_m;
  const raster = movedByFields(protocol.raster);
  return axes.flatMap((axis) => {
    const row = tensor[axisIndex(axis)];
    const demand = { ...demandOf(row, raster), move_T: largestMove(row, { raster, driveAxis: protocol.drive.axis }) };
    const shift = scanner.shiftFields.find((each) => each.axis === axis);
    const path = `raster.axes.${farthestContributor(row, raster)}`;
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
  readonly move_T: number;
  readonly meanSquare_T2: number;
}

interface Move {
  readonly demand: Demand;
  /** Where the raster would have to give way. */
  readonly path: string;
  readonly settleTime_s: number;
}

function movingProblems(shift: ShiftFieldModel, move: Move): DocumentProblem[] {
  const slewing = slewProblems(shift, move);
  if (shift.coil === undefined) return slewing;
  const perAmpere = Math.abs(fieldPerAmpere_T_per_A(shift.coil, shift.axis));
  const coil = { ...shift.coil, ...coilElectrics(shift.coil), axis: shift.axis, perAmpere };
  // A move that is too fast for the field is told once.
  return [...slewing, ...(slewing.length === 0 ? stepProblems(coil, move) : []), ...supplyProblems(coil, move)];
}

function slewProblems({ axis, slew_T_per_s }: ShiftFieldModel, { demand, settleTime_s }: Move): DocumentProblem[] {
  if (slew_T_per_s === undefined) return [];
  const rate = rateOf(demand, settleTime_s);
  if (rate <= slew_T_per_s * (1 + writtenTwice)) return [];
  const speed = Number.isFinite(rate) ? `${Number(rate.toPrecision(6))} T/s` : "at once";
  return [
    problem(
      "settleTime",
      `${settleTime_s} s for a move of ${millitesla(demand.move_T)} on axis ${axis}: ${speed}`,
      `at least ${seconds(demand.move_T / slew_T_per_s)} at ${slew_T_per_s} T/s`,
    ),
  ];
}

interface ShiftCoil extends CoilElectrics {
  readonly axis: Axis;
  /** Magnitude of the field along the axis, T/A. */
  readonly perAmpere: number;
  readonly supply: SupplyModel;
  readonly cooling_W?: number | undefined;
}

/** Without a settle time the current would have to jump: no finite voltage does that. */
function stepProblems(coil: ShiftCoil, { demand, settleTime_s }: Move): DocumentProblem[] {
  const { axis, supply, perAmpere, resistance_Ohm: r, inductance_H: l } = coil;
  const most_V = supply.maximumVoltage_V;
  if (settleTime_s > 0 || demand.move_T === 0 || l === null || most_V === undefined) return [];
  const left_V = most_V - ((r ?? 0) * demand.largest_T) / perAmpere;
  if (left_V <= 0) return []; // holding the field is refused already
  return [
    problem(
      "settleTime",
      `0 s for a move of ${millitesla(demand.move_T)} on axis ${axis}: a voltage without limit in shift coil ${axis}`,
      `at least ${seconds((l * demand.move_T) / perAmpere / left_V)} within ${quantityText(most_V, "voltage")}`,
    ),
  ];
}

function supplyProblems(coil: ShiftCoil, { demand, path, settleTime_s }: Move): DocumentProblem[] {
  const { axis, supply, cooling_W, perAmpere, resistance_Ohm: r, inductance_H: l } = coil;
  const current_A = demand.largest_T / perAmpere;
  const power_W = r === null ? null : (r * demand.meanSquare_T2) / perAmpere ** 2;
  const rate = rateOf(demand, settleTime_s);
  const ramp_V = Number.isFinite(rate) ? ((l ?? 0) * rate) / perAmpere : 0;
  const voltage_V = r === null && l === null ? null : (r ?? 0) * current_A + ramp_V;
  const at = { path, where: `in shift coil ${axis}` };
  return unmetNeeds([
    { ...at, what: "a current of", kind: "current", needed: current_A, available: supply.maximumCurrent_A },
    { ...at, what: "a voltage of", kind: "voltage", needed: voltage_V, available: supply.maximumVoltage_V },
    { ...at, what: "a mean power of", kind: "power", needed: power_W, available: supply.maximumPower_W },
    { ...at, what: "a mean heat of", kind: "power", needed: power_W, available: cooling_W },
  ]);
}

/** Fastest change, T/s; infinite where a move has no time. */
function rateOf({ move_T }: Demand, settleTime_s: number): number {
  return move_T === 0 ? 0 : move_T / settleTime_s;
}

const seconds = (time_s: number): string => `${Number(time_s.toPrecision(6))} s`;

/** The raster without what the bed moves. */
function movedByFields(raster: Raster): Raster {
  if (raster.bedAxis === undefined) return raster;
  const still: AxisPositions = { from_m: 0, to_m: 0, count: 1 };
  return { ...raster, axes: { ...raster.axes, [raster.bedAxis]: still } };
}

/** A linear function on a box of positions: its extremes are at corners, its mean square from those of each axis. */
function demandOf(row: Vector3, { axes: positions }: Raster): Omit<Demand, "move_T"> {
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
