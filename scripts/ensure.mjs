// What a fresh clone needs before anything can run: the exact dependencies and the compiled program.
// Both are done only when something they depend on has changed; a stamp remembers the hash of those inputs.
import { spawnSync } from "node:child_process";
import { createHash } from "node:crypto";
import {
  chmodSync,
  cpSync,
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  writeFileSync,
} from "node:fs";
import { dirname, join, relative, sep } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";

export const root = dirname(dirname(fileURLToPath(import.meta.url)));
const installStamp = join(root, "node_modules", ".ferrule-installed");
const buildStamp = join(root, ".ferrule-build", "stamp");

/** Runs a step and throws with its exit code when it fails. */
export function step(command, args, options = {}) {
  const { status, error } = spawnSync(command, args, { cwd: root, stdio: "inherit", ...options });
  if (error) throw error;
  if (status !== 0) throw Object.assign(new Error(`${command} ${args.join(" ")} ended with ${status}`), { status });
}

/** @returns seconds spent, 0 when nothing was to be done */
export function ensureInstalled() {
  const wanted = hashOf(["package.json", "package-lock.json"], process.version);
  if (read(installStamp) === wanted) return 0;
  console.log("Installing ...");
  const began = performance.now();
  const quiet = ["ci", "--include=dev", "--no-fund", "--no-audit", "--loglevel=error"];
  const npm = process.env.npm_execpath;
  if (npm) step(process.execPath, [npm, ...quiet], { stdio: ["ignore", "ignore", "inherit"] });
  else step("npm", quiet, { stdio: ["ignore", "ignore", "inherit"], shell: process.platform === "win32" });
  writeFileSync(installStamp, wanted);
  return (performance.now() - began) / 1000;
}

/** @returns seconds spent, 0 when the build is up to date */
export async function ensureBuilt() {
  const wanted = hashOf([
    ...sources("src"),
    "scripts/ensure.mjs",
    "scripts/kernels.mjs",
    "tsconfig.json",
    "tsconfig.build.json",
    "package.json",
    "package-lock.json",
  ]);
  if (read(buildStamp) === wanted && existsSync(join(root, "dist", "index.js"))) return 0;
  console.log("Building ...");
  const began = performance.now();
  const fresh = join(root, ".ferrule-build", "dist");
  rmSync(fresh, { recursive: true, force: true });
  const tsc = join(root, "node_modules", "typescript", "bin", "tsc");
  step(process.execPath, [tsc, "-p", "tsconfig.build.json", "--outDir", fresh]);
  await writeSchemas(fresh);
  await writeKernels(fresh);
  chmodSync(join(fresh, "cli", "main.js"), 0o755);
  // The old build stays usable until the new one is whole.
  rmSync(join(root, "dist"), { recursive: true, force: true });
  renameSync(fresh, join(root, "dist"));
  writeFileSync(buildStamp, wanted);
  return (performance.now() - began) / 1000;
}

/** The JSON Schemas of our documents ship as files, so that an editor can use them without a network. */
async function writeSchemas(folder) {
  const { jsonSchemas } = await import(pathToFileURL(join(folder, "documents", "index.js")).href);
  const target = join(folder, "schemas");
  mkdirSync(target, { recursive: true });
  for (const [urn, schema] of jsonSchemas()) {
    const [, , family, version] = urn.split(":");
    writeFileSync(join(target, `${family}-${version}.schema.json`), `${JSON.stringify(schema, null, 2)}\n`);
  }
}

/** The WebAssembly twins lie beside the code that loads them. */
async function writeKernels(folder) {
  const { ensureKernels } = await import("./kernels.mjs");
  cpSync(await ensureKernels(), join(folder, "runtime", "kernels"), { recursive: true });
}

function hashOf(files, salt = "") {
  const hash = createHash("sha256").update(salt);
  for (const file of files) hash.update(`\0${file}\0`).update(readFileSync(join(root, file)));
  return hash.digest("hex");
}

function sources(folder) {
  const entries = readdirSync(join(root, folder), { recursive: true, withFileTypes: true });
  return entries
    .filter((entry) => entry.isFile() && !entry.name.endsWith(".test.ts"))
    .map((entry) => relative(root, join(entry.parentPath, entry.name)).split(sep).join("/"))
    .sort();
}

function read(file) {
  return existsSync(file) ? readFileSync(file, "utf8") : undefined;
}
