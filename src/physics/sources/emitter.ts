import type { Vector3 } from "./source.js";
import type { Frame } from "./vector3.js";

/**
 * A source made ready: adds its field (T) or its vector potential (T m) at one point to `sum`, [3].
 * Whatever does not depend on the point is worked out before.
 */
export type Emitter = (x_m: number, y_m: number, z_m: number, sum: Float64Array) => void;

/** The same for many points: adds to `sum` [n, 3] at `points_m` [n, 3]. */
export type PointsAdder = (points_m: ArrayLike<number>, sum: Float64Array) => void;

/** Calls an emitter at each point. */
export function adderOf(emit: Emitter): PointsAdder {
  const one = new Float64Array(3);
  return (points_m, sum) => {
    for (let at = 0; at < points_m.length; at += 3) {
      one.fill(0);
      emit(points_m[at], points_m[at + 1], points_m[at + 2], one);
      for (let i = 0; i < 3; i++) sum[at + i] += one[i];
    }
  };
}

/** A body seen from its own frame: writes three local components for a local point. */
export type LocalField = (x_m: number, y_m: number, z_m: number, out: Float64Array) => void;

/** Carries a local field into scanner axes. */
export function emitterInFrame(center_m: Vector3, [u, v, w]: Frame, local: LocalField): Emitter {
  const [cx, cy, cz] = center_m;
  const out = new Float64Array(3);
  return (x, y, z, sum) => {
    const dx = x - cx;
    const dy = y - cy;
    const dz = z - cz;
    local(dx * u[0] + dy * u[1] + dz * u[2], dx * v[0] + dy * v[1] + dz * v[2], dx * w[0] + dy * w[1] + dz * w[2], out);
    for (let i = 0; i < 3; i++) sum[i] += out[0] * u[i] + out[1] * v[i] + out[2] * w[i];
  };
}
