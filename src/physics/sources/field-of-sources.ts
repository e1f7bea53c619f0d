import { FerruleError } from "../../errors.js";
import { blockEmitter } from "./block-field.js";
import { requireSource } from "./check-source.js";
import { coilStackEmitter } from "./coil-stack-field.js";
import { adderOf, type Emitter, type PointsAdder } from "./emitter.js";
import { loopAdder, loopEmitter } from "./loop-field.js";
import { ringSectorEmitter } from "./ring-sector-field.js";
import { rectangleEmitter, segmentEmitter } from "./segment-field.js";
import type { FieldFunction, FieldSource, Vector3 } from "./source.js";

/**
 * Field of currents and magnets, mu0·H in T; frames and quadrature nodes are prepared once, then any number of points.
 *   B(r) = Σ_sources B_i(r), in the order of the list
 *
 * Inside a magnet the value is B = mu0·(H + M), so that it is everywhere the curl of `vectorPotentialOfSources`.
 *
 * Valid for   every point but on filaments, rims and edges, where the field is infinite and the result not finite
 * Source, Checked by   the file of each kind of source; checks/coil-fields
 * `out` must not be the array of points itself.
 * @throws FerruleError  InvalidValue (a source that cannot be), ShapeMismatch (points not in threes)
 */
export function fieldOfSources(sources: readonly FieldSource[]): FieldFunction {
  return overPoints(
    sources.map((source, i) => {
      const emit = fieldEmitter(source, `sources.${i}`);
      return source.kind === "loop" ? loopAdder(source) : adderOf(emit);
    }),
  );
}

/** Field at one point, [3], T. */
export function fieldAtPoint(sources: readonly FieldSource[], point_m: Vector3): Float64Array {
  return fieldOfSources(sources)(Float64Array.from(point_m));
}

/** Sum of the magnitudes of the sources' fields at a point, T: what an error of the sum is measured against. */
export function contributionSum_T(sources: readonly FieldSource[], point_m: Vector3): number {
  return sources.reduce((sum, source) => sum + Math.hypot(...fieldAtPoint([source], point_m)), 0);
}

/** One source, checked and made ready. */
export function fieldEmitter(source: FieldSource, path: string): Emitter {
  requireSource(source, path);
  switch (source.kind) {
    case "loop":
      return loopEmitter(source);
    case "coil-stack":
      return coilStackEmitter(source);
    case "segment":
      return segmentEmitter(source);
    case "rectangle":
      return rectangleEmitter(source, segmentEmitter);
    case "block":
      return blockEmitter(source);
    case "ring-sector":
      return ringSectorEmitter(source);
  }
}

/** The sum of adders as a function of many points. */
export function overPoints(adders: readonly PointsAdder[]): FieldFunction {
  return (points_m, out = new Float64Array(points_m.length)) => {
    requireThrees(points_m, out);
    out.fill(0);
    for (const add of adders) add(points_m, out);
    return out;
  };
}

function requireThrees(points_m: Float64Array, out: Float64Array): void {
  if (points_m.length % 3 === 0 && out.length === points_m.length) return;
  throw new FerruleError("ShapeMismatch", {
    path: points_m.length % 3 === 0 ? "out" : "points_m",
    found: `${points_m.length} coordinates, ${out.length} places for the result`,
    accepted: "three numbers a point and as many for the result, e.g. 6 and 6",
  });
}
