import { execFileSync } from "node:child_process";
import { mkdtempSync } from "node:fs";
import { cpus, loadavg, tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { median } from "./measure.js";

/** A contender: does its work once and says how long that took, s. Rivals in other languages time themselves. */
export interface Contender {
  readonly name: string;
  readonly time_s: () => number | Promise<number>;
}

/** Times a function on this thread. */
export const timed = (name: string, run: () => unknown): Contender => ({
  name,
  time_s: async () => {
    const began = performance.now();
    await run();
    return (performance.now() - began) / 1000;
  },
});

/**
 * Runs all contenders once a round, and prints medians, ranges, and for every pair asked for the median over rounds of the
 * ratio within a round: what else the machine does then falls on both.
 */
export async function contest(
  contenders: readonly Contender[],
  ratios: readonly (readonly [string, string])[],
  { rounds = 9, warmUp = 1 } = {},
): Promise<void> {
  const before = loadavg()[0];
  const samples = new Map<string, number[]>(contenders.map(({ name }) => [name, []]));
  for (let round = -warmUp; round < rounds; round++)
    for (const { name, time_s } of contenders) {
      const taken = await time_s();
      if (round >= 0) of(samples, name).push(taken);
    }
  const [load0, load1] = [before, loadavg()[0]].map((load) => load.toFixed(1));
  console.log(`Node ${process.version}, ${cpus().length} x ${cpus()[0]?.model ?? "unknown processor"};`);
  console.log(`${rounds} interleaved rounds after ${warmUp}, load average ${load0} before and ${load1} after.\n`);
  console.log("| contender | median, ms | range, ms |\n|---|---|---|");
  const ms = (seconds: number) => (1e3 * seconds).toPrecision(3);
  for (const [name, own] of samples)
    console.log(`| ${name} | ${ms(median(own))} | ${ms(Math.min(...own))} to ${ms(Math.max(...own))} |`);
  console.log("\n| ratio of times | median | range |\n|---|---|---|");
  for (const [name, to] of ratios) {
    const shares = of(samples, name).map((time, i) => time / of(samples, to)[i]);
    const [low, high] = [Math.min(...shares), Math.max(...shares)].map((share) => share.toPrecision(3));
    console.log(`| ${name} / ${to} | ${median(shares).toPrecision(3)} | ${low} to ${high} |`);
  }
}

function of(samples: ReadonlyMap<string, number[]>, name: string): number[] {
  const own = samples.get(name);
  if (own === undefined) throw new Error(`no contender is called ${name}`);
  return own;
}

const here = (file: string): string => fileURLToPath(new URL(file, import.meta.url));

/** Compiles a C file of this folder for this very machine. @returns a function that runs it and splits what it prints */
export function cProgram(name: string): (...words: (string | number)[]) => number[] {
  const program = join(mkdtempSync(join(tmpdir(), "ferrule-bench-")), name);
  execFileSync("cc", ["-O3", "-march=native", "-Wno-psabi", "-o", program, here(`${name}.c`), "-lm"]);
  return (...words) => execFileSync(program, words.map(String), { encoding: "utf8" }).trim().split(" ").map(Number);
}

/** Runs a Python file of this folder and reads the JSON that it prints. */
export function python<Answer>(file: string, ...words: (string | number)[]): Answer {
  return JSON.parse(execFileSync("python3", [here(file), ...words.map(String)], { encoding: "utf8" })) as Answer;
}
