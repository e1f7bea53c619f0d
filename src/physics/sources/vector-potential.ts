import { blockPotentialEmitter } from "./block-field.js";
import { requireSource } from "./check-source.js";
import { coilStackPotentialEmitter } from "./coil-stack-field.js";
import { adderOf, type Emitter } from "./emitter.js";
import { overPoints } from "./field-of-sources.js";
import { loopPotentialEmitter } from "./loop-field.js";
import { ringSectorPotentialEmitter } from "./ring-sector-potential.js";
import { rectangleEmitter, segmentPotentialEmitter } from "./segment-field.js";
import type { FieldFunction, FieldSource } from "./source.js";

/**
 * Vector potential of currents and magnets, T m, in the Coulomb gauge.
 *   A(r) = mu0/(4π)·∫ j dV/R; magnets by their surface currents M x n.   B = curl A everywhere
 *
 * @returns a function like that of `fieldOfSources`: [n, 3] points to [n, 3], T m
 *
 * Valid for   every point but on filaments, where it is infinite. A lone segment is no closed path: its A is only a part.
 * Source, Checked by   the file of each kind of source; checks/coil-fields, vector-potential.test.ts (curl A = B)
 */
export function vectorPotentialOfSources(sources: readonly FieldSource[]): FieldFunction {
  return overPoints(sources.map((source, i) => adderOf(potentialEmitter(source, `sources.${i}`))));
}

function potentialEmitter(source: FieldSource, path: string): Emitter {
  requireSource(source, path);
  switch (source.kind) {
    case "loop":
      return loopPotentialEmitter(source);
    case "coil-stack":
      return coilStackPotentialEmitter(source);
    case "segment":
      return segmentPotentialEmitter(source);
    case "rectangle":
      return rectangleEmitter(source, segmentPotentialEmitter);
    case "block":
      return blockPotentialEmitter(source);
    case "ring-sector":
      return ringSectorPotentialEmitter(source);
  }
}
