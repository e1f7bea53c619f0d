import { beforeAll, describe, expect, it } from "vitest";
import { isKnownError } from "../../errors.js";
import { type NormalKernel, stream } from "../../numerics/index.js";
import { advance, sfc64State } from "../../numerics/random/sfc64.js";
import { streamFrom } from "../../numerics/random/stream.js";
import { streamKey } from "../../numerics/random/stream-key.js";
import {
  type BrownianKernel,
  type LegendreSteps,
  legendreSteps,
  type MacrospinBlock,
  type MacrospinKernel,
  macrospinSteps,
} from "../../physics/index.js";
import type { KernelOptions } from "./instantiate.js";
import { type KernelName, kernelBinary } from "./kernel-binary.js";
import { loadLegendreTwin } from "./legendre-twin.js";
import { loadMacrospinTwin } from "./macrospin-twin.js";
import { loadNormalsTwin } from "./normals-twin.js";
import { type WasmMemory, webAssembly } from "./web-assembly.js";

// One suite for every implementation of a kernel: the definition itself, its twin in memory of its own, and its twin in
// shared memory. Tolerance: none. Both do the same operations of IEEE 754 in the same order.
const sharedMemory = (): WasmMemory => new webAssembly.Memory({ initial: 1, maximum: 65536, shared: true });
const implementations: readonly [string, (() => KernelOptions) | undefined][] = [
  ["definition", undefined],
  ["unshared twin", () => ({})],
  ["shared twin", () => ({ region: { memory: sharedMemory(), from: 4096 } })],
];

/** Positions at which two arrays differ in any bit (signed zeros and NaN told apart). */
function differing(a: Float64Array, b: Float64Array): number {
  const [x, y] = [new BigUint64Array(a.buffer, a.byteOffset, a.length), new BigUint64Array(b.buffer, b.byteOffset)];
  return x.reduce((count, bits, i) => count + (bits === y[i] ? 0 : 1), a.length === b.length ? 0 : 1);
}

/** Particles of several sizes in steps of unequal length: every branch of the loop is taken. */
function legendreCase(particles: number, { moments = 24, steps = 60 } = {}): LegendreSteps {
  const random = stream(20261125, 1, particles);
  const field = (at: number) => 20e-3 * Math.cos(0.1 * at);
  return {
    stageField_T: Float64Array.from({ length: 3 * steps }, (_, i) => field(i / 3)),
    step_s: Float64Array.from({ length: steps }, (_, s) => (s % 20 < 7 ? 2e-7 : 5e-7)),
    xiPerTesla: Float64Array.from({ length: particles }, () => 1000 * random.uniform()),
    brownTime_s: Float64Array.from({ length: particles }, () => 1e-5 * random.uniform()),
    moments,
    state: random.fillNormal(new Float64Array(moments * particles)).map((value) => 0.1 * value),
    trace: new Float64Array(steps * particles),
    tail: new Float64Array(particles),
  };
}

function macrospinCase(spins: number, chains: number, { steps = 20, thermalField_T = 0.03 } = {}): MacrospinBlock {
  const random = stream(20261125, 2, 100 * spins + chains);
  const directions = (n: number) => {
    const out = random.fillNormal(new Float64Array(3 * n));
    for (let i = 0; i < n; i++) {
      const length = Math.hypot(out[i], out[n + i], out[2 * n + i]);
      for (const at of [i, n + i, 2 * n + i]) out[at] /= length;
    }
    return out;
  };
  return {
    spins,
    chains,
    steps,
    state: directions(spins * chains),
    easyAxis: directions(spins * chains),
    fieldDirection: directions(chains),
    field_T: Float64Array.from({ length: steps + 1 }, (_, k) => 0.02 * Math.cos(0.3 * k)),
    dipoleField_T: Float64Array.from({ length: spins }, (_, n) => (n === 0 ? 0 : 0.05 / n ** 3)),
    anisotropyField_T: 0.04,
    thermalField_T,
    noise: random.fillNormal(new Float64Array(thermalField_T > 0 ? steps * 3 * spins * chains : 0)),
    precession_per_T: 0.3,
    damping: 0.1,
  };
}

const streamState = (seed: number): Int32Array => {
  const state = sfc64State(streamKey(seed, 0, 0), 1n);
  for (let i = 0; i < 12; i++) advance(state);
  return state;
};

describe.each(implementations)("%s", (_, options) => {
  let brownian: BrownianKernel = legendreSteps;
  let macrospin: MacrospinKernel = macrospinSteps;
  let normals: NormalKernel = (state, out) => streamFrom(state).fillNormal(out);
  beforeAll(async () => {
    if (options === undefined) return;
    brownian = await loadLegendreTwin(options());
    macrospin = await loadMacrospinTwin(options());
    normals = await loadNormalsTwin(options());
    // A fresh clone compiles the kernels first.
  }, 120_000);

  it.each([1, 2, 3, 4, 5, 8, 11])("legendre, %i particles: the definition's bits", (particles) => {
    const [expected, actual] = [legendreCase(particles), legendreCase(particles)];
    legendreSteps(expected);
    brownian(actual);
    expect(Math.max(...expected.trace)).toBeGreaterThan(0.1);
    expect(differing(actual.trace, expected.trace)).toBe(0);
    expect(differing(actual.state, expected.state)).toBe(0);
    expect(differing(actual.tail, expected.tail)).toBe(0);
    expect(differing(actual.stageField_T, legendreCase(particles).stageField_T)).toBe(0);
  });

  it.each([
    [1, 200],
    [2, 50],
    [300, 3],
  ])("legendre, %i moments and %i steps: the definition's bits", (moments, steps) => {
    const [expected, actual] = [legendreCase(3, { moments, steps }), legendreCase(3, { moments, steps })];
    legendreSteps(expected);
    brownian(actual);
    expect(differing(actual.trace, expected.trace)).toBe(0);
    expect(differing(actual.state, expected.state)).toBe(0);
  });

  it.each([
    [1, 1],
    [1, 2],
    [2, 3],
    [5, 4],
    [8, 7],
    [8, 32],
  ])("macrospin, %i spins in %i chains: the definition's bits", (spins, chains) => {
    for (const thermalField_T of [0.03, 0]) {
      const make = () => macrospinCase(spins, chains, { thermalField_T });
      const [expected, actual] = [make(), make()];
      macrospinSteps(expected);
      macrospin(actual);
      expect(differing(expected.state, make().state)).toBeGreaterThan(0);
      expect(differing(actual.state, expected.state)).toBe(0);
      expect(differing(actual.easyAxis, make().easyAxis)).toBe(0);
    }
  });

  it("the same kernel serves blocks of different size one after the other", () => {
    for (const [spins, chains, steps] of [
      [2, 3, 5],
      [16, 64, 40],
      [1, 1, 1],
    ]) {
      const [expected, actual] = [macrospinCase(spins, chains, { steps }), macrospinCase(spins, chains, { steps })];
      macrospinSteps(expected);
      macrospin(actual);
      expect(differing(actual.state, expected.state)).toBe(0);
    }
  });

  it("a million normals in uneven pieces: the definition's bits and its state", () => {
    const [expected, actual] = [streamState(7), streamState(7)];
    const source = streamFrom(expected);
    for (const length of [1, 999_000, 0, 999]) {
      const wanted = source.fillNormal(new Float64Array(length));
      expect(differing(normals(actual, new Float64Array(length)), wanted)).toBe(0);
      expect([...actual]).toEqual([...expected]);
    }
  });
});

describe("the binaries", () => {
  const names: readonly KernelName[] = ["legendre", "macrospin", "normals"];

  it.each(names)(
    "%s holds no global, so that instances in one memory share nothing but what the host says",
    async (name) => {
      for (const build of ["unshared", "shared"] as const)
        expect({ build, globals: sections(await kernelBinary(name, build)).includes(globalSection) }).toEqual({
          build,
          globals: false,
        });
    },
  );

  it("two kernels work in separate regions of one shared memory", async () => {
    const memory = sharedMemory();
    memory.grow(31);
    const [first, second] = [
      await loadMacrospinTwin({ region: { memory, from: 0, to: 1 << 20 } }),
      await loadLegendreTwin({ region: { memory, from: 1 << 20, to: 2 << 20 } }),
    ];
    const [spun, relaxed] = [macrospinCase(8, 5), legendreCase(5)];
    first(spun);
    second(relaxed);
    const [expectedSpun, expectedRelaxed] = [macrospinCase(8, 5), legendreCase(5)];
    macrospinSteps(expectedSpun);
    legendreSteps(expectedRelaxed);
    expect(differing(spun.state, expectedSpun.state)).toBe(0);
    expect(differing(relaxed.trace, expectedRelaxed.trace)).toBe(0);
  });

  it("a region that is too small is refused before anything is written past it", async () => {
    const memory = sharedMemory();
    const kernel = await loadMacrospinTwin({ region: { memory, from: 0, to: 4096 } });
    try {
      kernel(macrospinCase(8, 32));
      expect.unreachable();
    } catch (error) {
      expect(isKnownError(error, "InvalidValue")).toBe(true);
    }
  });

  it("the shared build refuses unshared memory, which is why there are two", async () => {
    const memory = new webAssembly.Memory({ initial: 1, maximum: 65536 });
    const binary = await kernelBinary("macrospin", "shared");
    await expect(webAssembly.instantiate(binary, { env: { memory } })).rejects.toThrow(/shared/);
  });
});

const globalSection = 6;

/** Numbers of the sections of a module: a byte of kind, a length in base 128, the content. */
function sections(binary: Uint8Array): number[] {
  const found: number[] = [];
  for (let at = 8; at < binary.length; ) {
    found.push(binary[at++]);
    let length = 0;
    for (let shift = 0; ; shift += 7) {
      const byte = binary[at++];
      length += (byte & 0x7f) * 2 ** shift;
      if (byte < 0x80) break;
    }
    at += length;
  }
  return found;
}
