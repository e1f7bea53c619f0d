import * as comparisons from "./compare.js";

/** The meter: `npx tsx checks/receive-chain/report.ts` prints n, median and worst per quantity. */
const errors = [
  ...comparisons.fluxErrors(),
  ...comparisons.movingErrors(),
  ...comparisons.mutualErrors(),
  ...comparisons.bodyErrors(),
  ...comparisons.noiseErrors(),
  ...comparisons.bandErrors(),
  ...comparisons.massErrors(),
  ...comparisons.allanErrors(),
  ...comparisons.publishedAllanErrors(),
  ...comparisons.freedomErrors(),
  ...comparisons.scalarErrors(),
];

for (const quantity of new Set(errors.map((row) => row.quantity))) {
  const rows = errors.filter((row) => row.quantity === quantity).sort((a, b) => a.relativeError - b.relativeError);
  const { relativeError, at } = rows[rows.length - 1];
  const median = rows[Math.floor(rows.length / 2)].relativeError;
  console.log(
    `${quantity.padEnd(38)} n ${String(rows.length).padStart(3)}  median ${median.toExponential(1)}  worst ${relativeError.toExponential(1)} at ${at}`,
  );
}
