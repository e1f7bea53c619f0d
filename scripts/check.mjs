// Format, lint, types, import picture, unit tests, outside checks and examples; the counts are the last line printed.
import { spawnSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { root, step } from "./ensure.mjs";

export function check() {
  const bin = (...parts) => join(root, "node_modules", ...parts);
  run("format and lint", bin("@biomejs", "biome", "bin", "biome"), ["check", "--error-on-warnings", "."]);
  run("types", bin("typescript", "bin", "tsc"), ["-p", "tsconfig.json"]);
  return tests(bin("vitest", "vitest.mjs"));
}

function run(title, script, args) {
  console.log(`\n== ${title}`);
  step(process.execPath, [script, ...args]);
}

function tests(vitest) {
  console.log("\n== tests, checks, examples");
  const folder = mkdtempSync(join(tmpdir(), "ferrule-test-"));
  const report = join(folder, "report.json");
  try {
    const args = [vitest, "run", "--reporter=default", "--reporter=json", `--outputFile.json=${report}`];
    const { status } = spawnSync(process.execPath, args, { cwd: root, stdio: "inherit" });
    const { numPassedTests, numFailedTests, numPendingTests, numTodoTests } = JSON.parse(readFileSync(report, "utf8"));
    if (numPendingTests > 0)
      console.log("Skipped tests need system tools that were not found: see `npx ferrule doctor`.");
    console.log(`tests: ${numPassedTests} passed, ${numFailedTests} failed, ${numPendingTests + numTodoTests} skipped`);
    return status ?? 3;
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

if (process.argv[1] === fileURLToPath(import.meta.url)) process.exitCode = check();
