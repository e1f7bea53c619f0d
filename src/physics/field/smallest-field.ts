import type { FieldFunction, Vector3 } from "../sources/source.js";
import { length } from "../sources/vector3.js";
import { type BoreCylinder, intoBore } from "./bore-cylinder.js";

export interface SmallestField {
  readonly position_m: Vector3;
  readonly field_T: number;
}

/** The 26 neighbours of a point on a cubic grid. */
const neighbours = [-1, 0, 1]
  .flatMap((x) => [-1, 0, 1].flatMap((y) => [-1, 0, 1].map((z): Vector3 => [x, y, z])))
  .filter((offset) => length(offset) > 0);

/**
 * Where |mu0H| is smallest within the bore, from a first guess: the 26 neighbours are tried, the best one taken, and the
 * spacing halved when none is better. Neighbours outside are moved onto the wall, where such minima mostly lie.
 *
 * Valid for   the minimum of the valley the guess lies in; place within about 1e-6 radius (less sharp in a flat valley)
 * Source      compass search, common practice
 * Checked by  field-free-region.test.ts
 */
export function smallestField(
  field: FieldFunction,
  within: BoreCylinder,
  { from, spacing_m }: { from: SmallestField; spacing_m: number },
): SmallestField {
  let best = from;
  let spacing = spacing_m / 2;
  for (let round = 0; round < 60 && spacing > 1e-7 * within.radius_m; round++) {
    const tried = neighbours.map(([x, y, z]) => {
      const [cx, cy, cz] = best.position_m;
      return intoBore(within, [cx + spacing * x, cy + spacing * y, cz + spacing * z]);
    });
    const values = field(Float64Array.from(tried.flat()));
    let better = best;
    tried.forEach((position_m, i) => {
      const field_T = length(values.subarray(3 * i, 3 * i + 3));
      if (field_T < better.field_T) better = { position_m, field_T };
    });
    if (better === best) spacing /= 2;
    else best = better;
  }
  return best;
}
