import { type KernelBuild, type KernelName, kernelBinary } from "./kernel-binary.js";
import { KernelMemory, type MemoryRegion } from "./kernel-memory.js";
import { type WasmMemory, webAssembly } from "./web-assembly.js";

export interface KernelOptions {
  /** Where the kernel works. Default: a memory of its own. A shared memory is met by the build that is made for it. */
  readonly region?: MemoryRegion;
}

/** A kernel bound to its memory. Addresses and counts in, nothing out: results lie in the memory. */
export interface BoundKernel {
  readonly memory: KernelMemory;
  readonly call: (...addressesAndNumbers: number[]) => void;
}

/** Loads the build that fits the region and binds it. */
export async function instantiateKernel(
  name: KernelName,
  { region = { memory: new webAssembly.Memory({ initial: 1, maximum: 65536 }), from: 0 } }: KernelOptions = {},
): Promise<BoundKernel> {
  const binary = await kernelBinary(name, buildFor(region.memory));
  // The host's exp and log1p, so that a kernel that needs them has the bits of the definition.
  const env = { memory: region.memory, exp: Math.exp, log1p: Math.log1p };
  const { instance } = await webAssembly.instantiate(binary, { env });
  return { memory: new KernelMemory(region), call: instance.exports[name] as BoundKernel["call"] };
}

function buildFor({ buffer }: WasmMemory): KernelBuild {
  return typeof SharedArrayBuffer !== "undefined" && buffer instanceof SharedArrayBuffer ? "shared" : "unshared";
}
