// The WebAssembly twins, compiled from src/runtime/kernels/assembly. Every kernel is built twice from one source: with
// memory of its own, and with memory that workers share (a module built for one refuses the other).
// A folder named by the hash of the sources holds them, so that they are compiled only when something has changed.
import { createHash } from "node:crypto";
import {
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  writeFileSync,
} from "node:fs";
import { basename, dirname, join } from "node:path";
import { fileURLToPath } from "node:url";

const root = dirname(dirname(fileURLToPath(import.meta.url)));
const sources = join(root, "src", "runtime", "kernels", "assembly");
const cache = join(root, ".ferrule-build", "kernels");

/** Sources carry the ending .as: the compiler of the rest must not take them for TypeScript. */
const ending = ".as";
const entries = ["legendre", "macrospin", "normals"];
const common = [
  ...["--runtime", "minimal", "-O3", "--noAssert", "--converge", "--enable", "simd"],
  ...["--importMemory", "--noExportMemory", "--initialMemory", "1", "--maximumMemory", "65536"],
];
const builds = { unshared: common, shared: [...common, "--enable", "threads", "--sharedMemory"] };

/** @returns the folder that holds `<kernel>.<unshared|shared>.wasm`, built if need be */
export async function ensureKernels() {
  const folder = join(cache, hashOfSources());
  if (existsSync(folder)) return folder;
  mkdirSync(cache, { recursive: true });
  const fresh = mkdtempSync(join(cache, "building-"));
  try {
    const { default: compiler } = await import("assemblyscript/asc");
    for (const entry of entries)
      for (const [name, options] of Object.entries(builds))
        writeFileSync(join(fresh, `${entry}.${name}.wasm`), await compile(compiler, entry, options));
    renameSync(fresh, folder);
    forgetOthers(folder);
  } catch (error) {
    // Somebody else may have been quicker: theirs is the same.
    if (!existsSync(folder)) throw error;
  } finally {
    rmSync(fresh, { recursive: true, force: true });
  }
  return folder;
}

/** Builds of earlier sources; those in the making belong to somebody. */
function forgetOthers(folder) {
  for (const name of readdirSync(cache))
    if (name !== basename(folder) && !name.startsWith("building-")) rmSync(join(cache, name), { recursive: true });
}

async function compile(compiler, entry, options) {
  let binary;
  const { error, stderr } = await compiler.main([`${entry}.ts`, ...options, "--outFile", "kernel.wasm"], {
    readFile: (name) => {
      const file = join(sources, basename(name).replace(/\.ts$/, ending));
      return name.endsWith(".ts") && existsSync(file) ? readFileSync(file, "utf8") : null;
    },
    writeFile: (name, contents) => {
      if (name === "kernel.wasm") binary = contents;
    },
    listFiles: () => [],
  });
  if (error || binary === undefined) throw new Error(`kernel ${entry}: ${error?.message ?? "no output"}\n${stderr}`);
  return binary;
}

function hashOfSources() {
  const hash = createHash("sha256").update(JSON.stringify([entries, builds]));
  const { version } = JSON.parse(readFileSync(join(root, "node_modules", "assemblyscript", "package.json"), "utf8"));
  hash.update(version);
  for (const name of readdirSync(sources).sort()) hash.update(`\0${name}\0`).update(readFileSync(join(sources, name)));
  return hash.digest("hex").slice(0, 16);
}

if (process.argv[1] === fileURLToPath(import.meta.url)) console.log(await ensureKernels());
