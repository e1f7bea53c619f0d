import { FerruleError } from "../../errors.js";
import type { Vector3 } from "../sources/source.js";
import { type Axis, axisIndex } from "./ideal-gradient.js";

/** The free cylinder of a scanner. */
export interface BoreCylinder {
  readonly radius_m: number;
  readonly halfLength_m: number;
  /** Default "z". */
  readonly axis?: Axis;
  /** Default the origin. */
  readonly center_m?: Vector3;
}

export interface BorePlace {
  /** Distance from the axis. */
  readonly radial_m: number;
  /** Signed distance from the middle, along the axis. */
  readonly along_m: number;
}

/** Scanner axes of the bore's frame: two across, one along, right-handed. */
export function boreFrame({ axis = "z" }: BoreCylinder): readonly [number, number, number] {
  const along = axisIndex(axis);
  return [(along + 1) % 3, (along + 2) % 3, along];
}

/** Point at (u, v) across and w along the bore. */
export function borePoint(bore: BoreCylinder, [u, v, w]: Vector3): Vector3 {
  const [iu, iv, iw] = boreFrame(bore);
  const point: [number, number, number] = [...(bore.center_m ?? [0, 0, 0])];
  point[iu] += u;
  point[iv] += v;
  point[iw] += w;
  return point;
}

export function placeInBore(bore: BoreCylinder, point_m: ArrayLike<number>): BorePlace {
  const [u, v, w] = inBoreFrame(bore, point_m);
  return { radial_m: Math.hypot(u, v), along_m: w };
}

/** Inside, or within `scale` times the cylinder; the last 1e-12 of a radius counts as inside. */
export function isInBore(bore: BoreCylinder, point_m: ArrayLike<number>, scale = 1): boolean {
  const { radial_m, along_m } = placeInBore(bore, point_m);
  const slack_m = 1e-12 * bore.radius_m;
  return radial_m <= scale * bore.radius_m + slack_m && Math.abs(along_m) <= scale * bore.halfLength_m + slack_m;
}

/** The point itself, or the nearest one of the cylinder. */
export function intoBore(bore: BoreCylinder, point_m: ArrayLike<number>): Vector3 {
  const [u, v, w] = inBoreFrame(bore, point_m);
  const shrink = Math.min(1, bore.radius_m / Math.hypot(u, v));
  const along = Math.max(-bore.halfLength_m, Math.min(bore.halfLength_m, w));
  return borePoint(bore, [u * shrink, v * shrink, along]);
}

/** How far a ray from a point inside runs within the cylinder; `direction` is a unit vector. */
export function reachInBore(bore: BoreCylinder, from_m: ArrayLike<number>, direction: ArrayLike<number>): number {
  const [iu, iv, iw] = boreFrame(bore);
  const [u, v, w] = inBoreFrame(bore, from_m);
  const [a, b, c] = [direction[iu], direction[iv], direction[iw]];
  const across = a * a + b * b;
  const half = u * a + v * b;
  const short = u * u + v * v - bore.radius_m ** 2;
  const wall = across > 0 ? (-half + Math.sqrt(Math.max(0, half * half - across * short))) / across : Infinity;
  const end = c === 0 ? Infinity : (Math.sign(c) * bore.halfLength_m - w) / c;
  return Math.max(0, Math.min(wall, end));
}

export function requireBore({ radius_m, halfLength_m }: BoreCylinder): void {
  if (radius_m > 0 && halfLength_m > 0 && Number.isFinite(radius_m * halfLength_m)) return;
  throw new FerruleError("InvalidValue", {
    path: "within",
    found: `a bore of radius ${radius_m} m and half length ${halfLength_m} m`,
    accepted: "two positive lengths, e.g. radius_m 0.03 and halfLength_m 0.05",
  });
}

function inBoreFrame(bore: BoreCylinder, point_m: ArrayLike<number>): Vector3 {
  const [iu, iv, iw] = boreFrame(bore);
  const center = bore.center_m ?? [0, 0, 0];
  return [point_m[iu] - center[iu], point_m[iv] - center[iv], point_m[iw] - center[iw]];
}
