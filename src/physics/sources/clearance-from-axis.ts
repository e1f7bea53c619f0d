import { findMinimum } from "../../numerics/index.js";
import type { Axis } from "../field/ideal-gradient.js";
import { axisIndex } from "../field/ideal-gradient.js";
import { sidesOf } from "./segment-field.js";
import type { BlockSource, FieldSource, SegmentSource, Vector3 } from "./source.js";
import { acrossTo, frameAbout, scale, scannerFrame } from "./vector3.js";

type Plane = readonly [number, number];

/**
 * Smallest distance of a source's body from a scanner axis, m; 0 when the axis meets the body. A coil or magnet clears a
 * bore of that radius about the axis.
 *
 * Valid for   every source. Straight bodies in closed form; bodies of revolution by a search over the angle, within 1e-9 of
 *             their size (exact when they stand on the axis).
 * Source      elementary geometry, seen along the axis
 * Checked by  clearance.test.ts (nearest of many points of the body)
 */
export function clearanceFromAxis_m(source: FieldSource, axis: Axis): number {
  const seen = alongAxis(axis);
  switch (source.kind) {
    case "segment":
      return ofSegment(source, seen);
    case "rectangle":
      return Math.min(...sidesOf(source).map((side) => ofSegment(side, seen)));
    case "block":
      return ofBlock(source, seen);
    case "loop":
      return ofTurned({ ...source, innerRadius_m: source.radius_m, outerRadius_m: source.radius_m, length_m: 0 }, seen);
    case "coil-stack":
      return ofTurned(source, seen);
    case "ring-sector":
      return ofTurned({ ...source, normal: source.axis }, seen);
  }
}

type View = (vector: Vector3) => Plane;

/** What is left of a vector when one looks along the axis. */
function alongAxis(axis: Axis): View {
  const k = axisIndex(axis);
  return (vector) => [vector[(k + 1) % 3], vector[(k + 2) % 3]];
}

function ofSegment({ from_m, to_m }: SegmentSource, seen: View): number {
  return toEdge(seen(from_m), seen(to_m));
}

/** Distance of the origin from the edge between two points. */
function toEdge(a: Plane, b: Plane): number {
  const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
  const square = dx * dx + dy * dy;
  const part = square === 0 ? 0 : Math.min(1, Math.max(0, -(a[0] * dx + a[1] * dy) / square));
  return Math.hypot(a[0] + part * dx, a[1] + part * dy);
}

/** Distance of the origin from the parallelogram centre ± u ± v; 0 inside. */
function toParallelogram(centre: Plane, u: Plane, v: Plane): number {
  const area = u[0] * v[1] - u[1] * v[0];
  const p = (centre[0] * v[1] - centre[1] * v[0]) / area;
  const q = (u[0] * centre[1] - u[1] * centre[0]) / area;
  if (Math.abs(p) <= 1 && Math.abs(q) <= 1) return 0;
  const corner = (i: number, j: number): Plane => [centre[0] + i * u[0] + j * v[0], centre[1] + i * u[1] + j * v[1]];
  const [a, b, c, d] = [corner(-1, -1), corner(1, -1), corner(1, 1), corner(-1, 1)];
  return Math.min(toEdge(a, b), toEdge(b, c), toEdge(c, d), toEdge(d, a));
}

/** Seen along the axis a cuboid is the union of its six faces' shadows. */
function ofBlock({ center_m, size_m, edges = scannerFrame }: BlockSource, seen: View): number {
  const half = edges.map((edge, i) => scale(edge, size_m[i] / 2));
  const distances = [0, 1, 2].flatMap((i) =>
    [-1, 1].map((side) => {
      const centre: Vector3 = [0, 1, 2].map((k) => center_m[k] + side * half[i][k]) as [number, number, number];
      return toParallelogram(seen(centre), seen(half[(i + 1) % 3]), seen(half[(i + 2) % 3]));
    }),
  );
  return Math.min(...distances);
}

interface TurnedBody {
  readonly center_m: Vector3;
  readonly normal: Vector3;
  readonly reference?: Vector3;
  readonly innerRadius_m: number;
  readonly outerRadius_m: number;
  readonly length_m: number;
  readonly fromAngle_rad?: number;
  readonly toAngle_rad?: number;
}

/** A half-plane through the body's own axis cuts it in a rectangle, whose shadow is a parallelogram; least over the angle. */
function ofTurned(body: TurnedBody, seen: View): number {
  const { fromAngle_rad = 0, toAngle_rad = 2 * Math.PI, normal } = body;
  const [u, v] = frameAbout(normal, body.reference ?? acrossTo(normal));
  const mean = (body.innerRadius_m + body.outerRadius_m) / 2;
  const half = (body.outerRadius_m - body.innerRadius_m) / 2;
  const centre = seen(body.center_m);
  const up = seen(scale(normal, body.length_m / 2));
  // About the axis itself every half-plane casts the same shadow.
  if (Math.hypot(...centre) === 0 && Math.hypot(...seen(normal)) === 0) return body.innerRadius_m;
  const shadow = (angle: number) => {
    const out = [0, 1, 2].map((k) => Math.cos(angle) * u[k] + Math.sin(angle) * v[k]) as [number, number, number];
    const [x, y] = seen(out);
    return toParallelogram([centre[0] + mean * x, centre[1] + mean * y], [half * x, half * y], up);
  };
  const count = 180;
  const step = (toAngle_rad - fromAngle_rad) / count;
  const angles = Array.from({ length: count + 1 }, (_, i) => fromAngle_rad + i * step);
  const values = angles.map(shadow);
  const least = Math.min(...values);
  // Every sampled valley is searched: two may be nearly equally deep.
  const valleys = angles.filter(
    (_, i) => values[i] <= (values[i - 1] ?? values[i]) && values[i] <= (values[i + 1] ?? values[i]),
  );
  return valleys.reduce((best, angle) => {
    const bounds = [Math.max(fromAngle_rad, angle - step), Math.min(toAngle_rad, angle + step)] as const;
    return Math.min(best, findMinimum(shadow, bounds).value);
  }, least);
}
