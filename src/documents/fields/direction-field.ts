import { z } from "zod";
import { axes } from "./axis-field.js";
import { refuse } from "./refuse.js";
import type { Vector3 } from "./vector-field.js";

/** An axis by its letter, or three numbers that are made a unit vector. */
export function directionField(description: string) {
  const numbers = z.tuple([z.number(), z.number(), z.number()]).transform((vector, sink): Vector3 => {
    const length = Math.hypot(...vector);
    if (length > 0 && Number.isFinite(length)) return vector.map((each) => each / length) as unknown as Vector3;
    refuse(sink, [], { found: "a direction of no length", accepted: 'an axis such as "z", or e.g. [0, 0, 1]' });
    return z.NEVER;
  });
  return z
    .union([z.enum(axes).transform(unitVector), numbers])
    .meta({ description: `${description}: "x", "y" or "z", or three numbers such as [0, 0.6, 0.8]` });
}

export function unitVector(axis: (typeof axes)[number]): Vector3 {
  return [axis === "x" ? 1 : 0, axis === "y" ? 1 : 0, axis === "z" ? 1 : 0];
}
