import { type DipoleCloud, ruleAlong } from "./dipole-cloud.js";
import { visitNodes } from "./graded-nodes.js";
import type { RingSectorSource, Vector3 } from "./source.js";
import { type Frame, frameAbout, intoFrame, moved } from "./vector3.js";

/** A ring sector in its own frame: z along the axis, angle 0 along x. */
export interface RingSectorShape {
  readonly frame: Frame;
  readonly inner_m: number;
  readonly outer_m: number;
  readonly halfLength_m: number;
  readonly from_rad: number;
  readonly to_rad: number;
  /** No radial side planes. */
  readonly isFullTurn: boolean;
  /** mu0·M in the frame, T. */
  readonly remanence_T: Vector3;
}

export function shapeOf(source: RingSectorSource): RingSectorShape {
  const frame = frameAbout(source.axis, source.reference);
  return {
    frame,
    inner_m: source.innerRadius_m,
    outer_m: source.outerRadius_m,
    halfLength_m: source.length_m / 2,
    from_rad: source.fromAngle_rad,
    to_rad: source.toAngle_rad,
    isFullTurn: isFullTurn(source),
    remanence_T: intoFrame(source.remanence_T, frame),
  };
}

export function isFullTurn({ fromAngle_rad, toAngle_rad }: RingSectorSource): boolean {
  return toAngle_rad - fromAngle_rad > 2 * Math.PI * (1 - 1e-12);
}

/**
 * Gauss nodes along an arc as seen from azimuth 0: cut at every half turn, so that a piece has one nearest pole, an end.
 * @param interval  angles of the arc less the observer's
 * @param off  imaginary part of the pole, |ln(ρ/r)| for a circle of radius r; 1 at most, for the cosine itself bends
 * @param visit  angle (less whole turns) and weight
 */
export function visitArc(
  [from, to]: readonly [number, number],
  off: number,
  visit: (angle: number, weight: number) => void,
): void {
  for (let half = Math.floor(from / Math.PI); half * Math.PI < to; half++) {
    const turns = 2 * Math.PI * Math.ceil(half / 2);
    const piece = [Math.max(from, half * Math.PI) - turns, Math.min(to, (half + 1) * Math.PI) - turns] as const;
    visitNodes(piece, { at: 0, off: Math.min(1, off) }, visit);
  }
}

/** The ball about the middle of the sector, and its Gauss points. */
export function farSector(source: RingSectorSource) {
  const { frame, inner_m, outer_m, halfLength_m, from_rad, to_rad } = shapeOf(source);
  const reach = (to_rad - from_rad) / 2;
  const middle = (from_rad + to_rad) / 2;
  const inFrame = (r: number, angle: number, z: number): Vector3 =>
    moved(moved(moved(source.center_m, frame[0], r * Math.cos(angle)), frame[1], r * Math.sin(angle)), frame[2], z);
  // Up to half a turn the ball sits at the mean radius, beyond it on the axis.
  const offAxis = reach <= Math.PI / 2 ? ((inner_m + outer_m) / 2) * Math.cos(reach / 2) : 0;
  const bound_m = Math.max(
    ...[inner_m, outer_m].flatMap((r) =>
      (offAxis > 0 ? [0, reach] : [0]).map((angle) =>
        Math.hypot(r * Math.cos(angle) - offAxis, r * Math.sin(angle), halfLength_m),
      ),
    ),
  );
  const pieces = Math.ceil((to_rad - from_rad) / (Math.PI / 4) - 1e-9);
  const half = { r: (outer_m - inner_m) / 2, angle: reach / pieces };
  const cloudFor = (ratio: number): DipoleCloud => {
    const radial = ruleAlong(half.r, bound_m, ratio);
    const axial = ruleAlong(halfLength_m, bound_m, ratio);
    // The cosine of the position bends the integrand: 8 nodes on an eighth of a turn are exact to rounding.
    const round = ruleAlong(1, 6, 2);
    const points: number[] = [];
    const volumes: number[] = [];
    for (let piece = 0; piece < pieces; piece++)
      for (const [j, v] of round.nodes.entries())
        for (const [i, u] of radial.nodes.entries())
          for (const [k, w] of axial.nodes.entries()) {
            const r = (inner_m + outer_m) / 2 + half.r * u;
            const angle = from_rad + half.angle * (2 * piece + 1 + v);
            points.push(...inFrame(r, angle, halfLength_m * w));
            volumes.push(
              r * half.r * half.angle * halfLength_m * radial.weights[i] * round.weights[j] * axial.weights[k],
            );
          }
    return { points_m: Float64Array.from(points), volumes_m3: Float64Array.from(volumes) };
  };
  return { center_m: inFrame(offAxis, middle, 0), bound_m, cloudFor };
}
