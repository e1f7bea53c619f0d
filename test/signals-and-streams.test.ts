import { type ChildProcess, spawn, spawnSync } from "node:child_process";
import {
  closeSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  openSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { wantsColour } from "../src/cli/face.js";
import { writeLargeCurve } from "./large-curve.js";
import { root } from "./layers.js";
import { runFerrule } from "./run-ferrule.js";

const main = join(root, "dist", "cli", "main.js");
const shippedCurve = join(root, "shipped", "curves", "clustered-iron-oxide", "FSL-DCM_data.txt");
let folder: string;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "ferrule-signals-"));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

interface Ending {
  readonly code: number | null;
  readonly signal: NodeJS.Signals | null;
  readonly stderr: string;
}

function ending(child: ChildProcess): Promise<Ending> {
  let stderr = "";
  child.stderr?.on("data", (part) => {
    stderr += part;
  });
  return new Promise((resolve) => child.on("close", (code, signal) => resolve({ code, signal, stderr })));
}

const pause = (milliseconds: number) => new Promise((resolve) => setTimeout(resolve, milliseconds));

describe("a reader of stdout that goes away", () => {
  it.each([[["formula"]], [["formula", "--json"]], [["fit", shippedCurve, "--json"]]])(
    "%j ends quietly, as if it had been read",
    async (args) => {
      const child = spawn(process.execPath, [main, ...args], { stdio: ["ignore", "pipe", "pipe"] });
      child.stdout?.destroy();
      expect(await ending(child)).toEqual({ code: 0, signal: null, stderr: "" });
    },
  );

  it("does not keep a fit from writing its files", async () => {
    const out = join(folder, "unread");
    const child = spawn(process.execPath, [main, "fit", shippedCurve, "--out", out], {
      stdio: ["ignore", "pipe", "pipe"],
    });
    child.stdout?.destroy();
    expect(await ending(child)).toMatchObject({ code: 0, stderr: "" });
    expect(readdirSync(out).sort()).toEqual(["fit.csv", "fit.json", "fit.svg", "tracer.json"]);
  });
});

// A device that is always full exists on Linux only.
describe.runIf(existsSync("/dev/full"))("a full disk behind stdout", () => {
  it("is told on stderr, exit 2, no stack", () => {
    const full = openSync("/dev/full", "w");
    const { status, stderr } = spawnSync(process.execPath, [main, "formula", "langevin", "xi=2"], {
      stdio: ["ignore", full, "pipe"],
      encoding: "utf8",
    });
    closeSync(full);
    expect({ status, stderr }).toEqual({ status: 2, stderr: "standard output: file: no space left on the disk\n" });
  });

  it("behind stderr changes nothing", () => {
    const full = openSync("/dev/full", "w");
    const { status } = spawnSync(process.execPath, [main, "formula", "nosuch"], { stdio: ["ignore", "pipe", full] });
    closeSync(full);
    expect(status).toBe(2);
  });
});

// Windows has no signals to send to another process.
describe.runIf(process.platform !== "win32")("Ctrl-C", () => {
  it("ends a fit at once, by the signal itself, with nothing half-written", async () => {
    const curve = join(folder, "long.txt");
    writeLargeCurve(curve, 300_000);
    const out = join(folder, "interrupted");
    const child = spawn(process.execPath, [main, "fit", curve, "--out", out], { stdio: ["ignore", "pipe", "pipe"] });
    const ended = ending(child);
    await pause(1000);
    const sent = performance.now();
    child.kill("SIGINT");
    const { code, signal } = await ended;
    expect({ code, signal }).toEqual({ code: null, signal: "SIGINT" });
    // At once: the default action needs no turn of our loop; half a second is for a busy machine.
    expect(performance.now() - sent).toBeLessThan(500);
    expect(existsSync(out)).toBe(false);
  });

  it("stops a study between two slices: exit 130, what was finished stays, no lock, no part", async () => {
    expect(runFerrule(["new", "study", "--from", "four-spheres"], { cwd: folder }).code).toBe(0);
    const child = spawn(process.execPath, [main, "run", "study"], { cwd: folder, stdio: ["ignore", "pipe", "pipe"] });
    const ended = ending(child);
    const derived = join(folder, "study", "derived");
    for (let waited = 0; waited < 60_000 && !hasScan(derived); waited += 100) await pause(100);
    child.kill("SIGINT");
    const { code, signal, stderr } = await ended;
    expect({ code, signal, stderr }).toEqual({
      code: 130,
      signal: null,
      stderr: "stopped: what was finished is kept, nothing is half-written\n",
    });
    const left = readdirSync(join(folder, "study"), { recursive: true }).map(String);
    expect(left.filter((name) => /\.part|lock/.test(name))).toEqual([]);
    expect(hasScan(derived)).toBe(true);
    expect(existsSync(join(folder, "study", "results"))).toBe(false);
  }, 120_000);
});

const hasScan = (derived: string) =>
  existsSync(derived) && readdirSync(derived).some((name) => name.startsWith("scan-"));

describe("results that cannot all be written", () => {
  it("a folder in the place of one file refuses them all, and names that place", () => {
    const out = join(folder, "taken");
    mkdirSync(join(out, "fit.csv"), { recursive: true });
    const { code, stderr } = runFerrule(["fit", shippedCurve, "--out", out, "--replace"]);
    expect(code).toBe(2);
    expect(stderr).toContain(join(out, "fit.csv"));
    expect(stderr).not.toMatch(/\.part|Nothing was written/);
    expect(readdirSync(out)).toEqual(["fit.csv"]);
  });

  it("a file in the place of the folder, and no folder at all, are bad input", () => {
    const out = join(folder, "a-file");
    writeFileSync(out, "mine");
    expect(runFerrule(["fit", shippedCurve, "--out", out, "--replace"]).code).toBe(2);
    expect(readFileSync(out, "utf8")).toBe("mine");
    const before = readdirSync(folder).sort();
    expect(runFerrule(["fit", shippedCurve, "--out", ""], { cwd: folder }).code).toBe(2);
    expect(readdirSync(folder).sort()).toEqual(before);
  });

  it("existing results are kept without --replace, and replaced whole with it", () => {
    const out = join(folder, "again");
    expect(runFerrule(["fit", shippedCurve, "--out", out]).code).toBe(0);
    writeFileSync(join(out, "fit.csv"), "old");
    expect(runFerrule(["fit", shippedCurve, "--out", out]).code).toBe(2);
    expect(readFileSync(join(out, "fit.csv"), "utf8")).toBe("old");
    expect(runFerrule(["fit", shippedCurve, "--out", out, "--replace"]).code).toBe(0);
    expect(readFileSync(join(out, "fit.csv"), "utf8")).not.toBe("old");
    expect(readdirSync(out)).toHaveLength(4);
  });
});

describe("a long table", () => {
  it("of 120,000 rows is fitted, and drawn in under 1 MB with every number in the CSV", () => {
    const curve = join(folder, "rows.txt");
    writeLargeCurve(curve, 120_000);
    const out = join(folder, "rows");
    const { code, stderr } = runFerrule(["fit", curve, "--out", out]);
    expect({ code, stderr }).toEqual({ code: 0, stderr: "" });
    expect(statSync(join(out, "fit.svg")).size).toBeLessThan(1e6);
    expect(readFileSync(join(out, "fit.csv"), "utf8").trimEnd().split("\r\n")).toHaveLength(120_001);
  });
});

describe("colour", () => {
  it.each([
    [true, undefined, true],
    [true, "", true],
    [true, "1", false],
    [true, "0", false],
    [false, undefined, false],
    [false, "1", false],
  ])("terminal %s, NO_COLOR %j: %s", (isTerminal, noColor, expected) => {
    expect(wantsColour({ isTerminal, noColor })).toBe(expected);
  });

  it("a pipe gets none, whatever FORCE_COLOR says", () => {
    const { stdout, stderr } = runFerrule(["formula"], { env: { FORCE_COLOR: "1", NO_COLOR: undefined } });
    // biome-ignore lint/suspicious/noControlCharactersInRegex: the escape character is what we look for
    expect(stdout + stderr).not.toMatch(/\u001b/);
  });
});
