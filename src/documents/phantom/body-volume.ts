import type { Vector3 } from "../fields/vector-field.js";

/** The shape of an extended body, lengths in m. */
export type BodyShape =
  | { readonly kind: "sphere"; readonly diameter: number }
  | { readonly kind: "box"; readonly size: Vector3 };

/** Volume, m3: pi d^3 / 6 of a sphere, the product of the edges of a box. */
export function bodyVolume_m3(shape: BodyShape): number {
  if (shape.kind === "sphere") return (Math.PI / 6) * shape.diameter ** 3;
  const [x, y, z] = shape.size;
  return x * y * z;
}
