import { cpSync, mkdirSync, mkdtempSync, readFileSync, rmSync, symlinkSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { DocumentError } from "../../documents/index.js";
import { FerruleError } from "../../errors.js";
import { contentHash } from "./content-hash.js";
import { readStudyFolder } from "./study-folder.js";

const fixtures = fileURLToPath(new URL("../../documents/fixtures", import.meta.url));
let folder: string;
let studyFile: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "ferrule-study-"));
  studyFile = join(folder, "study.json");
  cpSync(fixtures, folder, { recursive: true });
  cpSync(join(folder, "phantom.json"), join(folder, "standard.json"));
  mkdirSync(join(folder, "scans"));
  writeFileSync(join(folder, "scans", "pilot.mdf"), "recorded");
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

/** study.json with a text replaced. */
function edit(file: string, from: string, to: string): void {
  const text = readFileSync(join(folder, file), "utf8");
  expect(text).toContain(from);
  writeFileSync(join(folder, file), text.replace(from, to));
}

/** Line (from 1) of study.json on which a text stands. */
function lineOf(text: string): number {
  return (
    1 +
    readFileSync(studyFile, "utf8")
      .split("\n")
      .findIndex((line) => line.includes(text))
  );
}

function refusal(): FerruleError {
  try {
    readStudyFolder(folder);
  } catch (error) {
    if (error instanceof FerruleError) return error;
    throw error;
  }
  throw new Error("accepted");
}

describe("readStudyFolder", () => {
  it("reads every document that the study names, with the hash of its bytes", () => {
    const { study, tracer, tracerCurve, scanner, protocol, phantoms, recordings } = readStudyFolder(folder);
    expect(study.model.name).toBe("Example study");
    expect([tracer?.family, scanner.family, protocol.family]).toEqual(["tracer", "scanner", "protocol"]);
    expect(tracerCurve).toBeUndefined();
    expect([...phantoms.keys()]).toEqual(["phantom.json", "standard.json"]);
    expect(phantoms.get("standard.json")?.model.objects).toHaveLength(3);
    for (const file of [study, tracer!, scanner, protocol, ...phantoms.values(), ...recordings.values()])
      expect(file.sha256).toBe(contentHash(readFileSync(join(folder, file.path))));
    expect(scanner.placeOf(["boreDiameter"])).toMatchObject({ file: join(folder, "scanner.json"), line: 5 });
  });

  it("takes a curve in place of a tracer document, and tracers to compare with", () => {
    writeFileSync(join(folder, "curve.txt"), "0 0\n");
    edit(
      "study.json",
      '"tracer": "tracer.json"',
      '"tracerCurve": { "curve": "curve.txt" }, "comparisonTracers": ["tracer.json"]',
    );
    const { tracer, tracerCurve, comparisonTracers } = readStudyFolder(folder);
    expect(tracer).toBeUndefined();
    expect(tracerCurve).toEqual({
      curve: { path: "curve.txt", file: join(folder, "curve.txt"), sha256: contentHash("0 0\n") },
      descriptor: undefined,
    });
    expect(comparisonTracers.map(({ model }) => model.name)).toEqual(["Example tracer A"]);
  });

  it("the hash of a file follows its bytes, and only that file's", () => {
    const before = readStudyFolder(folder);
    edit("phantom.json", "5 ug", "6 ug");
    const after = readStudyFolder(folder);
    expect(after.phantoms.get("phantom.json")?.sha256).not.toBe(before.phantoms.get("phantom.json")?.sha256);
    expect(after.phantoms.get("standard.json")?.sha256).toBe(before.phantoms.get("standard.json")?.sha256);
  });
});

describe("refusals", () => {
  it.each([
    ["tracer.json", "tracer"],
    ["scanner.json", "scanner"],
    ["protocol.json", "protocol"],
    ["standard.json", "scans[1].phantom"],
    ["scans/pilot.mdf", "scans[3].recorded"],
  ])("%s missing: told at the line of study.json that names it", (path, place) => {
    rmSync(join(folder, path));
    const error = refusal();
    expect(error).toMatchObject({
      code: "InvalidFile",
      place: { file: studyFile, line: lineOf(`"${path}"`), path: place },
    });
    expect(error.message).toContain(`"${path}", which is not there`);
  });

  it("a broken document: the line of study.json first, then every fault inside the document", () => {
    edit("scanner.json", '"60 mm"', '"60 mn"');
    edit("scanner.json", '"field-free-point"', '"field-free-spot"');
    const error = refusal();
    expect(error).toBeInstanceOf(DocumentError);
    const { problems, problemCount } = error as DocumentError;
    expect(problemCount).toBe(3);
    expect(problems.map(({ file, line, path }) => ({ file, line, path }))).toEqual([
      { file: studyFile, line: lineOf("scanner.json"), path: "scanner" },
      { file: join(folder, "scanner.json"), line: 5, path: "boreDiameter" },
      { file: join(folder, "scanner.json"), line: 6, path: "topology" },
    ]);
  });

  it("text that is no JSON and a document of another family are told the same way", () => {
    writeFileSync(join(folder, "tracer.json"), "{");
    expect((refusal() as DocumentError).problems).toMatchObject([{ path: "tracer" }, { line: 1, column: 2 }]);
    cpSync(join(folder, "scanner.json"), join(folder, "tracer.json"));
    expect(refusal().message).toMatch(/"tracer\.json", which cannot be used.*\n.*a scanner document/);
  });

  it("a folder where a file should be, and a link that leads out", () => {
    rmSync(join(folder, "tracer.json"));
    mkdirSync(join(folder, "tracer.json"));
    expect(refusal()).toMatchObject({
      place: { file: studyFile, path: "tracer" },
      found: expect.stringContaining("a folder"),
    });
    rmSync(join(folder, "tracer.json"), { recursive: true });
    symlinkSync(join(fixtures, "tracer.json"), join(folder, "tracer.json"));
    expect(refusal()).toMatchObject({ place: { path: "tracer" }, found: expect.stringContaining("leads out") });
  });

  it("a folder that is no study", () => {
    rmSync(studyFile);
    expect(refusal()).toMatchObject({ code: "InvalidFile", place: { file: studyFile }, found: "no such file" });
  });

  it("a fault of study.json itself", () => {
    edit("study.json", '"tracer": "tracer.json"', '"tracer": "../tracer.json"');
    expect(refusal()).toMatchObject({ place: { file: studyFile, path: "tracer" } });
  });
});
