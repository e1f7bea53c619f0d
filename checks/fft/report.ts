import { longErrors, shortErrors, truth } from "./compare.js";

/** The meter: `npx tsx checks/fft/report.ts` prints the relative difference from numpy per length. */
for (const sample of truth.cases) {
  const { forward, back } = shortErrors(sample);
  console.log(`${String(sample.n).padStart(7)}  forward ${forward.toExponential(2)}  back ${back.toExponential(2)}`);
}
for (const sample of truth.long) {
  const { norm, bins } = longErrors(sample);
  console.log(`${String(sample.n).padStart(7)}  norm ${norm.toExponential(2)}  bins ${bins.toExponential(2)}`);
}
