import { cpSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { idealDocument, receiveDocument, shippedFile } from "../../../test/invented-scanners.js";
import { isKnownError } from "../../errors.js";
import { readSweep } from "./read-sweep.js";

const folder = mkdtempSync(join(tmpdir(), "ferrule-sweep-"));
afterAll(() => rmSync(folder, { recursive: true, force: true }));
cpSync(shippedFile("studies/four-spheres/tracer/langevin-25-nm.json"), join(folder, "tracer.json"));
writeFileSync(join(folder, "scanner.json"), JSON.stringify(idealDocument({ subject: { part: "mouse" } })));
writeFileSync(join(folder, "broken.json"), '{ "schema": ');

/** One member a line, so that places can be told. */
function written(change: Readonly<Record<string, unknown>> = {}): string {
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
  const file = join(folder, "sweep.json");
  writeFileSync(file, JSON.stringify(document, null, 2));
  return file;
}

function refusal(file: string) {
  try {
    readSweep(file);
  } catch (error) {
    if (isKnownError(error)) return { code: error.code, ...error.place, found: error.found };
    throw error;
  }
  throw new Error("nothing was refused");
}

describe("a sweep document with its files", () => {
  it("is read relative to its own folder; a case's subject takes the place of the scanner's", () => {
    const cases = [
      { name: "a", scanner: "scanner.json" },
      { name: "b", scanner: "scanner.json", subject: { part: "rat" } },
    ];
    const { scanners, tracer, sweep } = readSweep(written({ cases }));
    expect(scanners.map(({ subject }) => subject?.part)).toEqual(["mouse", "rat"]);
    expect(sweep.cases).toHaveLength(2);
    expect(tracer.relaxation.kind).toBe("none");
  });

  it("the shipped one is sound", () => {
    expect(readSweep(shippedFile("scanners/human-scale.json")).scanners).toHaveLength(3);
  });

  it("a file that is not there is told with the place of its name", () => {
    const scanner = refusal(written({ cases: [{ name: "a", scanner: "missing.json" }] }));
    expect(scanner).toMatchObject({ code: "InvalidFile", path: "cases[0].scanner", line: 13, column: 18 });
    expect(scanner.found).toContain('"missing.json", which cannot be read');
    expect(refusal(written({ tracer: "nowhere.json" }))).toMatchObject({
      code: "InvalidFile",
      path: "tracer",
      line: 8,
    });
  });

  it("a file that is not sound is told as that file's fault", () => {
    const broken = refusal(written({ cases: [{ name: "a", scanner: "broken.json" }] }));
    expect(broken.file).toBe(join(folder, "broken.json"));
  });

  it("more than 200,000 points are refused, with their number", () => {
    const range = (from: string, to: string) => ({ from, to, count: 500, spacing: "even" });
    const over = { gradient: range("1 T/m", "2 T/m"), frequency: range("1 kHz", "2 kHz") };
    expect(refusal(written({ over }))).toMatchObject({ path: "over", found: "250000 points", line: 16 });
    const most = { ...over, frequency: { ...over.frequency, count: 400 } };
    expect(readSweep(written({ over: most })).sweep.over.frequency_Hz).toHaveLength(400);
  });

  it("a quantity that is swept cannot also be a case's own", () => {
    const cases = [{ name: "a", scanner: "scanner.json", gradient: "3 T/m" }];
    expect(refusal(written({ cases }))).toMatchObject({
      path: "cases[0].gradient",
      found: "a value of a quantity that is swept",
      line: 14,
      column: 19,
    });
  });

  it("refuses a drive that a case's digitiser would fold back, where the sweep asks for it", () => {
    writeFileSync(
      join(folder, "digital.json"),
      JSON.stringify(
        idealDocument({ receive: [receiveDocument({ digitiser: { bits: 16, range: "1 V", rate: "5 MS/s" } })] }),
      ),
    );
    const cases = [{ name: "a", scanner: "digital.json" }];
    expect(refusal(written({ cases, over: { frequency: ["10 kHz", "3 MHz"] } }))).toMatchObject({
      code: "InvalidValue",
      path: "over.frequency",
      found: expect.stringContaining("3000000 Hz"),
    });
    expect(refusal(written({ cases: [{ ...cases[0], frequency: "2.5 MHz" }] }))).toMatchObject({
      path: "cases[0].frequency",
    });
    expect(readSweep(written({ cases, over: { frequency: ["10 kHz", "2.4 MHz"] } })).scanners).toHaveLength(1);
  });
});
