import { execFileSync } from "node:child_process";
import { fileURLToPath } from "node:url";
import { allWorst, type Ranges } from "./compare.js";

/**
 * The meter: `npx tsx checks/langevin/report.ts` prints the worst relative error per range and function over the table of
 * the gate; with `--sweep` over 5000 fresh arguments per range, for which it asks make.py (python3 with mpmath).
 */
const sweep = (): Ranges => {
  const recipe = fileURLToPath(new URL("./make.py", import.meta.url));
  return JSON.parse(execFileSync("python3", [recipe, "--sweep"], { encoding: "utf8", maxBuffer: 2 ** 28 })) as Ranges;
};

console.log("range            function    points  worst relative error   at xi");
for (const { range, kernel, points, relativeError, xi } of allWorst(
  process.argv.includes("--sweep") ? sweep() : undefined,
)) {
  const where = Number.isNaN(xi) ? "-" : String(xi);
  console.log(
    `${range.padEnd(16)} ${kernel.padEnd(10)} ${String(points).padStart(7)}  ${relativeError.toExponential(2).padStart(20)}   ${where}`,
  );
}
