import { findFieldFreeRegion } from "../../src/physics/field/field-free-region.js";
import { gradientErrorMap } from "../../src/physics/field/gradient-error.js";
import { massErrorOfSphere } from "../../src/physics/field/mass-error.js";
import { usableRegion } from "../../src/physics/field/usable-region.js";
import { fieldOfSources } from "../../src/physics/sources/field-of-sources.js";
import {
  bore,
  type Comparison,
  currentMoves,
  expansionErrors,
  gradientComparisons,
  lineComparisons,
  massComparisons,
  pair,
  randomZeros,
  ringComparison,
  usableComparisons,
} from "./compare.js";

/** The meter: `npx tsx checks/field-free/report.ts` prints n, median and worst of each quantity, and the single figures. */
function print(rows: readonly Comparison[]): void {
  for (const quantity of new Set(rows.map((row) => row.quantity))) {
    const errors = rows.filter((row) => row.quantity === quantity).map(({ error }) => error);
    errors.sort((a, b) => a - b);
    const [median, worst] = [errors[Math.floor(errors.length / 2)], errors[errors.length - 1]];
    console.log(
      `${quantity.padEnd(34)} n ${errors.length}  median ${median.toExponential(1)}  worst ${worst.toExponential(1)}`,
    );
  }
}

print(expansionErrors());
print(gradientComparisons());
print(usableComparisons());
print(massComparisons());
for (const row of massComparisons()) console.log(`  ${row.quantity} at ${row.at}: ${row.error.toExponential(1)}`);
for (const move of currentMoves()) console.log(move);
print([ringComparison()]);
const line = lineComparisons();
print(line.comparisons);
console.log(`line of four loops: ${line.region.evaluations} field points`);
console.log(randomZeros());

// Twenty sources: the pair as ten loops a side.
const twenty = pair().flatMap((loop) => {
  const [, , z] = loop.center_m;
  return Array.from({ length: 10 }, (_, k) => ({
    ...loop,
    center_m: [0, 0, z + (k - 4.5) * 5e-4] as const,
    current_A: loop.current_A / 10,
  }));
});
const field = fieldOfSources(twenty);
for (let warm = 0; warm < 5; warm++) findFieldFreeRegion(field, { within: bore });
const start = performance.now();
for (let k = 0; k < 10; k++) findFieldFreeRegion(field, { within: bore });
const region = findFieldFreeRegion(field, { within: bore });
console.log(
  `20 loops: ${((performance.now() - start) / 11).toFixed(1)} ms, ${region.evaluations} field points, residual ${region.zeros[0].residual_T.toExponential(1)} T`,
);

const reference = { center_m: [0, 0, 0] as const, gradient_T_per_m: region.zeros[0].gradient_T_per_m };
const timed = (name: string, work: () => unknown): void => {
  work();
  const from = performance.now();
  work();
  console.log(`20 loops, ${name}: ${(performance.now() - from).toFixed(0)} ms`);
};
timed("usable region", () => usableRegion(field, { reference, within: bore }));
timed("mass error of a ball", () =>
  massErrorOfSphere(field, { center_m: [0, 0, 0.01], radius_m: 0.005 }, { reference }),
);
const grid = { plane: "xz", shape: [128, 128], across_m: [-0.03, 0.03], up_m: [-0.04, 0.04] } as const;
timed("gradient error map of 128 x 128", () =>
  gradientErrorMap(field, grid, { reference, step_m: bore.radius_m / 200, order: 2 }),
);
