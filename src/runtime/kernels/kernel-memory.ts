import { FerruleError } from "../../errors.js";
import type { WasmMemory } from "./web-assembly.js";

/** A stretch of a memory: all of it and what it may grow by, or the part of one worker among several. */
export interface MemoryRegion {
  readonly memory: WasmMemory;
  /** First byte, a multiple of 16. */
  readonly from: number;
  /** Byte after the last. Left out: to the end, growing where it must. */
  readonly to?: number;
}

const page = 65536;

/** Kernels work on pairs: the partner of the last value of an odd row is read past the row's end. */
const slack = 16;

/**
 * The one layout of a kernel's memory, owned by the host: arrays are laid one after the other, and a kernel gets their
 * addresses. Kernels have no allocator, no stack in memory and no globals that change, so that several of them can work
 * in separate regions of one shared memory.
 */
export class KernelMemory {
  readonly #region: MemoryRegion;
  #next: number;

  constructor(region: MemoryRegion) {
    this.#region = region;
    this.#next = region.from;
  }

  /** Forgets every array: the next call lays out its own. */
  clear(): void {
    this.#next = this.#region.from;
  }

  /** Room for `length` doubles. @returns its address, a multiple of 16 */
  reserve(length: number): number {
    const address = this.#next;
    this.#next = address + Math.ceil((8 * length + slack) / 16) * 16;
    this.#grow(this.#next);
    return address;
  }

  /** A copy of the values. @returns its address */
  place(values: Float64Array): number {
    const address = this.reserve(values.length);
    new Float64Array(this.#region.memory.buffer, address, values.length).set(values);
    return address;
  }

  /** Copies what lies at an address into `out`. */
  read(address: number, out: Float64Array): void {
    out.set(new Float64Array(this.#region.memory.buffer, address, out.length));
  }

  /** The 32-bit words at an address; good until the next array is laid out. */
  words(address: number, length: number): Int32Array {
    return new Int32Array(this.#region.memory.buffer, address, length);
  }

  #grow(end: number): void {
    const { memory, to } = this.#region;
    if (to === undefined) {
      const missing = end - memory.buffer.byteLength;
      if (missing > 0) memory.grow(Math.ceil(missing / page));
    } else if (end > to)
      throw new FerruleError("InvalidValue", {
        path: "region",
        found: `${to - this.#region.from} bytes for arrays that need ${end - this.#region.from} or more`,
        accepted: "a larger region, or one without an end (its memory then grows)",
      });
  }
}
