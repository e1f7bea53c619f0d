import { readNumbers, spectrumError, truth } from "./compare.js";

/** The meter: `npx tsx checks/curve-reading/report.ts` prints n, median and worst of each comparison. */
function line(subject: string, errors: readonly number[]): string {
  const sorted = [...errors].sort((a, b) => a - b);
  const [median, worst] = [sorted[sorted.length >> 1], sorted[sorted.length - 1]];
  return `${subject}: n ${sorted.length}, median ${median.toExponential(1)}, worst ${worst.toExponential(1)}`;
}

console.log(line("spectra, over the fundamental", truth.cases.map(spectrumError)));
console.log(
  line(
    "numbers, relative",
    readNumbers().map(({ ours, python }) => Math.abs(ours - python) / (Math.abs(python) || 1)),
  ),
);
