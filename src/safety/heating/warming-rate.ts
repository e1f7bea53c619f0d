/** Specific heat of soft tissue, J/(kg K). Source: typical, from memory. */
export const tissueSpecificHeat_J_per_kg_K = 3500;

/**
 * How fast tissue warms while nothing carries the heat away.
 *   dT/dt = SAR / c
 *
 * @returns K/s
 * Valid for   the first minutes; perfusion, breathing and the surface then cool, anaesthesia lessens all three
 * Source      definition of specific heat; derived. c = 3500 J/(kg K) from memory.
 * Checked by  checks/limits
 */
export function adiabaticWarming_K_per_s(
  sar_W_per_kg: number,
  specificHeat_J_per_kg_K = tissueSpecificHeat_J_per_kg_K,
): number {
  return sar_W_per_kg / specificHeat_J_per_kg_K;
}
