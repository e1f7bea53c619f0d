import { type Comparison, lengthRatios, publishedErrors, sectionErrors, truth, waveformErrors } from "./compare.js";

/** The meter: `npx tsx checks/limits/report.ts` prints every value and error. */
function list(title: string, rows: readonly Comparison[]): void {
  console.log(`\n${title}`);
  for (const { row, quantity, found, relativeError } of rows)
    console.log(
      `  ${row.padEnd(16)} ${quantity.padEnd(58)} ${found.toPrecision(10).padStart(14)}  ${relativeError.toExponential(1)}`,
    );
  const errors = rows.map(({ relativeError }) => relativeError).sort((a, b) => a - b);
  const [median, worst] = [errors[Math.floor(errors.length / 2)], errors[errors.length - 1]];
  console.log(`  n ${errors.length}, median ${median.toExponential(1)}, worst ${worst.toExponential(1)}`);
}

list("printed values (errors include the rounding of the print)", publishedErrors());
list("waveforms against quadrature", waveformErrors(0));
list("sections against finite elements", sectionErrors(0));
console.log("\nthe finite elements' own error: mean, worst point, field, mean across");
for (const [name, ...rest] of truth.sections) console.log(`  ${name.padEnd(14)} ${rest.slice(-4).join("  ")}`);
console.log(
  "\nfield across a cylinder of finite length over that of the endless one: half length/radius, middle, largest",
);
for (const { halfLength, middle, largest } of lengthRatios())
  console.log(`  ${String(halfLength).padStart(3)}  ${middle.toFixed(6)}  ${largest.toFixed(6)}`);
