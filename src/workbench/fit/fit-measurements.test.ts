import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { parseDocument } from "../../documents/index.js";
import { canonicalHash } from "../store/canonical-json.js";
import { fitDocument } from "./fit-document.js";
import { fitMeasurements, tracerOf } from "./fit-measurements.js";

const shipped = fileURLToPath(
  new URL("../../../shipped/curves/clustered-iron-oxide/FSL-DCM_data.txt", import.meta.url),
);
let folder: string;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "ferrule-fit-"));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const stated = (value: string) => ({ value, status: "stated", note: "invented" });

/** An invented curve: fields in mT, magnetisation in A.m2/kg, sd 0.5. */
function curveFile(name: string, magnetisationAt: (field_mT: number) => number, facts = {}, from_mT = 1): string {
  const fields = Array.from({ length: 40 }, (_, i) => from_mT * (5000 / from_mT) ** (i / 39));
  const file = join(folder, `${name}.txt`);
  writeFileSync(file, fields.map((field) => `${field} ${magnetisationAt(field)} 0.5\n`).join(""));
  const descriptor = {
    schema: "urn:ferrule:curve-descriptor:1",
    name,
    columns: ["field", "magnetisation", "sigma"],
    facts: {
      fieldUnit: stated("mT"),
      fieldMeaning: stated("applied"),
      magnetisationUnit: stated("A.m2/kg"),
      basis: stated("per-iron-mass"),
      temperature: stated("300 K"),
      coreMaterial: stated("magnetite"),
      coreSaturation: stated("446 kA/m"),
      ...facts,
    },
  };
  writeFileSync(`${file}.descriptor.json`, JSON.stringify(descriptor));
  return file;
}

const langevin = (xi: number) => 1 / Math.tanh(xi) - 1 / xi;
const sound = (field: number) => 50 * (langevin(field / 5) + langevin(field / 15));

describe("fitMeasurements", () => {
  it("gives a tracer that our own parser takes, and carries what contradicts itself into it", () => {
    const fitted = fitMeasurements({ files: [shipped] });
    const { model } = parseDocument(JSON.stringify(fitted.tracer), { family: "tracer" });
    expect(model.advisories.join("\n")).toMatch(/a core of 499 kA\/m, 12 % larger/);
    expect(fitted.withheld).toEqual([]);
    expect(tracerOf(fitted, shipped)).toBe(fitted.tracer);
  });

  it.each<[string, (field: number) => number, RegExp]>([
    ["sign of M flipped", (field) => -sound(field), /saturation ended at its bound \(0.000\); does .* opposite sign/],
    ["M constant", () => 50, /median-diameter ended at its bound/],
    ["only the straight start", (field) => 1e-3 * field, /do not determine|at its bound/],
  ])("withholds the tracer: %s", (name, curve, why) => {
    const fitted = fitMeasurements({ files: [curveFile(name.replaceAll(" ", "-"), curve)] });
    expect(fitted.tracer).toBeNull();
    expect(fitted.withheld.join("; ")).toMatch(why);
    expect(fitDocument(fitted).tracerWithheld).toEqual(fitted.withheld);
    expect(() => tracerOf(fitted, "a.txt")).toThrow(/a.txt: found a curve whose fit gives no tracer/);
  });

  it("withholds the tracer of a curve that was measured in saturation only", () => {
    const file = curveFile("saturated", sound, {}, 3000);
    expect(fitMeasurements({ files: [file] }).tracer).toBeNull();
  });

  it("asks for a known core material before it fits, and blames the descriptor", () => {
    const file = curveFile("cobalt", sound, { coreMaterial: stated("cobalt") });
    expect(() => fitMeasurements({ files: [file] })).toThrow(
      /cobalt\.txt\.descriptor\.json at facts\.coreMaterial: found core material "cobalt"/,
    );
  });

  it("blames the table for numbers that carry no fit", () => {
    const file = curveFile("zero", () => 0);
    expect(() => fitMeasurements({ files: [file] })).toThrow(/zero\.txt at curve: found a magnetisation of zero/);
  });

  it("refuses a descriptor that is not UTF-8", () => {
    const file = curveFile("latin", sound);
    writeFileSync(`${file}.descriptor.json`, Buffer.from([0x7b, 0xb5, 0x7d]));
    expect(() => fitMeasurements({ files: [file] })).toThrow(/bytes that are not UTF-8/);
  });
});

describe("fitDocument", () => {
  it("says what its uncertainties rest on, and carries the digest of all the rest", () => {
    const { contentDigest, ...content } = JSON.parse(
      JSON.stringify(fitDocument(fitMeasurements({ files: [shipped] }))),
    );
    expect(content.uncertaintyBasis).toBe("stated-sigma");
    expect(contentDigest).toBe(canonicalHash(content));
  });
});
