import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { FerruleError } from "../../errors.js";
import { writeNpy } from "../../formats/index.js";
import { fitDocument } from "../fit/fit-document.js";
import { fitMeasurements } from "../fit/fit-measurements.js";
import { openArtifactStore } from "../store/artifact-store.js";
import { contentHash } from "../store/content-hash.js";
import { encodeMap } from "../store/npy-map.js";
import { encodeScan } from "../store/npy-scan.js";
import { writeResults } from "../store/write-results.js";
import { inspectFile } from "./inspect-file.js";

const fixtures = fileURLToPath(new URL("../../documents/fixtures", import.meta.url));
const curves = fileURLToPath(new URL("../../../shipped/curves/clustered-iron-oxide", import.meta.url));
let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "ferrule-inspect-"));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

const at = (name: string) => join(folder, name);

function refusal(path: string): FerruleError {
  try {
    inspectFile(path);
  } catch (error) {
    if (error instanceof FerruleError) return error;
    throw error;
  }
  throw new Error(`accepted: ${path}`);
}

/** A study of one phantom in the temporary folder. */
function makeStudy(): void {
  cpSync(fixtures, folder, { recursive: true });
  const study = JSON.parse(readFileSync(at("study.json"), "utf8"));
  study.scans = study.scans.slice(0, 1);
  delete study.calibration;
  writeFileSync(at("study.json"), JSON.stringify(study, null, 2));
}

const grid = { shape: [1, 2, 2], spacing_m: [1e-3, 1e-3, 1e-3], origin_m: [0, 0, 0] } as const;
const makeMap = () =>
  writeResults(
    folder,
    encodeMap(
      {
        kind: "iron",
        unit: "kg/m3",
        grid,
        values: Float64Array.of(1, 2, -1, 4),
        standardUncertainty: Float64Array.of(1, 1, 1, 1),
      },
      "iron",
    ),
  );

describe("inspectFile", () => {
  it.each(["tracer", "scanner", "protocol", "phantom"])("a %s document", (family) => {
    const path = join(fixtures, `${family}.json`);
    const inspection = inspectFile(path);
    expect(inspection).toMatchObject({ file: path, format: `${family} document`, version: "1", sound: true });
    expect(inspection.summary.name).toBe(JSON.parse(readFileSync(path, "utf8")).name);
    expect(inspection.summary.sha256).toBe(contentHash(readFileSync(path)));
  });

  it("a study by its folder and by its study.json, with its files", () => {
    makeStudy();
    for (const path of [folder, at("study.json")]) {
      const { format, summary } = inspectFile(path);
      expect(format).toBe("study");
      expect(Object.keys(summary.files as object)).toEqual([
        "study.json",
        "tracer.json",
        "scanner.json",
        "protocol.json",
        "phantom.json",
      ]);
      expect(summary.protocolProblems).toEqual([]);
      expect(summary).toMatchObject({ scans: ["vials"], regions: ["vial 1"], artifacts: [] });
    }
    rmSync(at("scanner.json"));
    expect(refusal(folder)).toMatchObject({ code: "InvalidFile", place: { file: at("study.json"), path: "scanner" } });
  });

  it("an artifact, and one that is damaged: the artifact is refused, its study is not", async () => {
    makeStudy();
    const spec = { node: "scan", method: "m", methodVersion: 1, kernel: "reference", inputs: {}, options: null };
    const artifact = await openArtifactStore(folder).resolve(spec, () => ({ "a.txt": "abc" }));
    const manifest = artifact.path("a.txt").replace(/a\.txt$/, "manifest.json");
    expect(inspectFile(manifest).summary).toMatchObject({ node: "scan", digest: artifact.digest });
    expect(inspectFile(folder).summary.artifacts).toMatchObject([{ node: "scan", sizes_bytes: { "a.txt": 3 } }]);
    writeFileSync(artifact.path("a.txt"), "abd");
    expect(refusal(manifest)).toMatchObject({ code: "InvalidFile", place: { file: artifact.path("a.txt") } });
    expect(inspectFile(folder).summary.artifacts).toMatchObject([{ fault: expect.stringContaining("SHA-256") }]);
  });

  it("a measured curve with its descriptor, the descriptor itself, and the fit", () => {
    const curve = join(curves, "FSL-DCM_data.txt");
    expect(inspectFile(curve)).toMatchObject({
      format: "magnetisation curve",
      summary: { points: 45, magnetisationUnit: "A.m2/kg", descriptor: "descriptor.json" },
    });
    expect(inspectFile(join(curves, "descriptor.json")).format).toBe("descriptor of a magnetisation curve");
    writeFileSync(at("fit.json"), JSON.stringify(fitDocument(fitMeasurements({ files: [curve] }))));
    expect(inspectFile(at("fit.json"))).toMatchObject({
      format: "fit of a tracer",
      summary: { outcome: "converged" },
    });
    writeFileSync(at("fit.json"), '{"schema":"urn:ferrule:fit:1"}');
    expect(refusal(at("fit.json"))).toMatchObject({ code: "InvalidDocument", place: { line: 1, path: "model" } });
  });

  it.each(["iron.json", "iron.npy", "iron-sd.npy"])("a map by %s", (name) => {
    makeMap();
    expect(inspectFile(at(name))).toMatchObject({
      format: "iron map",
      summary: { unit: "kg/m3", element: "Fe", minimum: -1, maximum: 4, mean: 1.5 },
    });
    // 6 kg/m³ in all times 1 mm³; the tolerance is a few roundings.
    expect(inspectFile(at(name)).summary.sumOfVoxels_kg).toBeCloseTo(6e-9, 22);
  });

  it("a scan", () => {
    const facts = { frames: 1, samples: 4, samplesPerPeriod: 4, frequency_Hz: 25e3, seed: 1 } as const;
    const voltage_V = Float64Array.of(0, 1, 0, -1);
    const scan = { ...facts, voltage_V, protocolDigest: "0".repeat(64), origin: "simulated", invented: true } as const;
    writeResults(folder, encodeScan(scan));
    expect(inspectFile(at("scan.npy"))).toMatchObject({
      format: "scan",
      summary: { ...facts, unit: "V", invented: true },
    });
  });

  it("an NPY array of its own: shape, range, and how much is not finite", () => {
    writeFileSync(at("a.npy"), writeNpy({ type: "<f8", shape: [3], data: Float64Array.of(1, Number.NaN, 3) }));
    writeFileSync(at("b.npy"), writeNpy({ type: "<i8", shape: [0], data: new BigInt64Array(0) }));
    expect(inspectFile(at("a.npy"))).toMatchObject({
      format: "NPY array",
      version: "1.0",
      summary: { shape: [3], minimum: 1, maximum: 3, mean: 2, notFinite: 1 },
    });
    expect(inspectFile(at("b.npy")).summary).not.toHaveProperty("mean");
  });

  it("gives plain data: JSON and back is the same", () => {
    makeMap();
    const inspection = inspectFile(at("iron.npy"));
    expect(JSON.parse(JSON.stringify(inspection))).toEqual(inspection);
  });
});

describe("refusals", () => {
  it.each<[string, string | Uint8Array, RegExp]>([
    ["empty.bin", "", /an empty file/],
    ["picture.png", Uint8Array.of(0x89, 0x50, 0x4e, 0x47), /no kind known here/],
    ["cut.json", '{"schema": "urn:ferrule:tracer:1", ', /end of the text/],
    ["bare.json", '{"a": 1}', /schema.*missing/],
    ["other.json", '{"schema": "urn:ferrule:tracor:1"}', /urn:ferrule:tracer:1" \(nearest\)/],
    ["cut.npy", writeNpy({ type: "<f8", shape: [4], data: new Float64Array(4) }).subarray(0, 140), /truncated/],
    ["table.txt", "no numbers here\n", /found/],
  ])("%s", (name, content, message) => {
    writeFileSync(at(name), content);
    const error = refusal(at(name));
    expect(error.message).toMatch(message);
    expect(error.place.file).toBe(at(name));
  });

  it("nothing, and a folder of nothing known", () => {
    expect(refusal(at("nowhere")).message).toMatch(/no such file or folder/);
    expect(refusal(folder).message).toMatch(/a folder without study\.json or manifest\.json/);
  });

  it("a broken sidecar does not pass for none, and one that does not fit is told", () => {
    makeMap();
    writeFileSync(at("iron.json"), '{"schema": "urn:ferrule:map:1",');
    expect(refusal(at("iron.npy")).place.file).toBe(at("iron.json"));
    rmSync(at("iron.json"));
    expect(inspectFile(at("iron.npy")).format).toBe("NPY array");
    rmSync(at("iron.npy"));
    rmSync(at("iron-sd.npy"));
    makeMap();
    writeFileSync(at("iron-sd.npy"), writeNpy({ type: "<f8", shape: [4], data: new Float64Array(4) }));
    expect(refusal(at("iron.npy"))).toMatchObject({ code: "ShapeMismatch", place: { file: at("iron-sd.npy") } });
  });
});
