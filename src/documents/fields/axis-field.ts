import { z } from "zod";

/** The world axes of the scanner: right-handed, fixed to the selection field. */
export const axes = ["x", "y", "z"] as const;
export type Axis = (typeof axes)[number];

/** 0, 1, 2: where an axis stands in vectors and tensors. */
export function axisIndex(axis: Axis): 0 | 1 | 2 {
  return axis === "x" ? 0 : axis === "y" ? 1 : 2;
}

export function axisField(description: string) {
  return z.enum(axes).meta({ description });
}
