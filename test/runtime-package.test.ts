import { execFileSync, spawnSync } from "node:child_process";
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { root } from "./layers.js";
import { runFerrule } from "./run-ferrule.js";

// The worker pool and the kernels as somebody else would use them: from the packed tarball, in an empty folder.
let folder: string;
const npm = process.env.npm_execpath;

function runNpm(args: readonly string[], cwd: string): string {
  const quiet = ["--no-fund", "--no-audit", "--loglevel=error", "--prefer-offline"];
  return npm
    ? execFileSync(process.execPath, [npm, ...args, ...quiet], { cwd, encoding: "utf8" })
    : execFileSync("npm", [...args, ...quiet], { cwd, encoding: "utf8", shell: process.platform === "win32" });
}

function runScript(lines: string): { status: number | null; stdout: string; stderr: string } {
  const { status, stdout, stderr } = spawnSync(process.execPath, ["--input-type=module", "-e", lines], {
    cwd: folder,
    encoding: "utf8",
    timeout: 60_000,
  });
  return { status, stdout, stderr };
}

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "ferrule-runtime-"));
  const [{ filename }] = JSON.parse(runNpm(["pack", "--json", "--ignore-scripts", "--pack-destination", folder], root));
  writeFileSync(join(folder, "package.json"), JSON.stringify({ name: "user", private: true, type: "module" }));
  runNpm(["install", join(folder, filename)], folder);
}, 180_000);
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe("the packed runtime", () => {
  it("holds two builds of every kernel", () => {
    const kernels = readdirSync(join(folder, "node_modules", "ferrule", "dist", "runtime", "kernels"));
    expect(kernels.filter((name) => name.endsWith(".wasm")).sort()).toEqual(
      ["legendre", "macrospin", "normals"].flatMap((name) => [`${name}.shared.wasm`, `${name}.unshared.wasm`]),
    );
  });

  it("loads its kernels on the main thread and in workers, gives the same bits, and ends by itself", () => {
    const { status, stdout, stderr } = runScript(`
      import { fokkerPlanckEnsemble, kernelSet, runJob } from "ferrule/runtime";
      import { brownianEnsemble, cosineDrive } from "ferrule/physics";
      const particles = {
        xiPerTesla: Float64Array.from({ length: 9 }, (_, i) => 100 + 20 * i),
        brownTime_s: new Float64Array(9).fill(4e-6),
        weight: new Float64Array(9).fill(1 / 9),
      };
      const argument = {
        drive: { kind: "cosine", amplitude_T: 20e-3, frequency_Hz: 25e3 }, particles, samples: 16, tolerance: 1e-6,
      };
      const options = { samples: 16, tolerance: 1e-6 };
      const field = cosineDrive(20e-3, 25e3);
      const definition = brownianEnsemble(field, particles, options);
      const here = brownianEnsemble(field, particles, { ...options, kernel: await kernelSet("wasm").brownian() });
      const there = await runJob(fokkerPlanckEnsemble, argument, { workers: 2 });
      console.log(JSON.stringify([definition, here, there].map(({ magnetisation }) => Array.from(magnetisation))));`);
    expect({ status, stderr }).toEqual({ status: 0, stderr: "" });
    const [definition, here, there] = JSON.parse(stdout);
    expect(Math.max(...definition)).toBeGreaterThan(0.3);
    expect(here).toEqual(definition);
    expect(there).toEqual(definition);
  });

  it("ends by itself when a job is stopped in the middle", () => {
    const { status, stdout, stderr } = runScript(`
      import { macrospinChains, runJob } from "ferrule/runtime";
      const argument = {
        chain: { spins: 2, moment_A_m2: 1.87e-18, spacing_m: 24e-9, easyAxes: { kind: "none" }, damping: 0.1, temperature_K: 300 },
        run: { field: { kind: "constant", field_T: 5e-3 }, times_s: Float64Array.of(1e-3), step_s: 1e-13, chains: 64, seed: 1 },
      };
      await runJob(macrospinChains, argument, { workers: 2, signal: AbortSignal.timeout(1000) })
        .catch((error) => console.log(error.code));`);
    expect({ status, stdout: stdout.trim(), stderr }).toEqual({ status: 0, stdout: "Cancelled", stderr: "" });
  });
});

describe("a command that needs no workers", () => {
  it("loads neither the pool nor a kernel", () => {
    const log = join(folder, "loads.txt");
    writeFileSync(log, "");
    const preload = ["--import", join(root, "test", "record-loads.mjs")];
    const { code } = runFerrule(["formula", "langevin", "xi=2"], {
      node: preload,
      env: { FERRULE_TEST_LOAD_LOG: log },
    });
    expect(code).toBe(0);
    const loads = readFileSync(log, "utf8");
    expect(loads).toContain("cli/main.js");
    expect(loads).not.toMatch(/piscina|\/runtime\/|wasm/);
  });
});
