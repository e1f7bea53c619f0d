import { once } from "./once.js";

export type KernelName = "legendre" | "macrospin" | "normals";

/** One source, two builds: a module made for shared memory refuses a memory that is not, and the other way round. */
export type KernelBuild = "unshared" | "shared";

// Literal addresses: a bundler of a page finds the files by them.
const binaries: Readonly<Record<KernelName, Readonly<Record<KernelBuild, () => URL>>>> = {
  legendre: {
    unshared: () => new URL("./legendre.unshared.wasm", import.meta.url),
    shared: () => new URL("./legendre.shared.wasm", import.meta.url),
  },
  macrospin: {
    unshared: () => new URL("./macrospin.unshared.wasm", import.meta.url),
    shared: () => new URL("./macrospin.shared.wasm", import.meta.url),
  },
  normals: {
    unshared: () => new URL("./normals.unshared.wasm", import.meta.url),
    shared: () => new URL("./normals.shared.wasm", import.meta.url),
  },
};

/** The compiled bytes of a kernel: beside this file in a build or a package, from a cache when run from source. */
export async function kernelBinary(name: KernelName, build: KernelBuild): Promise<Uint8Array> {
  const beside = binaries[name][build]();
  if (beside.protocol !== "file:") return new Uint8Array(await (await fetch(beside)).arrayBuffer());
  const { readFile } = await import("node:fs/promises");
  if (!import.meta.url.endsWith(".ts")) return readFile(beside);
  const { join } = await import("node:path");
  return readFile(join(await builtFromSource(), `${name}.${build}.wasm`));
}

/** Only in a clone: compiles what changed and says where it lies. In a process of its own, for the compiler is large. */
const builtFromSource = once(async () => {
  const { execFile } = await import("node:child_process");
  const { promisify } = await import("node:util");
  const { fileURLToPath } = await import("node:url");
  const script = fileURLToPath(new URL("../../../scripts/kernels.mjs", import.meta.url));
  const { stdout } = await promisify(execFile)(process.execPath, [script]);
  return stdout.trim();
});
