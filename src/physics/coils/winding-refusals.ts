import { FerruleError } from "../../errors.js";
import { requirePositive } from "../particle/ranges.js";
import type { CoilStackSource, LoopSource, RectangleSource, Vector3 } from "../sources/source.js";
import { requireMaterial } from "./conductors.js";
import type { Winding } from "./winding.js";

type StackShape = Omit<CoilStackSource, "current_A">;
type FilamentShape = Omit<LoopSource, "current_A"> | Omit<RectangleSource, "current_A">;

/** Refuses shapes and counts that no winding can have. */
export function requireWinding({ shape, turns, sense, material, bundleRadius_m, strandDiameter_m }: Winding): void {
  requirePositive(turns, "turns", "100");
  requireMaterial(material);
  if (sense !== undefined && sense !== 1 && sense !== -1) refuse("sense", String(sense), "1 or -1");
  if (strandDiameter_m !== undefined) requirePositive(strandDiameter_m, "strandDiameter_m", "1e-4");
  requireUnit(shape.normal, "shape.normal");
  if (shape.kind === "coil-stack") requireStack(shape);
  else requireFilament(shape, bundleRadius_m);
}

function requireFilament(shape: FilamentShape, bundleRadius_m: number | undefined): void {
  if (bundleRadius_m === undefined)
    throw new FerruleError("MissingFact", {
      path: "bundleRadius_m",
      found: `a ${shape.kind} without the radius of its bundle of turns`,
      accepted: "the radius of the round section of all turns, e.g. 2e-3",
    });
  requirePositive(bundleRadius_m, "bundleRadius_m", "2e-3");
  const sizes = shape.kind === "loop" ? [2 * shape.radius_m] : shape.size_m;
  for (const size of sizes) requirePositive(size, shape.kind === "loop" ? "shape.radius_m" : "shape.size_m", "0.1");
  if (Math.min(...sizes) <= 2 * bundleRadius_m)
    refuse("bundleRadius_m", `${bundleRadius_m} m, which leaves no opening`, "less than half the opening, e.g. 2e-3");
  if (shape.kind !== "rectangle") return;
  requireUnit(shape.edge, "shape.edge");
  const dot = shape.edge.reduce((sum, value, i) => sum + value * shape.normal[i], 0);
  if (Math.abs(dot) > 1e-9)
    refuse("shape.edge", "an edge that is not across the normal", "e.g. [1, 0, 0] across [0, 0, 1]");
}

function requireStack({ innerRadius_m, outerRadius_m, length_m }: StackShape): void {
  requirePositive(innerRadius_m, "shape.innerRadius_m", "0.05");
  requirePositive(length_m, "shape.length_m", "0.1");
  if (!(Number.isFinite(outerRadius_m) && outerRadius_m >= innerRadius_m))
    refuse("shape.outerRadius_m", String(outerRadius_m), `the inner radius or more, e.g. ${1.2 * innerRadius_m}`);
  if (length_m < 1e-5 * outerRadius_m)
    refuse("shape.length_m", `${length_m} m`, `at least 1e-5 of the outer radius, e.g. ${0.01 * outerRadius_m}`);
}

function requireUnit(vector: Vector3, path: string): void {
  if (Math.abs(Math.hypot(...vector) - 1) < 1e-9) return;
  refuse(path, `[${vector.join(", ")}], of length ${Math.hypot(...vector)}`, "a unit vector, e.g. [0, 0, 1]");
}

function refuse(path: string, found: string, accepted: string): never {
  throw new FerruleError("InvalidValue", { path, found, accepted });
}
