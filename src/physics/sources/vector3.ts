import type { Vector3 } from "./source.js";

export const dot = (a: ArrayLike<number>, b: ArrayLike<number>): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];

export const length = (a: ArrayLike<number>): number => Math.hypot(a[0], a[1], a[2]);

export const subtract = (a: Vector3, b: Vector3): Vector3 => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];

export const scale = (a: Vector3, factor: number): Vector3 => [factor * a[0], factor * a[1], factor * a[2]];

export const distance = (a: ArrayLike<number>, b: ArrayLike<number>): number =>
  Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);

/** a + factor·b */
export const moved = (a: ArrayLike<number>, b: ArrayLike<number>, factor = 1): Vector3 => [
  a[0] + factor * b[0],
  a[1] + factor * b[1],
  a[2] + factor * b[2],
];

export const cross = (a: Vector3, b: Vector3): Vector3 => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];

/** Three unit vectors, right-handed. */
export type Frame = readonly [Vector3, Vector3, Vector3];

export const scannerFrame: Frame = [
  [1, 0, 0],
  [0, 1, 0],
  [0, 0, 1],
];

/** Components of `a` along the frame's vectors. */
export const intoFrame = (a: Vector3, [u, v, w]: Frame): Vector3 => [dot(a, u), dot(a, v), dot(a, w)];

/** The frame (reference, axis x reference, axis) of a body that turns about `axis`. */
export const frameAbout = (axis: Vector3, reference: Vector3): Frame => [reference, cross(axis, reference), axis];

/** A unit vector across a given one: from the scanner axis that lies farthest from it. */
export function acrossTo(normal: Vector3): Vector3 {
  const least = normal.reduce((at, part, i) => (Math.abs(part) < Math.abs(normal[at]) ? i : at), 0);
  const across = cross(normal, scannerFrame[least]);
  return scale(across, 1 / length(across));
}
