import { physicalCoil, type SelectionSources } from "../../documents/index.js";
import { inductanceMatrix_H, type Winding } from "../../physics/index.js";

/**
 * Energy stored by selection coils together, J: W = 1/2 sum_ij M_ij I_i I_j over all their windings.
 * Opposed coils hold less than the sum of each alone. null where a coil's windings are not known well enough.
 */
export function selectionEnergy_J({ coils }: SelectionSources): number | null {
  const windings: Winding[] = [];
  const currents: number[] = [];
  for (const { coil, current_A } of coils) {
    const physical = physicalCoil(coil);
    if (physical === undefined) return null;
    windings.push(...physical.windings);
    currents.push(...physical.windings.map(() => current_A));
  }
  if (windings.length === 0) return 0;
  const matrix = inductanceMatrix_H({ windings });
  const n = windings.length;
  return (
    currents.reduce((sum, a, i) => sum + currents.reduce((inner, b, j) => inner + matrix[i * n + j] * a * b, 0), 0) / 2
  );
}
