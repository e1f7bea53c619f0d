// Coverage of the 95 % intervals of tracer parameters, model by model.
//   npx tsx campaigns/tracer-parameter-coverage/run.ts --model log-normal --from 0 --to 2000 [--out DIR]
// Models: log-normal, mixture, free-form, chain, harmonics, susceptibility, joint. Seeds are 200000 + index, fixed before
// the first run. Resumable and shardable: each index is one line of a JSONL file; what is there already is not run again;
// several processes may work on different ranges of the same folder.
import { appendFileSync, mkdirSync, readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { parseArgs } from "node:util";
import { type CoverageModel, coverageModels, tracerReplica } from "../../checks/tracer-fit/replicas.js";

const { values } = parseArgs({
  options: {
    model: { type: "string", default: "log-normal" },
    from: { type: "string", default: "0" },
    to: { type: "string", default: "2000" },
    out: { type: "string", default: "out/campaigns/tracer-parameter-coverage" },
  },
});
const model = coverageModels.find((name): name is CoverageModel => name === values.model);
if (model === undefined) throw new Error(`unknown model ${values.model}; one of ${coverageModels.join(", ")}`);
const [from, to] = [values.from, values.to].map(Number);
mkdirSync(values.out, { recursive: true });
const prefix = `${model}_`;
const done = new Set(
  readdirSync(values.out)
    .filter((name) => name.startsWith(prefix) && name.endsWith(".jsonl"))
    .flatMap((name) => readFileSync(join(values.out, name), "utf8").split("\n"))
    .filter((line) => line !== "")
    .map((line) => (JSON.parse(line) as { index: number }).index),
);
const file = join(values.out, `${prefix}${from}-${to}.jsonl`);
const began = performance.now();
for (let index = from; index < to; index++) {
  if (done.has(index)) continue;
  appendFileSync(file, `${JSON.stringify({ index, ...tracerReplica(model, index) })}\n`);
  if (index % 100 === 99) console.error(`${model} ${index + 1}  ${((performance.now() - began) / 1000).toFixed(0)} s`);
}
