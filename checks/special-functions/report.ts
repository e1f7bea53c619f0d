import * as numerics from "../../src/numerics/index.js";
import { type Row, truth, worst, worstSmallerTail } from "./compare.js";

/** The meter: `npx tsx checks/special-functions/report.ts` prints the worst relative error per function and range. */
const line = (name: string, range: string, rows: number, error: number): void =>
  console.log(`${name.padEnd(20)} ${range.padEnd(10)} ${String(rows).padStart(5)}  ${error.toExponential(2)}`);

const ranged = { erf: numerics.erf, erfc: numerics.erfc, normalCdf: numerics.normalCdf, logGamma: numerics.logGamma };
for (const [name, kernel] of Object.entries(ranged))
  for (const [range, rows] of Object.entries(truth[name as keyof typeof ranged]))
    line(name, range, rows.length, worst(rows, kernel));
for (const [range, rows] of Object.entries(truth.incompleteBeta))
  line(
    "incompleteBeta",
    range,
    rows.length,
    worstSmallerTail(rows, (a, b, x) => numerics.incompleteBeta([a, b], x)),
  );
for (const [range, rows] of Object.entries(truth.incompleteGamma))
  line("incompleteGamma", range, rows.length, worstSmallerTail(rows, numerics.incompleteGamma));
const single: readonly [string, readonly Row[], (...args: number[]) => number][] = [
  ["normalQuantile", truth.normalQuantile, numerics.normalQuantile],
  ["studentTTail", truth.studentTTail, (t, nu) => numerics.studentTCdf(-t, nu)],
  ["studentTQuantile", truth.studentTQuantile, numerics.studentTQuantile],
  ["chiSquareQuantile", truth.chiSquareQuantile, numerics.chiSquareQuantile],
  ["betaQuantile", truth.betaQuantile, (q, a, b) => numerics.betaQuantile(q, [a, b])],
];
for (const [name, rows, kernel] of single) line(name, "all", rows.length, worst(rows, kernel));
