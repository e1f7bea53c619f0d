import { execFileSync, spawnSync } from "node:child_process";
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { homedir, tmpdir } from "node:os";
import { join, relative } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { root } from "./layers.js";

// The packed tarball installed into an empty folder, as somebody else would use it.
let folder: string;
let installed: string;
const npm = process.env.npm_execpath;

function runNpm(args: readonly string[], cwd: string): string {
  const quiet = ["--no-fund", "--no-audit", "--loglevel=error", "--prefer-offline"];
  return npm
    ? execFileSync(process.execPath, [npm, ...args, ...quiet], { cwd, encoding: "utf8" })
    : execFileSync("npm", [...args, ...quiet], { cwd, encoding: "utf8", shell: process.platform === "win32" });
}

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "ferrule-pack-"));
  const [{ filename }] = JSON.parse(runNpm(["pack", "--json", "--ignore-scripts", "--pack-destination", folder], root));
  writeFileSync(join(folder, "package.json"), JSON.stringify({ name: "user", private: true, type: "module" }));
  runNpm(["install", join(folder, filename)], folder);
  installed = join(folder, "node_modules", "ferrule");
}, 180_000);
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe("the packed tarball", () => {
  it("imports, and computes W1 and W6 of the references", () => {
    const script = `
      import { physics, units, handbook } from "ferrule";
      const { outputs } = handbook.evaluateFormula("psf-width", {
        "core-diameter": "25 nm", saturation: "446 kA/m", temperature: "300 K" });
      console.log(JSON.stringify({ L: physics.langevin(2), mT: outputs[0].value, T: units.parseQuantity("5 mT", "appliedField") }));`;
    const { stdout, stderr, status } = spawnSync(process.execPath, ["--input-type=module", "-e", script], {
      cwd: folder,
      encoding: "utf8",
    });
    expect({ status, stderr }).toEqual({ status: 0, stderr: "" });
    const { L, mT, T } = JSON.parse(stdout);
    expect(L).toBeCloseTo(0.537314720728, 10);
    expect(mT).toBeCloseTo(4.72339, 5);
    expect(T).toBe(0.005);
  });

  it("runs the command", () => {
    const bin = join(installed, "dist", "cli", "main.js");
    const { stdout, status } = spawnSync(process.execPath, [bin, "formula", "langevin", "xi=2", "--json"], {
      cwd: folder,
      encoding: "utf8",
    });
    expect(status).toBe(0);
    expect(JSON.parse(stdout).outputs[0].value).toBeCloseTo(0.537314720728, 10);
    expect(
      existsSync(join(folder, "node_modules", ".bin", process.platform === "win32" ? "ferrule.cmd" : "ferrule")),
    ).toBe(true);
  });

  it("carries types for every door of the exports map, its schemas and its notices", () => {
    const { exports } = JSON.parse(readFileSync(join(installed, "package.json"), "utf8"));
    for (const [door, target] of Object.entries<string | { types?: string; default: string }>(exports)) {
      if (typeof target === "string" || door.includes("*")) continue;
      expect({ door, types: existsSync(join(installed, target.types ?? "missing")) }).toEqual({ door, types: true });
      expect({ door, code: existsSync(join(installed, target.default)) }).toEqual({ door, code: true });
    }
    for (const file of ["LICENSE", "NOTICE", "THIRD-PARTY.md", "dist/schemas/tracer-1.schema.json", "shipped"])
      expect({ file, there: existsSync(join(installed, file)) }).toEqual({ file, there: true });
  });

  it("holds no tests, no sources and no machine paths", () => {
    const files = readdirSync(installed, { recursive: true, withFileTypes: true })
      .filter((entry) => entry.isFile())
      .map((entry) => join(entry.parentPath, entry.name));
    expect(files.length).toBeGreaterThan(20);
    expect(files.filter((file) => /\.test\.|(^|[\\/])src[\\/]|build-stamp/.test(relative(installed, file)))).toEqual(
      [],
    );
    // Where this clone lies, this user's home, and a computer's user folders in general.
    const places = [root, homedir(), "/Users/", "C:\\Users"].filter((place) => place.length > 3);
    const tellers = files.filter((file) => {
      const text = readFileSync(file, "latin1");
      return places.some((place) => text.includes(`${place}${/[\\/]$/.test(place) ? "" : "/"}`));
    });
    expect(tellers).toEqual([]);
  });

  it("type-checks for a strict consumer", () => {
    writeFileSync(
      join(folder, "use.ts"),
      'import { physics } from "ferrule";\nexport const value: number = physics.langevin(2);\n',
    );
    const compilerOptions = { noEmit: true, strict: true, module: "nodenext", target: "es2023", types: [] };
    writeFileSync(join(folder, "tsconfig.json"), JSON.stringify({ compilerOptions, files: ["use.ts"] }));
    const args = [join(root, "node_modules", "typescript", "bin", "tsc"), "-p", "."];
    const { stdout, status } = spawnSync(process.execPath, args, { cwd: folder, encoding: "utf8" });
    expect({ status, stdout }).toEqual({ status: 0, stdout: "" });
  });
});
