// Reads what run.ts wrote and writes the evidence page.
//   npx tsx campaigns/iron-mass-coverage/summary.ts [--noise 1] [--out out/campaigns/iron-mass-coverage] [--page FILE]
import { readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { parseArgs } from "node:util";
import { betaQuantile } from "../../src/numerics/index.js";

const { values } = parseArgs({
  options: {
    noise: { type: "string", default: "1" },
    out: { type: "string", default: "out/campaigns/iron-mass-coverage" },
    page: { type: "string" },
  },
});

interface Row {
  readonly region: string;
  readonly truth_kg: number;
  readonly value_kg: number;
  readonly u_kg: number;
  readonly interval95_kg: readonly [number, number];
  readonly precision_kg: number;
  readonly critical_kg: number;
  readonly twin_kg: number;
}

const replicas = readdirSync(values.out)
  .filter((name) => name.startsWith(`noise-${values.noise}-`) && name.endsWith(".jsonl"))
  .flatMap((name) => readFileSync(join(values.out, name), "utf8").split("\n"))
  .filter((line) => line !== "")
  .map((line) => JSON.parse(line) as { index: number; slope: number; regions: Row[] });
const n = replicas.length;
if (new Set(replicas.map(({ index }) => index)).size !== n) throw new Error("an index occurs twice");

const mean = (list: readonly number[]) => list.reduce((sum, value) => sum + value, 0) / list.length;
const sd = (list: readonly number[]) =>
  Math.sqrt(list.reduce((sum, v) => sum + (v - mean(list)) ** 2, 0) / (list.length - 1));
const ug = (kg: number) => (kg * 1e9).toFixed(3);
const percent = (part: number) => (100 * part).toFixed(1);

/** Exact (Clopper-Pearson) 95 % interval of a rate. */
function exact(count: number): string {
  const low = count === 0 ? 0 : betaQuantile(0.025, [count, n - count + 1]);
  const high = count === n ? 1 : betaQuantile(0.975, [count + 1, n - count]);
  return `${percent(count / n)} (${percent(low)}-${percent(high)})`;
}

const lines = replicas[0].regions.map(({ region, truth_kg }, k) => {
  const rows = replicas.map(({ regions }) => regions[k]);
  const hits = rows.filter(({ interval95_kg: [low, high] }) => low <= truth_kg && truth_kg <= high).length;
  const calls = rows.filter(({ twin_kg, critical_kg }) => twin_kg > critical_kg).length;
  const read = rows.map(({ value_kg }) => value_kg);
  const cells = [
    region,
    ug(truth_kg),
    ug(mean(read)),
    ug(sd(read)),
    ug(mean(rows.map(({ u_kg }) => u_kg))),
    exact(hits),
    ug(mean(rows.map(({ critical_kg }) => critical_kg))),
    ug(mean(rows.map(({ twin_kg }) => twin_kg))),
    exact(calls),
  ];
  return `| ${cells.join(" | ")} |`;
});

const table = [
  "| region | put in, µg Fe | mean read | sd read | mean u | coverage of 95 % intervals, % | critical level | zero twin, mean | false calls, % |",
  "|---|---|---|---|---|---|---|---|---|",
  ...lines,
].join("\n");
const slopes = replicas.map(({ slope }) => slope);
const text = `${n} replicas, noise x${values.noise}. Calibration slope ${mean(slopes).toFixed(3)} ± ${sd(slopes).toFixed(3)} (sd).\n\n${table}\n`;
console.log(text);
if (values.page) writeFileSync(values.page, text);
