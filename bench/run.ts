import { cpus } from "node:os";
import { measure, type Timing } from "./measure.js";
import { problems } from "./problems.js";

/** `npm run bench` prints the table that docs/evidence/house-figures.md keeps. `npm run build` first, for the cold start. */
const time = (seconds: number): string =>
  seconds >= 1
    ? `${seconds.toFixed(2)} s`
    : seconds >= 1e-3
      ? `${(seconds * 1e3).toPrecision(3)} ms`
      : `${(seconds * 1e6).toPrecision(3)} us`;

const row = ({ name, size, median_s, minimum_s, maximum_s, ratio }: Timing): string =>
  `| ${name} | ${size} | ${time(median_s)} | ${time(minimum_s)} to ${time(maximum_s)} | ${ratio === undefined ? "" : `${ratio.median.toFixed(2)} x ${ratio.to}`} |`;

console.log(
  `Node ${process.version}, ${cpus().length} x ${cpus()[0]?.model ?? "unknown processor"}; 15 interleaved rounds after 3.\n`,
);
console.log("| problem | size | median | range | ratio |\n|---|---|---|---|---|");
for (const timing of await measure(problems())) console.log(row(timing));
