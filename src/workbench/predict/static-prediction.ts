import { parseDocument, type ScannerModel, type TracerModel } from "../../documents/index.js";
import {
  axes,
  axisIndex,
  initialSlope_per_T,
  staticTransverseWidth_T,
  staticWidth_T,
  staticWidthAlong_m,
} from "../../physics/index.js";
import { readTextInput } from "../store/read-input.js";
import { ensembleOf } from "../thread/tracer-physics.js";

/** What a tracer's static curve promises on a scanner: a lower bound of width, and the signal without relaxation. */
export interface TracerPrediction {
  readonly tracer: string;
  readonly scanner: string;
  readonly driveAxis: "x" | "y" | "z";
  /** FWHM of dM/dH and of M/H, in mu0H */
  readonly staticWidth_T: number;
  readonly staticTransverseWidth_T: number;
  /** Along x, y, z; null along a field-free line */
  readonly staticWidth_m: readonly (number | null)[];
  readonly momentPerIron_A_m2_per_kg: number;
  /** Peak voltage of one kilogram of Fe at the field-free point, at the scanner's largest drive, V/kg (low-field slope) */
  readonly peakVoltage_V_per_kg: number;
  readonly advisories: readonly string[];
}

export interface PredictRequest {
  readonly tracerFile: string;
  readonly scannerFile: string;
}

export function predictFromFiles({ tracerFile, scannerFile }: PredictRequest): TracerPrediction[] {
  const tracer = parseDocument(readTextInput(tracerFile), { file: tracerFile, family: "tracer" }).model;
  const scanner = parseDocument(readTextInput(scannerFile), { file: scannerFile, family: "scanner" }).model;
  return scanner.driveAxes.map(({ axis }) => predictTracer(tracer, scanner, axis));
}

/**
 * Static widths of a tracer in a scanner's gradient, and its peak signal.
 *   u/m_Fe = (B_R/I) · M_Fe · dm/dB(0) · A · 2πf
 *
 * Source      widths: facts M12, M17, M18 and trap 2; signal: N13, N14 (from memory, derived)
 */
export function predictTracer(
  tracer: TracerModel,
  scanner: ScannerModel,
  driveAxis: "x" | "y" | "z",
): TracerPrediction {
  const ensemble = ensembleOf(tracer);
  const tensor = Float64Array.from(scanner.selectionField.gradient_T_per_m.flat());
  const drive = scanner.driveAxes.find(({ axis }) => axis === driveAxis);
  const receive = scanner.receive.find(({ axis }) => axis === driveAxis);
  const rate = drive === undefined ? Number.NaN : drive.maximumAmplitude_T * 2 * Math.PI * drive.frequency_Hz;
  const slope = tracer.core.momentPerIron_A_m2_per_kg * initialSlope_per_T(ensemble);
  const row = (axis: number) => tensor.subarray(3 * axis, 3 * axis + 3).every((value) => value === 0);
  return {
    tracer: tracer.name,
    scanner: scanner.name,
    driveAxis,
    staticWidth_T: staticWidth_T(ensemble),
    staticTransverseWidth_T: staticTransverseWidth_T(ensemble),
    staticWidth_m: axes.map((along) =>
      row(axisIndex(along))
        ? null
        : staticWidthAlong_m(ensemble, tensor, { drive: unit(driveAxis), along: unit(along) }),
    ),
    momentPerIron_A_m2_per_kg: tracer.core.momentPerIron_A_m2_per_kg,
    peakVoltage_V_per_kg: (receive?.sensitivity_T_per_A ?? Number.NaN) * slope * rate,
    advisories: [
      ...tracer.advisories,
      ...scanner.advisories,
      "static width: a lower bound from the equilibrium curve; relaxation and filters widen it",
    ],
  };
}

function unit(axis: "x" | "y" | "z"): [number, number, number] {
  return [axis === "x" ? 1 : 0, axis === "y" ? 1 : 0, axis === "z" ? 1 : 0];
}
