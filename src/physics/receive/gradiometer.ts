import type { FieldFunction, Vector3 } from "../sources/source.js";
import { coupledFlux_Wb } from "./sensitivity.js";
import { areaTurns_m2, fluxLinkage_Wb, gradientFlux_Wb, type ReceiveWindings } from "./winding-flux.js";

/** What a coil of opposed windings takes from near and from far. */
export interface GradiometerResponse {
  /** |net area-turns| over the sum of |area-turns|: 1 for a single winding, 0 for a balanced pair. */
  readonly uniformShare: number;
  /** Flux per tesla of a uniform field, m2: the net area-turns. */
  readonly areaTurns_m2: Vector3;
  /** Flux of the given linear field, Wb. */
  readonly gradientFlux_Wb: number;
  /** Flux of the given moment at the given point, Wb. */
  readonly nearFlux_Wb: number;
  /**
   * The moment at that point, along its axis, that looks like 1 T of uniform field (the largest over directions).
   * Infinity where the coil does not see the moment, not a number where it sees neither.
   */
  readonly momentOfUniform_A_m2_per_T: number;
}

/**
 * Response of a gradiometer to a point moment near it against far fields, uniform and linear.
 *
 * @param windings  signed turns (see `ReceiveWindings`)
 * @param coil  field of those windings at 1 A, T/A
 * @param options.point_m, options.axis  where the moment sits and its unit direction
 * @param options.gradient_T_per_m  [9] the far linear field about the origin; default: G_zz = 1 T/m, traceless
 *
 * Valid for   thin windings, quasi-static
 * Source      reciprocity; derived. Checked by gradiometer.test.ts
 */
export function gradiometerResponse(
  windings: ReceiveWindings,
  coil: FieldFunction,
  {
    point_m,
    axis,
    gradient_T_per_m = Float64Array.of(-0.5, 0, 0, 0, -0.5, 0, 0, 0, 1),
  }: { point_m: Vector3; axis: Vector3; gradient_T_per_m?: Float64Array },
): GradiometerResponse {
  const net = areaTurns_m2(windings);
  const nearFlux_Wb = coupledFlux_Wb(coil, point_m, axis);
  return {
    uniformShare: Math.hypot(...net) / grossAreaTurns_m2(windings),
    areaTurns_m2: net,
    gradientFlux_Wb: gradientFlux_Wb(windings, gradient_T_per_m),
    nearFlux_Wb,
    momentOfUniform_A_m2_per_T: Math.hypot(...net) / Math.abs(nearFlux_Wb),
  };
}

/** Mutual inductance of a drive coil and a receive coil, and what the opposed windings leave of it. */
export interface DriveCoupling {
  /** H, sign included. */
  readonly mutualInductance_H: number;
  /** |sum of M_i| over the larger of the parts that add and the parts that oppose: the imbalance share. */
  readonly imbalance: number;
  /** 20 log10 of it; -Infinity for a perfect balance. */
  readonly suppression_dB: number;
}

/**
 * Coupling of a drive coil to a receive coil, winding by winding, and the suppression that the balance gives.
 * A geometry on paper is always better balanced than a coil: a measured imbalance takes precedence.
 *
 * @param drive  field of the drive coil at 1 A, T/A
 * Source      definition. Checked by gradiometer.test.ts
 */
export function driveCoupling(
  windings: ReceiveWindings,
  drive: FieldFunction,
  { nodes }: { nodes?: number } = {},
): DriveCoupling {
  const parts = windings.map((winding) => fluxLinkage_Wb([winding], drive, { nodes }));
  const sum = parts.reduce((total, part) => total + part, 0);
  const adding = parts.reduce((total, part) => total + Math.max(part, 0), 0);
  const side = Math.max(adding, adding - sum);
  const imbalance = side === 0 ? 0 : Math.abs(sum) / side;
  return { mutualInductance_H: sum, imbalance, suppression_dB: 20 * Math.log10(imbalance) };
}

/** Sum of |area-turns| of windings; a path of segments counts once, as a whole. */
function grossAreaTurns_m2(windings: ReceiveWindings): number {
  const segments = windings.filter(({ kind }) => kind === "segment");
  const groups = windings.filter(({ kind }) => kind !== "segment").map((winding) => [winding]);
  if (segments.length > 0) groups.push(segments);
  return groups.reduce((sum, group) => sum + Math.hypot(...areaTurns_m2(group)), 0);
}
