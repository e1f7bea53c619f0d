import type { Emitter } from "./emitter.js";
import { ruleFor } from "./graded-nodes.js";
import type { Vector3 } from "./source.js";

/** Volume elements of a uniformly magnetised body: points [n, 3] in scanner axes and their volumes [n]. */
export interface DipoleCloud {
  readonly points_m: Float64Array;
  readonly volumes_m3: Float64Array;
}

/** Ball that holds a body, and the body as Gauss points fit for distances above `ratio` radii of the ball. */
export interface FarBody {
  readonly center_m: Vector3;
  readonly bound_m: number;
  readonly cloudFor: (ratio: number) => DipoleCloud;
}

/** mu0·M of the body, and what a dipole adds: `dipoleField` or `dipolePotential`. */
export interface DipoleMoments {
  readonly remanence_T: Vector3;
  readonly add: (moment: Float64Array, from: Vector3, sum: Float64Array) => void;
}

/** Distances, in radii of the ball that holds the body, from which fewer and fewer Gauss points will do. */
const ratios = [8, 32, 150] as const;

/**
 * A magnet seen from far away as Gauss points of dipoles, from nearby by its closed form. The closed forms subtract
 * opposite faces and lose 1e-16·(distance/size)³ of the field; a Gauss rule in the volume loses nothing and needs the fewer
 * points the farther the observer is.
 *   B = Σ J·V/(4π)·[3(m·R)R/R⁵ − m/R³],   A = Σ J·V/(4π)·(m x R)/R³,   J = mu0·M
 *
 * Source      dipole field, elementary; count of points by `ruleFor`
 * Checked by  checks/coil-fields (40-digit surface quadrature at up to 1e4 sizes), block-field.test.ts (no step at the seam)
 */
export function nearAndFar(near: Emitter, body: FarBody, moments: DipoleMoments): Emitter {
  const { center_m, bound_m, cloudFor } = body;
  const [cx, cy, cz] = center_m;
  const levels = ratios.map((ratio) => ({ ratio, emit: cloudEmitter(cloudFor(ratio), moments) }));
  return (x, y, z, sum) => {
    const ratio = Math.hypot(x - cx, y - cy, z - cz) / bound_m;
    const level = levels.findLast((candidate) => ratio > candidate.ratio);
    (level?.emit ?? near)(x, y, z, sum);
  };
}

function cloudEmitter({ points_m, volumes_m3 }: DipoleCloud, { remanence_T, add }: DipoleMoments): Emitter {
  const [jx, jy, jz] = remanence_T;
  const moments = volumes_m3.map((volume) => volume / (4 * Math.PI));
  const moment = new Float64Array(3);
  return (x, y, z, sum) => {
    for (let i = 0; i < moments.length; i++) {
      moment[0] = moments[i] * jx;
      moment[1] = moments[i] * jy;
      moment[2] = moments[i] * jz;
      add(moment, [x - points_m[3 * i], y - points_m[3 * i + 1], z - points_m[3 * i + 2]], sum);
    }
  };
}

/** Adds the field of one dipole; `moment` is mu0·m/(4π), T m³. */
export function dipoleField(moment: Float64Array, [x, y, z]: Vector3, sum: Float64Array): void {
  const r2 = x * x + y * y + z * z;
  const inverse = 1 / (r2 * Math.sqrt(r2));
  const radial = (3 * (moment[0] * x + moment[1] * y + moment[2] * z)) / r2;
  sum[0] += (radial * x - moment[0]) * inverse;
  sum[1] += (radial * y - moment[1]) * inverse;
  sum[2] += (radial * z - moment[2]) * inverse;
}

/** Adds the vector potential of one dipole; `moment` is mu0·m/(4π), T m³. */
export function dipolePotential(moment: Float64Array, [x, y, z]: Vector3, sum: Float64Array): void {
  const r2 = x * x + y * y + z * z;
  const inverse = 1 / (r2 * Math.sqrt(r2));
  sum[0] += (moment[1] * z - moment[2] * y) * inverse;
  sum[1] += (moment[2] * x - moment[0] * z) * inverse;
  sum[2] += (moment[0] * y - moment[1] * x) * inverse;
}

/** Gauss rule along one extent of the body for observers more than `ratio` bounds away from its middle. */
export function ruleAlong(half_m: number, bound_m: number, ratio: number) {
  const rule = ruleFor(((ratio - 1) * bound_m) / half_m);
  if (rule === undefined) throw new RangeError("an extent wider than the ball that holds the body");
  return rule;
}
