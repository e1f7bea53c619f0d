import { zetaOfThree } from "../../src/physics/chains/chain-coupling.js";
import { spinodal } from "../../src/physics/chains/spinodal.js";
import { dynamicsErrors, ensembleErrors, jumpErrors, publishedErrors, stateErrors, widthErrors } from "./compare.js";
import { astroid, chainReversals, motionError, thermalAverages } from "./macrospin-runs.js";
import type { Comparison } from "./truth.js";

/** The meter: `npx tsx checks/chains/report.ts` prints n, median and worst of every group, then the macrospin tables. */
function summarise(name: string, rows: readonly Comparison[]): void {
  const sorted = [...rows].sort((a, b) => a.error - b.error);
  const worst = sorted[sorted.length - 1];
  const median = sorted[sorted.length >> 1].error;
  console.log(
    `${name.padEnd(34)} n ${String(rows.length).padStart(3)}  median ${median.toExponential(1)}  ` +
      `worst ${worst.error.toExponential(1)} (${worst.what})`,
  );
}

summarise("jumps and remanence, relative", jumpErrors());
summarise("widths, relative", widthErrors());
summarise("states and slopes, relative", stateErrors());
summarise("log-normal sizes, relative", ensembleErrors());
summarise("rate dynamics, absolute", dynamicsErrors());
summarise("printed figures, absolute", publishedErrors());
console.log(
  `motion: error ${motionError(200).toExponential(2)} at 200, ${motionError(400).toExponential(2)} at 400 steps`,
);

console.log("\nchain without anisotropy: reversal field in g = mu0 m / (4 pi a^3), absolute zero");
for (const { spins, field, eigenvalue, reversal } of chainReversals()) {
  const profile = Array.from(reversal.profile, (m) => m.toFixed(2)).join(" ");
  console.log(
    `N ${String(spins).padStart(2)}  found ${field.toFixed(4)}  eigenvalue ${eigenvalue.toFixed(4)}  going over: ${profile}`,
  );
}
const cold = 4 * zetaOfThree;
const warm = ((spinodal(29.31)?.coerciveXi ?? 0) / 29.31) * cold;
console.log(`mean field, endless: ${cold.toFixed(4)} cold, ${warm.toFixed(4)} at kappa 29.31 (C11)`);

console.log("\none spin: switching field over 2K/Ms");
for (const { degrees, field, expected } of astroid())
  console.log(`${String(degrees).padStart(2)} deg  found ${field.toFixed(4)}  astroid ${expected.toFixed(4)}`);

console.log("\nthermal averages");
for (const { what, truth, runs } of thermalAverages())
  for (const { step, moment, standardError } of runs)
    console.log(
      `${what.padEnd(48)} ${step.padEnd(5)} ${moment.toFixed(4)} +- ${standardError.toFixed(4)}  truth ${truth.toFixed(4)}  ` +
        `${((moment - truth) / standardError).toFixed(1)} se`,
    );
