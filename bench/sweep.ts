import { fileURLToPath } from "node:url";
import { parseDocument } from "../src/documents/index.js";
import { type LoadedSweep, readScanner, runSweep, sweepReport } from "../src/workbench/index.js";
import { readTextInput } from "../src/workbench/store/read-input.js";
import { median, type Problem } from "./measure.js";

/**
 * A sweep of 10,000 points: two invented scanners, each over 10 gradients, 10 drives, 10 frequencies and 5 bores, with a
 * tracer without relaxation. `npx tsx bench/sweep.ts` times it with its progress calls, and the heap that it leaves.
 */
const shipped = (path: string) => fileURLToPath(new URL(`../shipped/${path}`, import.meta.url));
const tracerFile = "studies/four-spheres/tracer/langevin-25-nm.json";
const range = (from: string, to: string, count: number) => ({ from, to, count, spacing: "ratio" });

const sweepDocument = {
  schema: "urn:ferrule:sweep:1",
  name: "ten thousand points",
  origin: { kind: "invented", note: "For timing." },
  tracer: tracerFile,
  scanTime: "60 s",
  cases: [
    { name: "mouse", scanner: "scanners/mouse-point.json" },
    { name: "head", scanner: "scanners/head-concept.json" },
  ],
  over: {
    gradient: range("0.1 T/m", "7 T/m", 10),
    driveAmplitude: range("2 mT", "20 mT", 10),
    frequency: range("5 kHz", "100 kHz", 10),
    boreDiameter: range("40 mm", "400 mm", 5),
  },
};

export function tenThousandPoints(): LoadedSweep {
  const sweep = parseDocument(JSON.stringify(sweepDocument), { family: "sweep" }).model;
  return {
    sweep,
    tracer: parseDocument(readTextInput(shipped(tracerFile)), { family: "tracer" }).model,
    scanners: sweep.cases.map(({ scannerPath }) => readScanner(shipped(scannerPath))),
  };
}

export function sweepProblems(): Problem[] {
  const loaded = tenThousandPoints();
  return [{ name: "sweep-1e4", size: "10,000 points: 2 scanners, 4 axes", run: () => runSweep(loaded) }];
}

async function timeIt(): Promise<void> {
  const loaded = tenThousandPoints();
  const times: number[] = [];
  let calls = 0;
  for (let round = 0; round < 6; round++) {
    calls = 0;
    const began = performance.now();
    const result = await runSweep(loaded, { onProgress: () => calls++ });
    const time_s = (performance.now() - began) / 1000;
    if (round > 0) times.push(time_s);
    else console.log(`first run ${time_s.toFixed(2)} s`);
    if (round === 5) console.log(`${sweepReport(result).cases.length} cases, shape ${result.shape.join(" x ")}`);
  }
  const [low, high] = [Math.min(...times), Math.max(...times)];
  console.log(`warm: median ${median(times).toFixed(2)} s, ${low.toFixed(2)} to ${high.toFixed(2)} s; ${calls} calls`);
}

if (process.argv[1] === fileURLToPath(import.meta.url)) await timeIt();
