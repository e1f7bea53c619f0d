import { cpSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { idealDocument, shippedFile } from "../../../test/invented-scanners.js";
import { isKnownError } from "../../errors.js";
import type { Face } from "../face.js";
import { buildProgram } from "../program.js";

const folder = mkdtempSync(join(tmpdir(), "ferrule-plan-"));
afterAll(() => rmSync(folder, { recursive: true, force: true }));
cpSync(shippedFile("studies/four-spheres/tracer/langevin-25-nm.json"), join(folder, "tracer.json"));
cpSync(shippedFile("scanners/head-concept.json"), join(folder, "head.json"));
writeFileSync(join(folder, "ideal.json"), JSON.stringify(idealDocument({ subject: { part: "mouse" } })));

const sweepFile = join(folder, "sweep.json");
writeFileSync(
  sweepFile,
  JSON.stringify({
    schema: "urn:ferrule:sweep:1",
    name: "two of a kind",
    origin: { kind: "invented", note: "For a test." },
    tracer: "tracer.json",
    scanTime: "1 s",
    cases: [
      { name: "head", scanner: "head.json", subject: { part: "human-head" } },
      { name: "ideal", scanner: "ideal.json" },
    ],
    over: { gradient: ["0.2 T/m", "0.4 T/m"], driveAmplitude: ["1.5 mT", "3 mT", "6 mT"] },
  }),
);

interface Run {
  readonly lines: readonly string[];
  readonly progress: readonly string[];
}

async function plan(args: readonly string[], signal = new AbortController().signal): Promise<Run> {
  const [lines, progress]: [string[], string[]] = [[], []];
  const face: Face = {
    print: (line) => lines.push(...line.split("\n")),
    note: () => {},
    progress: (text) => progress.push(text),
    bold: (text) => text,
    faint: (text) => text,
    signal,
  };
  await buildProgram(face, () => {}).parseAsync(["plan", ...args], { from: "user" });
  return { lines, progress };
}

const failure = async (args: readonly string[], signal?: AbortSignal) => {
  const error = await plan(args, signal).catch((caught: unknown) => caught);
  if (!isKnownError(error)) throw error;
  return { code: error.code, path: error.place.path };
};

describe("ferrule plan --sweep", () => {
  it("prints each case as it stands and over the sweep, with units, and what is not known as such", async () => {
    const { lines, progress } = await plan(["--sweep", sweepFile]);
    const row = (name: string) =>
      lines.filter((line) => line.startsWith(`  ${name}`)).map((line) => line.split(/ {2,}/));
    expect(lines[0]).toBe("two of a kind: 2 cases, 6 points each, tracer 25 nm Langevin tracer");
    expect(row("drive, peak")[0].slice(2)).toEqual(["6.00 mT", "20.0 mT"]);
    expect(row("drive, peak")[1].slice(2)).toEqual(["1.50 mT to 6.00 mT", "1.50 mT to 6.00 mT"]);
    expect(row("stored energy")[0][3]).toBe("not known");
    expect(row("conductor")[0][3]).toBe("not known");
    expect(row("drive over strictest threshold")[0][3]).toBe("no published threshold in our sources");
    expect(row("first limit of the subject")[0].slice(2)).toEqual([
      "nerve stimulation (peak to peak), drive z at 25 kHz",
      "no published threshold in our sources",
    ]);
    expect(lines.join("\n")).toContain("selection power ~ G^2 a^3, stored energy ~ G^2 a^5");
    expect(lines.join("\n")).not.toMatch(/NaN|undefined|Infinity|\[object|\bsafe(ly|ty)?\b/i);
    expect(progress.some((text) => /^sweeping \d+ %/.test(text))).toBe(true);
  });

  it("--json is one document, --out writes it with the table and the figures, once", async () => {
    const out = join(folder, "out");
    mkdirSync(out);
    const { lines } = await plan(["--sweep", sweepFile, "--out", out, "--json"]);
    expect(lines).toHaveLength(1);
    const report = JSON.parse(lines[0]);
    expect(report).toMatchObject({ schema: "urn:ferrule:sweep-result:1", shape: [2, 3, 1, 1] });
    expect(readdirSync(out)).toEqual(expect.arrayContaining(["sweep.csv", "sweep.json", "trade-off-lines.svg"]));
    const { files, ...rest } = report;
    expect(files).toContain(join(out, "sweep.csv"));
    expect(JSON.parse(readFileSync(join(out, "sweep.json"), "utf8"))).toEqual(rest);
    expect(readFileSync(join(out, "sweep.csv"), "utf8").split("\r\n")).toHaveLength(1 + 12 + 1);
    await expect(plan(["--sweep", sweepFile, "--out", out])).rejects.toThrow(/sweep/);
  });

  it("without a sweep, with a file that is none, and after Ctrl-C says what is wrong", async () => {
    expect(await failure([])).toEqual({ code: "MissingFact", path: "--sweep" });
    expect((await failure(["--sweep", join(folder, "ideal.json")])).path).toBe("schema");
    const abort = new AbortController();
    abort.abort();
    expect((await failure(["--sweep", sweepFile], abort.signal)).code).toBe("Cancelled");
  });
});
