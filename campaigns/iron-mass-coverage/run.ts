// Coverage of iron-mass intervals on the shipped study, with the zero-iron twin of every sphere.
//   npx tsx campaigns/iron-mass-coverage/run.ts --from 0 --to 2000 [--noise 1] [--out out/campaigns/iron-mass-coverage]
// Seeds are 100000 + index, fixed before the first run. Resumable and shardable: each index is one line of a JSONL file;
// what is there already is not run again; several processes may work on different ranges of the same folder.
import { appendFileSync, existsSync, mkdirSync, readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { parseArgs } from "node:util";
import { prepareReplicas, replica } from "../../checks/thread/replicas.js";
import { shippedThread } from "../../checks/thread/shipped-study.js";

const { values } = parseArgs({
  options: {
    from: { type: "string", default: "0" },
    to: { type: "string", default: "2000" },
    noise: { type: "string", default: "1" },
    out: { type: "string", default: "out/campaigns/iron-mass-coverage" },
  },
});
const [from, to, noiseFactor] = [values.from, values.to, values.noise].map(Number);
mkdirSync(values.out, { recursive: true });
const prefix = `noise-${values.noise}-`;
const done = new Set(
  readdirSync(values.out)
    .filter((name) => name.startsWith(prefix) && name.endsWith(".jsonl"))
    .flatMap((name) => readFileSync(join(values.out, name), "utf8").split("\n"))
    .filter((line) => line !== "")
    .map((line) => (JSON.parse(line) as { index: number }).index),
);
const file = join(values.out, `${prefix}${from}-${to}.jsonl`);
const setup = prepareReplicas(shippedThread(), {
  offsetGrid_m: [0.41e-3, 0.41e-3, 0.16e-3],
  onProgress: (text) => console.error(text),
});
if (existsSync(file)) console.error(`resuming ${file}`);
const began = performance.now();
for (let index = from; index < to; index++) {
  if (done.has(index)) continue;
  const { answers, twins, slope } = replica(setup, 100_000 + index, { noiseFactor });
  const regions = answers.map((answer, i) => ({
    region: answer.region,
    truth_kg: setup.objects[i]?.iron_kg ?? 0,
    value_kg: answer.value_kg,
    u_kg: answer.standardUncertainty_kg,
    interval95_kg: answer.interval95_kg,
    precision_kg: answer.precisionOnly.standardUncertainty_kg,
    critical_kg: answer.criticalLevel_kg,
    twin_kg: twins[i] ?? answer.value_kg,
  }));
  appendFileSync(file, `${JSON.stringify({ index, slope, regions })}\n`);
  if (index % 50 === 0) console.error(`${index}  ${((performance.now() - began) / 1000).toFixed(0)} s`);
}
