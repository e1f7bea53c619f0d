import type { ScannerModel, TracerModel } from "../../documents/index.js";
import {
  axes,
  axisIndex,
  chainWidth_T,
  coresFromNodes,
  ensembleNodes,
  equilibriumWidth_T,
  initialSlope_per_T,
  spinodal,
  staticTransverseWidth_T,
  staticWidthAlong_m,
} from "../../physics/index.js";
import { ensembleOf } from "../thread/tracer-physics.js";

/** What a tracer's static curve promises on a scanner: a lower bound of width, and the signal without relaxation. */
export interface StaticPrediction {
  readonly driveAxis: "x" | "y" | "z";
  /** FWHM of dM/dH, in mu0H; null for chains above the threshold coupling, whose static curve jumps. */
  readonly staticWidth_T: number | null;
  /** FWHM of M/H, in mu0H; null for coupled chains and fixed axes, whose response across the field is not modelled. */
  readonly staticTransverseWidth_T: number | null;
  /** Along x, y, z; null along a field-free line, and across the drive for coupled chains and fixed axes */
  readonly staticWidth_m: readonly (number | null)[];
  /** Coercive field of chains above the threshold coupling, in mu0H: mean field, an upper estimate. */
  readonly thresholdField_T: number | null;
  readonly momentPerIron_A_m2_per_kg: number;
  /** Peak voltage of one kilogram of Fe at the field-free point, at the scanner's largest drive, V/kg (low-field slope) */
  readonly peakVoltage_V_per_kg: number | null;
}

/**
 * Static widths of a tracer in a scanner's gradient, and its peak signal.
 *   u/m_Fe = (B_R/I) · M_Fe · dm/dB(0) · A · 2πf
 * Coupled chains: width along the field by their mean field; nothing across.
 *
 * Source      widths: facts M12, M17, M18, C7 and trap 2; signal: N13, N14 (from memory, derived)
 */
export function predictStatic(
  tracer: TracerModel,
  scanner: ScannerModel,
  driveAxis: "x" | "y" | "z",
): StaticPrediction {
  const ensemble = ensembleOf(tracer);
  const kappa = tracer.coupling ?? 0;
  const tensor = Float64Array.from(scanner.selectionField.gradient_T_per_m.flat());
  const drive = scanner.driveAxes.find(({ axis }) => axis === driveAxis);
  const receive = scanner.receive.find(({ axis }) => axis === driveAxis);
  const momentPerIron = tracer.core.momentPerIron_A_m2_per_kg;
  const alongField = staticFieldWidth_T(tracer);
  // Axes that cannot turn: the tensor of free axes is not theirs.
  const isFixed = tracer.relaxation.kind === "neel";
  const slope = kappa < 3 && !isFixed ? (initialSlope_per_T(ensemble) * 3) / (3 - kappa) : undefined;
  const alongAxis = (axis: "x" | "y" | "z"): number | null => {
    const gradient = gradientAlong(tensor, axisIndex(axis));
    if (gradient === 0) return null;
    if (kappa > 0 || isFixed) return axis === driveAxis && alongField !== null ? alongField / gradient : null;
    return staticWidthAlong_m(ensemble, tensor, { drive: unit(driveAxis), along: unit(axis) });
  };
  return {
    driveAxis,
    staticWidth_T: alongField,
    staticTransverseWidth_T: kappa > 0 || isFixed ? null : staticTransverseWidth_T(ensemble),
    staticWidth_m: axes.map(alongAxis),
    thresholdField_T: thresholdField_T(tracer),
    momentPerIron_A_m2_per_kg: momentPerIron,
    peakVoltage_V_per_kg:
      slope === undefined || drive === undefined || receive === undefined
        ? null
        : receive.sensitivity_T_per_A *
          momentPerIron *
          slope *
          drive.maximumAmplitude_T *
          2 *
          Math.PI *
          drive.frequency_Hz,
  };
}

/** FWHM of dM/dH of a tracer, chains by their mean field; null where the curve jumps. */
export function staticFieldWidth_T(tracer: TracerModel): number | null {
  const kappa = tracer.coupling ?? 0;
  if (kappa === 0) return equilibriumWidth_T({ ensemble: ensembleOf(tracer), relaxation: tracer.relaxation });
  return kappa < 3 ? chainWidth_T(ensembleNodes(ensembleOf(tracer), 3), { kappa }) : null;
}

/** Coercive field of coupled chains, mu0H; null where they have none. */
export function thresholdField_T(tracer: TracerModel): number | null {
  const { cores, meanXiPerTesla } = coresFromNodes(ensembleNodes(ensembleOf(tracer), 3));
  const end = spinodal(tracer.coupling ?? 0, { cores });
  return end === undefined ? null : end.coerciveXi / meanXiPerTesla;
}

/** |G n| for a unit vector along an axis: the length of that column of the tensor. */
export function gradientAlong(tensor: Float64Array, axis: number): number {
  return Math.hypot(tensor[axis], tensor[3 + axis], tensor[6 + axis]);
}

function unit(axis: "x" | "y" | "z"): [number, number, number] {
  return [axis === "x" ? 1 : 0, axis === "y" ? 1 : 0, axis === "z" ? 1 : 0];
}
