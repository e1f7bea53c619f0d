import { FerruleError } from "../../errors.js";
import { requirePositive } from "../particle/ranges.js";
import type { MagnetSource } from "../sources/source.js";

/** Sintered neodymium-iron-boron, kg/m3; from memory (7400 to 7600 by grade). */
export const neodymiumMagnetDensity_kg_per_m3 = 7500;

/**
 * Mass of magnets, kg: blocks and sectors of rings, volume times density. They take no power.
 *   block a·b·c;  sector (Δφ/2)·(Ro² − Ri²)·l
 * At a fixed shape the field goes with Br alone, the gradient with Br/a, the mass with a³.
 *
 * Source      geometry
 * Checked by  magnet-mass.test.ts
 */
export function magnetMass_kg(
  magnets: readonly MagnetSource[],
  { density_kg_per_m3 = neodymiumMagnetDensity_kg_per_m3 }: { density_kg_per_m3?: number } = {},
): number {
  requirePositive(density_kg_per_m3, "density_kg_per_m3", "7500");
  return magnets.reduce((sum, magnet) => sum + density_kg_per_m3 * magnetVolume_m3(magnet), 0);
}

export function magnetVolume_m3(magnet: MagnetSource): number {
  if (magnet.kind === "block")
    return magnet.size_m.reduce((volume, edge) => volume * requirePositive(edge, "size_m", "0.02"), 1);
  const { innerRadius_m: inner, outerRadius_m: outer, fromAngle_rad: from, toAngle_rad: to } = magnet;
  requirePositive(magnet.length_m, "length_m", "0.1");
  if (!(inner >= 0 && outer > inner && Number.isFinite(outer)))
    refuse(
      "outerRadius_m",
      `radii from ${inner} to ${outer} m`,
      "an outer radius above the inner one, e.g. 0.02 to 0.04",
    );
  if (!(to > from && to - from <= 2 * Math.PI * (1 + 1e-12)))
    refuse("toAngle_rad", `angles from ${from} to ${to}`, "a rising angle of at most one turn, e.g. 0 to 0.785");
  return ((to - from) / 2) * (outer ** 2 - inner ** 2) * magnet.length_m;
}

function refuse(path: string, found: string, accepted: string): never {
  throw new FerruleError("InvalidValue", { path, found, accepted });
}
