import { spawnSync } from "node:child_process";
import { mkdtempSync, readdirSync, readFileSync, renameSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { smallStudy } from "../checks/thread/small-study.js";
import type { Face } from "../src/cli/face.js";
import { buildProgram } from "../src/cli/program.js";
import { root } from "./layers.js";
import { runFerrule } from "./run-ferrule.js";

let folder: string;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "ferrule-cli-"));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const silent: Face = {
  print: () => {},
  note: () => {},
  progress: () => {},
  bold: (text) => text,
  faint: (text) => text,
  signal: new AbortController().signal,
};
const verbs = buildProgram(silent, () => {}).commands.map((verb) => verb.name());

/** The lines below "Examples:" in a verb's help, as argument lists. */
function examplesOf(verb: string): string[][] {
  const { stdout } = runFerrule([verb, "--help"]);
  const after = stdout.split("Examples:\n")[1] ?? "";
  return after
    .split("\n")
    .filter((line) => line.startsWith("  ferrule "))
    .map((line) =>
      splitShell(
        line
          .trim()
          .replace(/^ferrule /, "")
          .replace(/ > .*$/, ""),
      ),
    );
}

/** Words of a shell line whose only quoting is "double quotes". */
function splitShell(line: string): string[] {
  return [...line.matchAll(/(?:[^\s"]|"[^"]*")+/g)].map(([word]) => word.replace(/"/g, ""));
}

describe("every verb", () => {
  it.each(verbs)(
    "%s --help shows an example, and the example works",
    (verb) => {
      const lines = examplesOf(verb);
      expect(lines.length).toBeGreaterThan(0);
      const cwd = mkdtempSync(join(folder, "example-"));
      // Every verb but `new` finds the study that its example names: the shipped one, cut down to run in seconds.
      if (verb !== "new" && lines.flat().includes("my-study")) renameSync(smallStudy(), join(cwd, "my-study"));
      for (const args of lines) {
        const inRoot = args.map((arg) => (arg.startsWith("shipped/") ? join(root, arg) : arg));
        const { code, stderr } = runFerrule(inRoot, { cwd });
        expect({ args, code, stderr: code === 0 ? "" : stderr }).toEqual({ args, code: 0, stderr: "" });
      }
    },
    120_000,
  );

  it.each(verbs)("%s refuses an unknown option with exit 2 and no stack", (verb) => {
    const { code, stdout, stderr } = runFerrule([verb, "--jsom"]);
    expect(code).toBe(2);
    expect(stdout).toBe("");
    expect(stderr).toMatch(/unknown option '--jsom'/);
    expect(stderr).not.toMatch(/\n\s+at /);
  });
});

describe("exit codes and streams", () => {
  it("an unknown verb is bad input, and the nearest verb is named", () => {
    const { code, stderr } = runFerrule(["formla"]);
    expect(code).toBe(2);
    expect(stderr).toMatch(/Did you mean formula/);
  });

  it("an unknown option names the nearest", () => {
    expect(runFerrule(["formula", "--jsno"]).stderr).toMatch(/Did you mean --json/);
  });

  it("no verb at all prints help and is bad input", () => {
    const { code, stderr, stdout } = runFerrule([]);
    expect(code).toBe(2);
    expect(stdout + stderr).toMatch(/Usage: ferrule/);
  });

  it("--version prints the package's version", () => {
    const { version } = JSON.parse(readFileSync(join(root, "package.json"), "utf8"));
    expect(runFerrule(["--version"])).toMatchObject({ code: 0, stdout: `${version}\n` });
  });

  it("with --json, an error is one document on stdout", () => {
    const { code, stdout } = runFerrule(["formula", "langevin", "xi=2 mT", "--json"]);
    expect(code).toBe(2);
    expect(JSON.parse(stdout).error).toMatchObject({ code: "UnitMismatch", path: "xi" });
  });

  it("--json before the verb means the same as after it", () => {
    const after = runFerrule(["formula", "langevin", "xi=2", "--json"]);
    expect(runFerrule(["--json", "formula", "langevin", "xi=2"])).toEqual(after);
  });

  it("help of an unknown verb is bad input, and names the nearest", () => {
    const { code, stdout, stderr } = runFerrule(["help", "fitt"]);
    expect({ code, stdout }).toEqual({ code: 2, stdout: "" });
    expect(stderr).toMatch(/did you mean "fit"/);
    expect(runFerrule(["help", "fit"]).stdout).toBe(runFerrule(["fit", "--help"]).stdout);
  });

  it("a name that resembles nothing gets no far-fetched guess", () => {
    expect(runFerrule(["formula", "__proto__"]).stderr).not.toMatch(/did you mean/);
  });

  it("a missing file, a folder and a binary file are bad input, without a stack and without output", () => {
    const binary = join(folder, "binary.txt");
    writeFileSync(binary, Buffer.from([0, 1, 2, 3, 255, 254, 0, 0]));
    const out = join(folder, "never");
    for (const file of ["nowhere.txt", folder, binary]) {
      const { code, stderr } = runFerrule(["fit", file, "--out", out], { cwd: folder });
      expect({ file, code }).toEqual({ file, code: 2 });
      expect(stderr).not.toMatch(/\n\s+at /);
    }
    expect(readdirSync(folder)).not.toContain("never");
  });
});

describe("what a light verb loads", () => {
  it("formula loads the parser, units, physics and handbook, and nothing heavy", () => {
    const log = join(folder, "loads.txt");
    writeFileSync(log, "");
    const preload = ["--import", join(root, "test", "record-loads.mjs")];
    const { code } = runFerrule(["formula", "langevin", "xi=2"], {
      node: preload,
      env: { FERRULE_TEST_LOAD_LOG: log },
    });
    expect(code).toBe(0);
    const urls = readFileSync(log, "utf8").trim().split("\n");
    const packages = new Set(urls.flatMap((url) => /node_modules\/((?:@[^/]+\/)?[^/]+)/.exec(url)?.[1] ?? []));
    expect([...packages].sort()).toEqual(["commander", "fastest-levenshtein"]);
    const layers = new Set(urls.flatMap((url) => /dist\/([a-z]+)[/.]/.exec(url)?.[1] ?? []));
    expect([...layers].sort()).toEqual([
      "cli",
      "errors",
      "handbook",
      "imaging",
      "measure",
      "numerics",
      "physics",
      "safety",
      "units",
    ]);
  });
});

describe("no telemetry", () => {
  it.each([
    ["formula", "psf-width", "core-diameter=25 nm", "saturation=446 kA/m", "temperature=300 K"],
    ["doctor"],
    ["completion", "bash"],
    ["fit", join(root, "shipped", "curves", "clustered-iron-oxide", "FSL-DCM_data.txt"), "--out", "network-fit"],
  ])("%s touches no socket, no name server, no fetch", (...args) => {
    const log = join(folder, "network.txt");
    writeFileSync(log, "");
    const preload = ["--import", join(root, "test", "block-network.mjs")];
    const { code, stderr } = runFerrule(args, { cwd: folder, node: preload, env: { FERRULE_TEST_NETWORK_LOG: log } });
    expect({ code, stderr: code === 0 ? "" : stderr }).toEqual({ code: 0, stderr: "" });
    expect(readFileSync(log, "utf8")).toBe("");
  });

  it("the block works: a command that did connect would be written down", () => {
    const log = join(folder, "probe.txt");
    writeFileSync(log, "");
    const probe = join(folder, "probe.mjs");
    writeFileSync(probe, 'import net from "node:net"; try { net.connect(9, "127.0.0.1"); } catch {}');
    const { status } = spawnProbe(probe, log);
    expect(status).toBe(0);
    expect(readFileSync(log, "utf8")).toMatch(/net\.connect/);
  });
});

function spawnProbe(script: string, log: string) {
  return spawnSync(process.execPath, ["--import", join(root, "test", "block-network.mjs"), script], {
    env: { ...process.env, FERRULE_TEST_NETWORK_LOG: log },
  });
}
