import { allErrors } from "./compare.js";

/** The meter: `npx tsx checks/coil-fields/report.ts` prints n, median and worst for each kind; with `all` every row. */
const rows = allErrors();
if (process.argv.includes("all"))
  for (const { kind, at, error } of rows) console.log(`${kind.padEnd(14)} ${error.toExponential(1)}  ${at}`);
for (const kind of new Set(rows.map((row) => row.kind))) {
  const errors = rows.filter((row) => row.kind === kind).map(({ error }) => error);
  const sorted = [...errors].sort((a, b) => a - b);
  const worst = rows.find((row) => row.kind === kind && !(row.error < sorted[sorted.length - 1]));
  const median = sorted[sorted.length >> 1];
  console.log(
    `${kind.padEnd(14)} n ${String(sorted.length).padStart(3)}  median ${median.toExponential(1)}  worst ${sorted[sorted.length - 1].toExponential(1)}  at ${worst?.at}`,
  );
}
