import { readFileSync } from "node:fs";
import { parseMeasurementDescriptor, readMeasurement } from "../src/formats/index.js";

/** Child of large-curve.test.ts: reads the curve named on its command line and prints what that cost, as JSON. */
const [file] = process.argv.slice(2);
const descriptor = parseMeasurementDescriptor(readFileSync(`${file}.descriptor.json`, "utf8"));
const before = process.cpuUsage();
const measured = readMeasurement(new Uint8Array(readFileSync(file)), descriptor, { file });
const { user, system } = process.cpuUsage(before);
if (measured.kind !== "curve") throw new Error(`read as ${measured.kind}`);
const { field_T, magnetisation, sigma, findings } = measured.curve;
process.stdout.write(
  JSON.stringify({
    rows: field_T.length,
    ends: [field_T[0], magnetisation[magnetisation.length - 1], sigma?.[0]],
    turns: findings.filter((finding) => finding.includes("turns round")),
    processor_s: (user + system) / 1e6,
    peakMemory_MB: process.resourceUsage().maxRSS / 1024,
  }),
);
