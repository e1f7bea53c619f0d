import { spawn } from "node:child_process";
import { cpSync, existsSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { idealDocument } from "./invented-scanners.js";
import { root } from "./layers.js";
import { runFerrule } from "./run-ferrule.js";

const folder = mkdtempSync(join(tmpdir(), "ferrule-scanner-verbs-"));
afterAll(() => rmSync(folder, { recursive: true, force: true }));
const shipped = (path: string) => join(root, "shipped", path);
cpSync(shipped("tracers/free-cores-22-nm.json"), join(folder, "tracer.json"));
writeFileSync(join(folder, "scanner.json"), JSON.stringify(idealDocument({ subject: { part: "mouse" } })));

function sweep(name: string, change: object): string {
  const document = {
    schema: "urn:ferrule:sweep:1",
    name: "sweep",
    origin: { kind: "invented", note: "For a test." },
    tracer: "tracer.json",
    scanTime: "1 s",
    cases: [{ name: "a", scanner: "scanner.json" }],
    over: { gradient: ["1 T/m", "2 T/m"] },
    ...change,
  };
  writeFileSync(join(folder, name), JSON.stringify(document, null, 2));
  return name;
}

describe("bad input to the verbs of a scanner", () => {
  it("a coil inside the bore is refused with place and path, exit 2, nothing on stdout", () => {
    const coil = {
      windings: [{ kind: "loop", center: ["0 mm", "0 mm", "0 mm"], normal: "z", radius: "20 mm", turns: 3 }],
    };
    const drive = { axis: "z", maximumAmplitude: "20 mT", frequency: "25 kHz", coil };
    writeFileSync(join(folder, "bad.json"), JSON.stringify(idealDocument({ driveAxes: [drive] }), null, 2));
    const { code, stdout, stderr } = runFerrule(["inspect", "bad.json"], { cwd: folder });
    expect({ code, stdout }).toEqual({ code: 2, stdout: "" });
    expect(stderr).toMatch(/^bad\.json:\d+:\d+ at driveAxes\[0\]\.coil\.windings\[0\]: InvalidDocument/);
    expect(stderr).not.toMatch(/\bat .*\.js:/);
  });

  it("a sweep whose scanner is not there tells the place of its name", () => {
    const file = sweep("lost.json", { cases: [{ name: "a", scanner: "missing.json" }] });
    const { code, stdout, stderr } = runFerrule(["plan", "--sweep", file], { cwd: folder });
    expect({ code, stdout }).toEqual({ code: 2, stdout: "" });
    expect(stderr).toMatch(
      /^lost\.json:13:18 at cases\[0\]\.scanner: InvalidFile\n.*"missing\.json", which cannot be read/,
    );
  });

  it("with --json the refusal is the one document", () => {
    const { code, stdout } = runFerrule(["plan", "--json"], { cwd: folder });
    expect(code).toBe(2);
    expect(JSON.parse(stdout)).toMatchObject({ error: { code: "MissingFact" } });
  });
});

// Windows has no signals to send to another process.
describe.runIf(process.platform !== "win32")("Ctrl-C during a sweep", () => {
  it("ends it with exit 130, and writes nothing", async () => {
    // 3,000 drives of a tracer with an equation of its own for each: many seconds of work.
    const range = (from: string, to: string, count: number) => ({ from, to, count, spacing: "even" });
    const over = { driveAmplitude: range("1 mT", "20 mT", 60), frequency: range("1 kHz", "100 kHz", 50) };
    const file = sweep("long.json", { over });
    const main = join(root, "dist", "cli", "main.js");
    const child = spawn(process.execPath, [main, "plan", "--sweep", file, "--out", "interrupted"], {
      cwd: folder,
      stdio: ["ignore", "pipe", "pipe"],
    });
    let stderr = "";
    child.stderr.on("data", (part) => {
      stderr += part;
    });
    const ended = new Promise<number | null>((resolve) => child.on("close", resolve));
    await new Promise((resolve) => setTimeout(resolve, 3000));
    child.kill("SIGINT");
    expect(await ended).toBe(130);
    expect(stderr).toMatch(/^stopped: /);
    expect(existsSync(join(folder, "interrupted"))).toBe(false);
  }, 60_000);
});
