import type { CoilStackSource, CurrentSource, LoopSource, RectangleSource } from "../sources/source.js";
import type { ConductorMaterial } from "./conductors.js";

/** Where the turns run; the current comes with the use. Any loop, coil stack or rectangle source is one. */
export type WindingShape =
  | Omit<LoopSource, "current_A">
  | Omit<CoilStackSource, "current_A">
  | Omit<RectangleSource, "current_A">;

/** Metal of one turn: its area, or the share of the winding's section that is metal. */
export type ConductorSection = { readonly metalArea_m2: number } | { readonly fillFactor: number };

export interface Winding {
  readonly shape: WindingShape;
  /** All in series. */
  readonly turns: number;
  /** -1: wound against the shape's normal. Default 1. */
  readonly sense?: 1 | -1 | undefined;
  readonly material: ConductorMaterial;
  readonly conductor: ConductorSection;
  /** Radius of the round bundle of all turns: for loops and rectangles, which have no section of their own. */
  readonly bundleRadius_m?: number | undefined;
  /** Diameter of one insulated strand, where the wire is litz. Absent: a solid wire. */
  readonly strandDiameter_m?: number | undefined;
}

/** Windings in series: one current through all. */
export interface Coil {
  readonly windings: readonly Winding[];
}

/** The coil as sources of field: ampere-turns with their sign, for one current through all windings. */
export function sourcesOfCoil({ windings }: Coil, current_A: number): CurrentSource[] {
  return windings.map(({ shape, turns, sense = 1 }) => ({ ...shape, current_A: sense * turns * current_A }));
}
