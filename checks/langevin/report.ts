import { allWorst } from "./compare.js";

/** The meter: `npx tsx checks/langevin/report.ts` prints the worst relative error per range and function. */
console.log("range            function    points  worst relative error   at xi");
for (const { range, kernel, points, relativeError, xi } of allWorst()) {
  const where = Number.isNaN(xi) ? "-" : String(xi);
  console.log(
    `${range.padEnd(16)} ${kernel.padEnd(10)} ${String(points).padStart(7)}  ${relativeError.toExponential(2).padStart(20)}   ${where}`,
  );
}
