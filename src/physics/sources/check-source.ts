import { FerruleError } from "../../errors.js";
import type { FieldSource, Vector3 } from "./source.js";
import { cross, dot, length, subtract } from "./vector3.js";

/**
 * Refuses a source that is not what its type says: lengths above 0, unit vectors of length 1 (within 1e-9), frames square
 * and right-handed.
 * @param path  place of the source in the caller's list or document, for the message
 */
export function requireSource(source: FieldSource, path: string): void {
  switch (source.kind) {
    case "loop":
      requireUnit(source.normal, `${path}.normal`);
      requireAbove(source.radius_m, `${path}.radius_m`);
      break;
    case "coil-stack":
      requireUnit(source.normal, `${path}.normal`);
      requireAbove(source.outerRadius_m, `${path}.outerRadius_m`);
      requireAbove(source.length_m, `${path}.length_m`);
      requireRadii(source, path);
      break;
    case "segment":
      requireAbove(length(subtract(source.to_m, source.from_m)), `${path}.to_m`);
      break;
    case "rectangle":
      requireUnit(source.normal, `${path}.normal`);
      requireUnit(source.edge, `${path}.edge`);
      requireAcross(source.normal, source.edge, `${path}.edge`);
      for (const [i, size] of source.size_m.entries()) requireAbove(size, `${path}.size_m.${i}`);
      break;
    case "block":
      for (const [i, size] of source.size_m.entries()) requireAbove(size, `${path}.size_m.${i}`);
      if (source.edges !== undefined) requireFrame(source.edges, `${path}.edges`);
      break;
    case "ring-sector":
      requireUnit(source.axis, `${path}.axis`);
      requireUnit(source.reference, `${path}.reference`);
      requireAcross(source.axis, source.reference, `${path}.reference`);
      requireAbove(source.length_m, `${path}.length_m`);
      requireRadii(source, path);
      requireAbove(source.outerRadius_m - source.innerRadius_m, `${path}.outerRadius_m`);
      requireSpan(source, path);
      break;
  }
}

function requireAbove(value: number, path: string): void {
  if (value > 0 && Number.isFinite(value)) return;
  throw new FerruleError("InvalidValue", { path, found: `${value} m`, accepted: "a length above 0, e.g. 0.05 m" });
}

function requireRadii(source: { readonly innerRadius_m: number; readonly outerRadius_m: number }, path: string): void {
  if (source.innerRadius_m >= 0 && source.innerRadius_m <= source.outerRadius_m) return;
  throw new FerruleError("InvalidValue", {
    path: `${path}.innerRadius_m`,
    found: `${source.innerRadius_m} m inside, ${source.outerRadius_m} m outside`,
    accepted: "an inner radius from 0 to the outer radius, e.g. 0.05 m and 0.06 m",
  });
}

function requireSpan(source: { readonly fromAngle_rad: number; readonly toAngle_rad: number }, path: string): void {
  const span = source.toAngle_rad - source.fromAngle_rad;
  if (span > 0 && span <= 2 * Math.PI * (1 + 1e-12)) return;
  throw new FerruleError("InvalidValue", {
    path: `${path}.toAngle_rad`,
    found: `${source.fromAngle_rad} rad to ${source.toAngle_rad} rad`,
    accepted: "angles that grow by at most a full turn, e.g. 0 rad to 0.5 rad",
  });
}

function requireUnit(vector: Vector3, path: string): void {
  if (Math.abs(length(vector) - 1) <= 1e-9) return;
  throw new FerruleError("InvalidValue", {
    path,
    found: `a vector of length ${length(vector)}`,
    accepted: "a unit vector, e.g. [0, 0, 1]",
  });
}

function requireAcross(a: Vector3, b: Vector3, path: string): void {
  if (Math.abs(dot(a, b)) <= 1e-9) return;
  throw new FerruleError("InvalidValue", {
    path,
    found: `a vector whose cosine to its axis is ${dot(a, b)}`,
    accepted: "a vector at right angles to the axis, e.g. [1, 0, 0] for the axis [0, 0, 1]",
  });
}

function requireFrame(edges: readonly [Vector3, Vector3, Vector3], path: string): void {
  for (const [i, edge] of edges.entries()) requireUnit(edge, `${path}.${i}`);
  requireAcross(edges[0], edges[1], `${path}.1`);
  if (length(subtract(cross(edges[0], edges[1]), edges[2])) <= 1e-8) return;
  throw new FerruleError("InvalidValue", {
    path: `${path}.2`,
    found: `(${edges[2].join(", ")})`,
    accepted: "the cross product of the first two edges (a right-handed frame)",
  });
}
