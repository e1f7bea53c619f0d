import type { ParticleEnsemble } from "./magnetisation.js";
import { relativeMagnetisation, relativeSlope_per_T } from "./magnetisation.js";
import { type StaticResponse, tabulateResponse } from "./static-response.js";

/**
 * Static vector response of an ensemble in equilibrium, per kg of iron.
 *
 * @param momentPerIron_A_m2_per_kg  saturated moment per kg Fe
 * @returns table to 0.4 T
 *
 * Source      as `relativeMagnetisation`, `StaticResponse`
 */
export function ensembleResponse(
  ensemble: ParticleEnsemble,
  momentPerIron_A_m2_per_kg: number,
  { maximumField_T = 0.4, cells = 8192 }: { maximumField_T?: number; cells?: number } = {},
): StaticResponse {
  return tabulateResponse(
    (field_T) => ({
      moment_A_m2_per_kg: relativeMagnetisation(field_T, ensemble).map((m) => momentPerIron_A_m2_per_kg * m),
      slope_A_m2_per_kg_T: relativeSlope_per_T(field_T, ensemble).map((s) => momentPerIron_A_m2_per_kg * s),
    }),
    { maximumField_T, cells },
  );
}
