import { inverseDistance } from "./line-integrals.js";

/** A flat rectangle |u| <= halfU_m, |v| <= halfV_m in the plane w = 0 of its own frame. */
export interface Rectangle {
  readonly halfU_m: number;
  readonly halfV_m: number;
}

/** Observer in the rectangle's frame. */
export interface RectanglePoint {
  readonly u_m: number;
  readonly v_m: number;
  readonly w_m: number;
}

/**
 * ∫∫ R dA/R³ over a rectangle, R from the element to the point: the field of a unit charge sheet times 4π.
 *
 * @param out  [3] along u, v, w; dimensionless. The third is the solid angle, positive for w >= 0: on the plane itself the
 *             value of the upper side (2π inside the rectangle, 0 outside)
 *
 * Valid for   everywhere but on the four edges (infinite); regular on the plane and on the lines that extend the edges.
 *             Far away the terms cancel: the error grows as 1e-16·(distance/size)².
 * Source      elementary; solid angle as four right-angled corners
 * Checked by  checks/coil-fields, ring-sector-field.test.ts
 */
export function rectangleVector(
  { halfU_m: a, halfV_m: b }: Rectangle,
  { u_m: u, v_m: v, w_m: w }: RectanglePoint,
  out: Float64Array,
): void {
  const w2 = w * w;
  out[0] = inverseDistance((u - a) ** 2 + w2, v + b, b - v) - inverseDistance((u + a) ** 2 + w2, v + b, b - v);
  out[1] = inverseDistance((v - b) ** 2 + w2, u + a, a - u) - inverseDistance((v + b) ** 2 + w2, u + a, a - u);
  out[2] = solidAngle(a, b, [u, v, w]);
}

/** Solid angle of the rectangle |u| <= a, |v| <= b; sign of w, with w = 0 taken as the upper side. */
export function solidAngle(a: number, b: number, [u, v, w]: readonly [number, number, number]): number {
  const height = Math.abs(w);
  const corner = (x: number, y: number) => Math.atan2(x * y, height * Math.sqrt(x * x + y * y + w * w));
  const angle = corner(u + a, v + b) - corner(u + a, v - b) - corner(u - a, v + b) + corner(u - a, v - b);
  return w < 0 ? -angle : angle;
}

/**
 * ∫∫ dA/R over a rectangle, m.
 *   (a − u)·∫ds/R on the edge u = a, and so on round the four edges, less w·(solid angle)
 * Valid for   everywhere (on an edge the product d·ln d is 0); the error grows as 1e-16·(distance/size)² far away.
 */
export function rectanglePotential(
  { halfU_m: a, halfV_m: b }: Rectangle,
  { u_m: u, v_m: v, w_m: w }: RectanglePoint,
): number {
  const edge = (distance: number, s1: number, s2: number) =>
    distance === 0 ? 0 : distance * inverseDistance(distance * distance + w * w, s1, s2);
  const edges =
    edge(a - u, v + b, b - v) + edge(a + u, v + b, b - v) + edge(b - v, u + a, a - u) + edge(b + v, u + a, a - u);
  return w === 0 ? edges : edges - w * solidAngle(a, b, [u, v, w]);
}
