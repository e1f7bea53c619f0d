import type { Vector3 } from "./source.js";

export const dot = (a: Vector3, b: Vector3): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];

export const length = (a: Vector3): number => Math.hypot(a[0], a[1], a[2]);

export const subtract = (a: Vector3, b: Vector3): Vector3 => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];

export const scale = (a: Vector3, factor: number): Vector3 => [factor * a[0], factor * a[1], factor * a[2]];

/** a + factor·b */
export const along = (a: Vector3, b: Vector3, factor: number): Vector3 => [
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
