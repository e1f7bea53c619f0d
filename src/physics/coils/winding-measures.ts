import { FerruleError } from "../../errors.js";
import { requireBetween, requirePositive } from "../particle/ranges.js";
import { resistivityAt_Ohm_m } from "./conductors.js";
import type { Winding, WindingShape } from "./winding.js";
import { requireWinding } from "./winding-refusals.js";

export interface WindingMeasures {
  readonly conductorLength_m: number;
  /** Of all turns with their insulation; 0 for a thin sheet. */
  readonly section_m2: number;
  /** Metal of one turn. */
  readonly metalArea_m2: number;
  /** Metal share of the section; null for a thin sheet. */
  readonly fillFactor: number | null;
  readonly metalVolume_m3: number;
  readonly mass_kg: number;
}

/**
 * Length, section and mass of a winding.
 *   length = N·(mean turn);  stack: mean turn π·(Ri + Ro), section (Ro − Ri)·l;  loop, rectangle: section π·r²
 *   N·(metal of one turn) = fill·section
 *
 * Valid for   leads, layers' steps and insulation not counted. A thin sheet has no section: give `metalArea_m2`.
 * Source      geometry (Pappus)
 * Checked by  winding-measures.test.ts
 */
export function measureWinding(winding: Winding): WindingMeasures {
  requireWinding(winding);
  const { shape, turns, material } = winding;
  const section_m2 = sectionOf(winding);
  const metalArea_m2 = metalAreaOf(winding, section_m2);
  const conductorLength_m = turns * meanTurn_m(shape);
  const metalVolume_m3 = conductorLength_m * metalArea_m2;
  return {
    conductorLength_m,
    section_m2,
    metalArea_m2,
    fillFactor: section_m2 > 0 ? (turns * metalArea_m2) / section_m2 : null,
    metalVolume_m3,
    mass_kg: metalVolume_m3 * material.density_kg_per_m3,
  };
}

/** Resistance to direct current, Ohm: R = ρ(T)·length/area. */
export function windingResistance_Ohm(winding: Winding, temperature_K: number): number {
  const { conductorLength_m, metalArea_m2 } = measureWinding(winding);
  return (resistivityAt_Ohm_m(winding.material, temperature_K) * conductorLength_m) / metalArea_m2;
}

function meanTurn_m(shape: WindingShape): number {
  if (shape.kind === "loop") return 2 * Math.PI * shape.radius_m;
  if (shape.kind === "rectangle") return 2 * (shape.size_m[0] + shape.size_m[1]);
  return Math.PI * (shape.innerRadius_m + shape.outerRadius_m);
}

function sectionOf({ shape, bundleRadius_m = 0 }: Winding): number {
  if (shape.kind === "coil-stack") return (shape.outerRadius_m - shape.innerRadius_m) * shape.length_m;
  return Math.PI * bundleRadius_m ** 2;
}

function metalAreaOf({ turns, conductor }: Winding, section_m2: number): number {
  if ("fillFactor" in conductor) {
    requireBetween(conductor.fillFactor, [0, 1], { path: "conductor.fillFactor", example: "0.6" });
    requirePositive(conductor.fillFactor, "conductor.fillFactor", "0.6");
    if (section_m2 > 0) return (conductor.fillFactor * section_m2) / turns;
    throw new FerruleError("MissingFact", {
      path: "conductor",
      found: "a fill factor for a thin sheet, which has no section to fill",
      accepted: "the metal of one turn, e.g. { metalArea_m2: 2e-6 }",
    });
  }
  const area = requirePositive(conductor.metalArea_m2, "conductor.metalArea_m2", "2e-6");
  // Rounding of a section that is filled to the brim is no excess.
  if (section_m2 === 0 || turns * area <= section_m2 * (1 + 1e-9)) return area;
  throw new FerruleError("InvalidValue", {
    path: "conductor.metalArea_m2",
    found: `${turns} turns of ${area} m2 of metal in a section of ${section_m2} m2`,
    accepted: `metal that fits its section, e.g. ${(0.6 * section_m2) / turns} (fill 0.6)`,
  });
}
