import { fileURLToPath } from "node:url";
import { type FieldSource, fieldOfSources } from "../src/physics/index.js";
import type { Problem } from "./measure.js";
import { contest, python, timed } from "./rivals.js";

/**
 * Field of 200 loops on a plane of 128 x 128 points: an invented scanner of ten coaxial windings of twenty loops, in three
 * directions. `npx tsx bench/field-sources.ts` sets it beside numpy with scipy's ellipkm1 and ellipe; needs python3 with
 * scipy.
 */
const side = 128;
const extent_m = 0.08;

/** Winding w (0 to 9): axis w mod 3, its loops 4 mm apart, two to a side of the bore. */
const loops: FieldSource[] = Array.from({ length: 200 }, (_, i) => {
  const [winding, turn] = [Math.floor(i / 20), i % 20];
  const axis = winding % 3;
  const along = (winding % 2 === 0 ? 1 : -1) * (0.06 + 0.002 * winding + 0.004 * turn);
  const unit = (scale: number) => [0, 1, 2].map((k) => (k === axis ? scale : 0)) as [number, number, number];
  return {
    kind: "loop",
    center_m: unit(along),
    normal: unit(1),
    radius_m: 0.09 + 0.003 * winding,
    current_A: winding % 2 === 0 ? 100 : -100,
  };
});

const points_m = Float64Array.from({ length: 3 * side * side }, (_, i) => {
  const point = Math.floor(i / 3);
  const [row, column] = [Math.floor(point / side), point % side];
  return [extent_m * (column / (side - 1) - 0.5), 0.003, extent_m * (row / (side - 1) - 0.5)][i % 3];
});

export function fieldSourceProblems(): Problem[] {
  const field = fieldOfSources(loops);
  const out = new Float64Array(points_m.length);
  return [{ name: "loop-field-slice", size: `200 loops, ${side} x ${side} points`, run: () => field(points_m, out) }];
}

async function againstRival(): Promise<void> {
  const field = fieldOfSources(loops);
  const out = new Float64Array(points_m.length);
  field(points_m, out);
  const { sum, time_s } = python<{ sum: number; time_s: number }>("compare-field-sources.py", "1");
  const ours = out.reduce((total, value) => total + value * value, 0);
  console.log(
    `sum of B², relative difference: ${Math.abs(ours / sum - 1).toExponential(1)} (first numpy run ${time_s} s)\n`,
  );
  await contest(
    [
      { name: "numpy and scipy", time_s: () => python<{ time_s: number }>("compare-field-sources.py", "3").time_s },
      timed("TypeScript", () => field(points_m, out)),
    ],
    [["TypeScript", "numpy and scipy"]],
  );
}

if (process.argv[1] === fileURLToPath(import.meta.url)) await againstRival();
