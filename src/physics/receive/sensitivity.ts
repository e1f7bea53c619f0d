import { FerruleError } from "../../errors.js";
import { findRoot } from "../../numerics/index.js";
import { requirePositive } from "../particle/ranges.js";
import type { FieldFunction, Vector3 } from "../sources/source.js";

/** Sensitivity of a receive coil along one line. */
export interface SensitivityProfile {
  /** Distance from the centre along the line, m, [n]. */
  readonly position_m: Float64Array;
  /** (B_R/I) along the observed axis, T/A, [n]. */
  readonly sensitivity_T_per_A: Float64Array;
}

/** How much a sensitivity varies over a set of points, against its value at the reference. */
export interface SensitivityHomogeneity {
  readonly reference_T_per_A: number;
  /** Largest minus smallest, over the reference. */
  readonly relativeSpread: number;
  /** Standard deviation about the mean, over the reference. */
  readonly relativeSd: number;
  /** Share of the points whose sensitivity lies within the tolerance of the reference. */
  readonly shareWithin: number;
}

/**
 * Receive sensitivity at points: the field of the coil when it carries 1 A, along the moments looked for.
 *   s(r) = (B_R(r)/I) . axis
 *
 * @param coil  mu0*H of the coil at 1 A, so T/A
 * @param points_m  [n, 3]
 * @param axis  unit vector of the observed moments
 * @returns T/A, [n], sign included
 *
 * Valid for   quasi-static fields: a coil far smaller than the wavelength
 * Source      Hoult & Richards, J. Magn. Reson. 24:71 (1976); from memory. Facts N13
 * Checked by  checks/receive-chain (flux of a dipole through a loop)
 */
export function sensitivityAlong_T_per_A(coil: FieldFunction, points_m: Float64Array, axis: Vector3): Float64Array {
  requireUnit(axis, "axis");
  const field = coil(points_m);
  return Float64Array.from(
    { length: points_m.length / 3 },
    (_, i) => field[3 * i] * axis[0] + field[3 * i + 1] * axis[1] + field[3 * i + 2] * axis[2],
  );
}

/**
 * Flux that a point moment sends through the coil: (B_R/I) . m, Wb. The induced voltage is -d/dt of it, whether the
 * moment turns, grows or moves.
 *
 * Source, validity and check as `sensitivityAlong_T_per_A`.
 */
export function coupledFlux_Wb(coil: FieldFunction, point_m: Vector3, moment_A_m2: Vector3): number {
  const [x, y, z] = coil(Float64Array.from(point_m));
  return x * moment_A_m2[0] + y * moment_A_m2[1] + z * moment_A_m2[2];
}

/** Sensitivity at `count` points from -halfLength to +halfLength about the centre. */
export function sensitivityProfile(
  coil: FieldFunction,
  line: { readonly center_m: Vector3; readonly direction: Vector3; readonly halfLength_m: number },
  { axis = line.direction, count = 101 }: { axis?: Vector3; count?: number } = {},
): SensitivityProfile {
  requireUnit(line.direction, "direction");
  requirePositive(line.halfLength_m, "halfLength_m", "20e-3");
  if (!(Number.isInteger(count) && count >= 2)) throw refused("count", count, "a whole number from 2, e.g. 101");
  const position_m = Float64Array.from(
    { length: count },
    (_, i) => (line.halfLength_m * (2 * i - (count - 1))) / (count - 1),
  );
  const points_m = new Float64Array(3 * count);
  position_m.forEach((s, i) => {
    for (let k = 0; k < 3; k++) points_m[3 * i + k] = line.center_m[k] + s * line.direction[k];
  });
  return { position_m, sensitivity_T_per_A: sensitivityAlong_T_per_A(coil, points_m, axis) };
}

/** Spread of the sensitivity over points of a region, against a reference point (usually the centre). */
export function sensitivityHomogeneity(
  coil: FieldFunction,
  points_m: Float64Array,
  { axis, reference_m, tolerance = 0.1 }: { axis: Vector3; reference_m: Vector3; tolerance?: number },
): SensitivityHomogeneity {
  const n = points_m.length / 3;
  if (!(Number.isInteger(n) && n > 0))
    throw new FerruleError("ShapeMismatch", {
      path: "points_m",
      found: `${points_m.length} numbers`,
      accepted: "three numbers per point, one point or more",
    });
  const reference = referenceSensitivity(coil, reference_m, axis);
  const ratio = sensitivityAlong_T_per_A(coil, points_m, axis).map((value) => value / reference);
  const mean = ratio.reduce((sum, value) => sum + value, 0) / n;
  const variance = ratio.reduce((sum, value) => sum + (value - mean) ** 2, 0) / n;
  const [low, high] = ratio.reduce(([a, b], value) => [Math.min(a, value), Math.max(b, value)], [ratio[0], ratio[0]]);
  return {
    reference_T_per_A: reference,
    relativeSpread: high - low,
    relativeSd: Math.sqrt(variance),
    shareWithin: ratio.filter((value) => Math.abs(value - 1) <= tolerance).length / n,
  };
}

/**
 * Distance from the centre, along a direction, to the first place where the sensitivity has left the tolerance.
 * Looked for in 256 steps, then solved between two of them. `Infinity` when it stays inside up to `limit_m`.
 *
 * Checked by  sensitivity.test.ts (on the axis of a loop: a sqrt(0.9^(-2/3) - 1) = 0.2700 a at 10 %)
 */
export function sensitivityReach_m(
  coil: FieldFunction,
  line: { readonly center_m: Vector3; readonly direction: Vector3 },
  { axis, limit_m, tolerance = 0.1 }: { axis: Vector3; limit_m: number; tolerance?: number },
): number {
  requireUnit(line.direction, "direction");
  requirePositive(limit_m, "limit_m", "50e-3");
  requirePositive(tolerance, "tolerance", "0.1");
  const reference = referenceSensitivity(coil, line.center_m, axis);
  const pointAt = (s: number) => Float64Array.from(line.center_m, (c, k) => c + s * line.direction[k]);
  const excess = (s: number) =>
    Math.abs(sensitivityAlong_T_per_A(coil, pointAt(s), axis)[0] / reference - 1) - tolerance;
  const steps = 256;
  for (let i = 1; i <= steps; i++) {
    const s = (limit_m * i) / steps;
    if (excess(s) >= 0) return findRoot(excess, [(limit_m * (i - 1)) / steps, s], { relative: 1e-12 }).root;
  }
  return Number.POSITIVE_INFINITY;
}

function referenceSensitivity(coil: FieldFunction, reference_m: Vector3, axis: Vector3): number {
  const value = sensitivityAlong_T_per_A(coil, Float64Array.from(reference_m), axis)[0];
  if (Number.isFinite(value) && value !== 0) return value;
  throw refused("reference_m", `a sensitivity of ${value} T/A at (${reference_m.join(", ")}) m`, otherAxis);
}

const otherAxis = "a reference point and axis where the coil is sensitive, e.g. its centre along its own axis";

function requireUnit(vector: Vector3, path: string): void {
  if (!(Math.abs(Math.hypot(...vector) - 1) <= 1e-9))
    throw refused(path, `(${vector.join(", ")})`, "a unit vector, e.g. (0, 0, 1)");
}

function refused(path: string, found: unknown, accepted: string): FerruleError {
  return new FerruleError("InvalidValue", { path, found: String(found), accepted });
}
