import { z } from "zod";
import { quantity } from "../fields/quantity-field.js";
import type { Vector3 } from "../fields/vector-field.js";
import { extentField, positionField } from "../fields/vector-field.js";

/** The contour of a region: what was drawn, or the known outline of a vial. */
export const regionShapeField = z.discriminatedUnion("kind", [
  z.strictObject({
    kind: z.literal("sphere"),
    center: positionField(),
    diameter: quantity("length", { example: "4 mm", positive: true }),
  }),
  z.strictObject({ kind: z.literal("box"), center: positionField(), size: extentField() }),
]);

export type RegionShapeModel =
  | { readonly kind: "sphere"; readonly center_m: Vector3; readonly diameter_m: number }
  | { readonly kind: "box"; readonly center_m: Vector3; readonly size_m: Vector3 };

export function toRegionShape(shape: z.output<typeof regionShapeField>): RegionShapeModel {
  return shape.kind === "sphere"
    ? { kind: "sphere", center_m: shape.center, diameter_m: shape.diameter }
    : { kind: "box", center_m: shape.center, size_m: shape.size };
}
