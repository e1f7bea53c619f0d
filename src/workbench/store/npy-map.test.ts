import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeEach, describe, expect, it } from "vitest";
import { FerruleError } from "../../errors.js";
import { writeNpy } from "../../formats/index.js";
import type { GridMap } from "../../imaging/index.js";
import type { ArtifactFiles } from "./artifact-store.js";
import { folderSource } from "./file-source.js";
import { decodeMap, encodeMap } from "./npy-map.js";
import { decodeScan, encodeScan, type StoredScan } from "./npy-scan.js";
import { writeResults } from "./write-results.js";

const folder = mkdtempSync(join(tmpdir(), "ferrule-map-"));
const source = folderSource(folder);
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const grid = { shape: [1, 2, 3], spacing_m: [1e-3, 2e-3, 3e-3], origin_m: [-1e-3, 0, 5e-4] } as const;
const iron: GridMap = {
  kind: "iron",
  unit: "kg/m3",
  grid,
  values: Float64Array.of(0.1, -0.2, 1 / 3, 0, 5e-324, 1e300),
  standardUncertainty: Float64Array.of(0, 1, 2, 3, 4, 5),
};
const signal: GridMap = { kind: "signal", unit: "A.m2/T", grid, values: Float64Array.of(1, 2, 3, 4, 5, 6) };
const scan: StoredScan = {
  voltage_V: Float64Array.from({ length: 8 }, (_, i) => (i - 3) * 1e-9),
  frames: 2,
  samples: 4,
  samplesPerPeriod: 4,
  frequency_Hz: 25e3,
  protocolDigest: "a".repeat(64),
  seed: 7,
  origin: "simulated",
  invented: true,
};

function write(files: ArtifactFiles): void {
  writeResults(folder, files, { replace: true });
}

/** The sidecar as it stands, with some fields changed. */
function alter(name: string, change: (sidecar: Record<string, unknown>) => void): void {
  const sidecar = JSON.parse(readFileSync(source.path(name), "utf8")) as Record<string, unknown>;
  change(sidecar);
  writeFileSync(source.path(name), JSON.stringify(sidecar, null, 2));
}

function refusal(read: () => unknown): FerruleError {
  try {
    read();
  } catch (error) {
    if (error instanceof FerruleError) return error;
    throw error;
  }
  throw new Error("accepted");
}

beforeEach(() => {
  write(encodeMap(iron, "iron"));
  write(encodeMap(signal, "signal"));
  write(encodeScan(scan));
});

describe("maps", () => {
  it.each([["iron", iron] as const, ["signal", signal] as const])("%s: what is written is read", (name, map) => {
    expect(decodeMap(source, name)).toEqual(map);
  });

  it("equal maps give equal bytes, and the sidecar says unit, element and meaning", () => {
    expect(encodeMap(iron, "iron")).toEqual(encodeMap({ ...iron, values: iron.values.slice() }, "iron"));
    const sidecar = JSON.parse(readFileSync(source.path("iron.json"), "utf8"));
    expect(sidecar).toMatchObject({ schema: "urn:ferrule:map:1", kind: "iron", unit: "kg/m3", element: "Fe" });
    expect(sidecar.grid).toEqual(grid);
  });

  it("reads a single-precision array that another program wrote", () => {
    writeFileSync(
      source.path("signal.npy"),
      writeNpy({ type: "<f4", shape: [1, 2, 3], data: Float32Array.of(1, 2, 3, 4, 5, 6.5) }),
    );
    expect([...decodeMap(source, "signal").values]).toEqual([1, 2, 3, 4, 5, 6.5]);
  });

  it("values that do not fill the grid are not written", () => {
    const short = { ...signal, values: new Float64Array(5) };
    expect(refusal(() => encodeMap(short, "short")).code).toBe("ShapeMismatch");
  });

  it("an array that does not fit its sidecar is refused with both shapes", () => {
    writeFileSync(source.path("iron-sd.npy"), writeNpy({ type: "<f8", shape: [6], data: new Float64Array(6) }));
    const error = refusal(() => decodeMap(source, "iron"));
    expect(error.code).toBe("ShapeMismatch");
    expect(error.place.file).toBe(source.path("iron-sd.npy"));
    expect(error.message).toMatch(/shape \(6\).*shape \(1, 2, 3\).*iron\.json/);
  });

  it.each([
    ["iron.npy", Number.NaN, "[0, 1, 2]", /NaN/],
    ["iron-sd.npy", -1, "[0, 1, 2]", /at least 0/],
  ])("%s: a value of %d is refused with its index", (name, bad, path, message) => {
    const data = Float64Array.of(0, 0, 0, 0, 0, bad);
    writeFileSync(source.path(name), writeNpy({ type: "<f8", shape: [1, 2, 3], data }));
    const error = refusal(() => decodeMap(source, "iron"));
    expect(error).toMatchObject({ code: "InvalidValue", place: { path } });
    expect(error.message).toMatch(message);
  });

  it("integers are no map", () => {
    writeFileSync(source.path("iron.npy"), writeNpy({ type: "<i4", shape: [1, 2, 3], data: new Int32Array(6) }));
    expect(refusal(() => decodeMap(source, "iron")).message).toMatch(/"<i4".*"<f8"/);
  });

  it.each<[string, (sidecar: Record<string, unknown>) => void, string, RegExp]>([
    ["a unit of another kind", (s) => Object.assign(s, { unit: "A.m2/T" }), "unit", /"kg\/m3"/],
    ["a kind we do not have", (s) => Object.assign(s, { kind: "mass" }), "kind", /"mass"/],
    ["no grid", (s) => delete s.grid, "grid", /missing/],
    ["a spacing of 0", (s) => Object.assign(s.grid as object, { spacing_m: [0, 1, 1] }), "grid.spacing_m.0", /above 0/],
    ["a field too many", (s) => Object.assign(s, { untit: "kg" }), "untit", /unknown field/],
    ["another schema", (s) => Object.assign(s, { schema: "urn:ferrule:map:2" }), "schema", /urn:ferrule:map:1/],
  ])("a sidecar with %s is refused with line and path", (_what, change, path, message) => {
    alter("iron.json", change);
    const error = refusal(() => decodeMap(source, "iron"));
    expect(error).toMatchObject({ code: "InvalidDocument", place: { file: source.path("iron.json"), path } });
    expect(error.place.line).toBeGreaterThan(0);
    expect(error.message).toMatch(message);
  });

  it("a missing array or sidecar is named", () => {
    rmSync(source.path("iron-sd.npy"));
    expect(refusal(() => decodeMap(source, "iron")).place.file).toBe(source.path("iron-sd.npy"));
    expect(refusal(() => decodeMap(source, "nowhere")).place.file).toBe(source.path("nowhere.json"));
  });

  it("a cut array is refused", () => {
    writeFileSync(source.path("iron.npy"), readFileSync(source.path("iron.npy")).subarray(0, 150));
    expect(refusal(() => decodeMap(source, "iron")).message).toMatch(/truncated/);
  });
});

describe("scans", () => {
  it("what is written is read, a recorded scan too", () => {
    expect(decodeScan(source)).toEqual(scan);
    const recorded: StoredScan = { ...scan, seed: null, origin: "recorded", invented: false };
    write(encodeScan(recorded, "mouse-1"));
    expect(decodeScan(source, "mouse-1")).toEqual(recorded);
  });

  it.each<[string, (sidecar: Record<string, unknown>) => void, string]>([
    ["frames in pieces of a period", (s) => Object.assign(s, { samplesPerPeriod: 3 }), "samples"],
    ["no seed for a simulation", (s) => Object.assign(s, { seed: null }), "seed"],
    ["a unit of mV", (s) => Object.assign(s, { unit: "mV" }), "unit"],
    ["a digest that is none", (s) => Object.assign(s, { protocolDigest: "abc" }), "protocolDigest"],
    ["a frequency of 0", (s) => Object.assign(s, { frequency_Hz: 0 }), "frequency_Hz"],
  ])("a sidecar with %s is refused", (_what, change, path) => {
    alter("scan.json", change);
    expect(refusal(() => decodeScan(source))).toMatchObject({ code: "InvalidDocument", place: { path } });
  });

  it("frames that the array does not have are refused", () => {
    alter("scan.json", (s) => Object.assign(s, { frames: 3 }));
    expect(refusal(() => decodeScan(source)).message).toMatch(/shape \(2, 4\).*shape \(3, 4\)/);
  });
});
