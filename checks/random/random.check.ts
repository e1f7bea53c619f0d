import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
// Internals on purpose: the bits can only be compared from a state that both sides can be put into.
import { advance, sfc64State } from "../../src/numerics/random/sfc64.js";
import { stream, streamFrom } from "../../src/numerics/random/stream.js";
import { mix64 } from "../../src/numerics/random/stream-key.js";

interface Case {
  readonly state: [string, string, string];
  readonly counter: string;
  readonly raw: string[];
  readonly normals: number[];
  readonly tail: Record<string, number>;
  readonly sum: number;
  readonly count: number;
  readonly poisson: Record<string, number[]>;
}
interface Truth {
  readonly cases: Case[];
  readonly streams: { triple: [number, number, number]; normals: number[] }[];
}
const { cases, streams }: Truth = JSON.parse(readFileSync(new URL("truth.json", import.meta.url), "utf8"));

const stateOf = ({ state, counter }: Case) =>
  sfc64State([BigInt(state[0]), BigInt(state[1]), BigInt(state[2])], BigInt(counter));

describe.each(cases)("random stream against numpy, state $state, counter $counter", (truth) => {
  it("gives the same bits", () => {
    const state = stateOf(truth);
    const bits = truth.raw.map(() => {
      advance(state);
      return String((BigInt(state[9] >>> 0) << 32n) | BigInt(state[8] >>> 0));
    });
    expect(bits).toEqual(truth.raw);
  });

  it("gives the same normals, wedges and tails included", () => {
    const normals = streamFrom(stateOf(truth)).fillNormal(new Float64Array(truth.count));
    // Their tables are printed constants, ours are computed: rounding adds up over 255 strips towards the narrow top
    // ones (worst seen 2.5e-14).
    const gap = (i: number, value: number) => Math.abs(normals[i] - value) / (Math.abs(value) || 1);
    expect(Math.max(...truth.normals.map((value, i) => gap(i, value)))).toBeLessThan(1e-13);
    const tail = Object.entries(truth.tail).map(([i, value]) => gap(Number(i), value));
    expect(tail.length).toBeGreaterThan(10);
    expect(Math.max(...tail)).toBeLessThan(1e-13);
    // All 200,000: a single number drawn differently would shift every later one. Rounding of the sum: 1e-9.
    expect(Math.abs(normals.reduce((sum, value) => sum + value, 0) - truth.sum)).toBeLessThan(1e-9);
  });

  it.each(Object.keys(truth.poisson))("gives the same Poisson numbers, mean %s", (mean) => {
    const source = streamFrom(stateOf(truth));
    expect(truth.poisson[mean].map(() => source.poisson(Number(mean)))).toEqual(truth.poisson[mean]);
  });
});

describe("the stream of a triple", () => {
  it.each(streams)("$triple starts as a second implementation of its rule says", ({ triple, normals }) => {
    const source = stream(...triple);
    // Same limit as above; also pins the sequence: changing it would change the results of stored studies.
    for (const value of normals) expect(Math.abs(source.normal() / value - 1)).toBeLessThan(1e-13);
  });
});

describe("SplitMix64", () => {
  it("gives its published first outputs for seed 1234567", () => {
    // Values widely printed for this seed (from memory): 6457827717110365317, 3203168211198807973, ...
    const golden = 0x9e3779b97f4a7c15n;
    const outputs = [1n, 2n, 3n, 4n, 5n].map((k) => mix64(1234567n + k * golden));
    expect(outputs).toEqual([
      6457827717110365317n,
      3203168211198807973n,
      9817491932198370423n,
      4593380528125082431n,
      16408922859458223821n,
    ]);
  });
});
