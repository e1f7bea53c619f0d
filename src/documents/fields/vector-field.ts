import { z } from "zod";
import { type QuantityOptions, quantity } from "./quantity-field.js";

/** x, y, z in SI. */
export type Vector3 = readonly [number, number, number];

/** Three lengths along x, y, z: a position in the scanner's frame (origin: field-free centre without shift field). */
export function positionField(description = "position x, y, z in the scanner's frame") {
  return lengthTriple(description, { example: "5 mm", min: "-10 m", max: "10 m" });
}

/** Three edge lengths along x, y, z. */
export function extentField(description = "edge lengths along x, y, z") {
  return lengthTriple(description, { example: "2 mm", min: "1 nm", max: "10 m" });
}

function lengthTriple(description: string, options: QuantityOptions) {
  const length = () => quantity("length", options);
  return z.tuple([length(), length(), length()]).meta({ description });
}
