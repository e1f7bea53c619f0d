import { FerruleError } from "../../errors.js";

/** What an array holds: its shape (row-major, last axis fastest) and the unit of its values. */
export interface Space {
  readonly shape: readonly number[];
  readonly unit: string;
}

/**
 * A linear map between two spaces and its adjoint under the plain dot product.
 * `out` must not share memory with the input; without it a new array is returned. Neither changes its input.
 * Every operator meets `operatorBattery` (battery.ts).
 */
export interface LinearOperator {
  readonly name: string;
  readonly domain: Space;
  readonly range: Space;
  forward(x: Float64Array, out?: Float64Array): Float64Array;
  adjoint(y: Float64Array, out?: Float64Array): Float64Array;
}

export function sizeOf({ shape }: Space): number {
  return shape.reduce((product, extent) => product * extent, 1);
}

export function describeSpace({ shape, unit }: Space): string {
  return `[${shape.join(", ")}] in ${unit === "" ? "1" : unit}`;
}

/** Refuses an array that does not fill the space; returns it. */
export function requireFits(array: Float64Array, space: Space, path: string): Float64Array {
  if (array.length === sizeOf(space)) return array;
  throw new FerruleError("ShapeMismatch", {
    path,
    found: `${array.length} values`,
    accepted: `${sizeOf(space)} values for shape ${describeSpace(space)}`,
  });
}

/** Refuses two spaces that differ in shape or unit. */
export function requireSameSpace(found: Space, expected: Space, path: string): void {
  const sameShape =
    found.shape.length === expected.shape.length && found.shape.every((extent, i) => extent === expected.shape[i]);
  if (sameShape && found.unit === expected.unit) return;
  throw new FerruleError(sameShape ? "UnitMismatch" : "ShapeMismatch", {
    path,
    found: describeSpace(found),
    accepted: describeSpace(expected),
  });
}
