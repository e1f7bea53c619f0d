import {
  type Comparison,
  coaxialErrors,
  loopErrors,
  parallelErrors,
  placedErrors,
  publishedErrors,
  rectangleErrors,
  ringErrors,
  sheetErrors,
  skinErrors,
  stackErrors,
  strandRatios,
} from "./compare.js";
import { laws } from "./scaling-laws.js";

/** The meter: `npx tsx checks/coil-engineering/report.ts` prints n, median and worst of every table, then every row. */
const tables: (readonly Comparison[])[] = [
  skinErrors(),
  loopErrors(),
  sheetErrors(),
  stackErrors(),
  coaxialErrors(),
  ringErrors(),
  rectangleErrors(),
  placedErrors(),
  parallelErrors(),
  publishedErrors(),
];
for (const table of tables) {
  const errors = table.map(({ relativeError }) => relativeError).sort((a, b) => a - b);
  const figures = [errors[Math.floor(errors.length / 2)], errors[errors.length - 1]].map((x) => x.toExponential(2));
  console.log(`${table[0].quantity}: n ${table.length}, median ${figures[0]}, worst ${figures[1]}`);
  for (const { quantity, at, relativeError } of table)
    console.log(`  ${quantity.padEnd(16)} ${relativeError.toExponential(2)}  ${at}`);
}
for (const [q, ratio] of strandRatios()) console.log(`strand loss at a/delta ${q}: law over exact ${ratio.toFixed(9)}`);
for (const { name, result } of laws())
  for (const [quantity, { exponents, worstResidual }] of Object.entries(result))
    console.log(
      `${name} ${quantity.padEnd(18)} wanted^${exponents.wanted.toFixed(12)} scale^${exponents.scale.toFixed(12)} frequency^${exponents.frequency.toFixed(12)} residual ${worstResidual.toExponential(1)}`,
    );
