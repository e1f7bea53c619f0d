import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { isKnownError } from "../../errors.js";
import { parseMeasurementDescriptor } from "./parse-descriptor.js";
import { readMeasurement } from "./read.js";

const guide = readFileSync(new URL("../../../docs/guide/reading-measurements.md", import.meta.url), "utf8");
const blocks = (language: string): string[] =>
  [...guide.matchAll(new RegExp(`^\`\`\`${language}\\n([\\s\\S]*?)^\`\`\``, "gm"))].map((match) => match[1]);
const [message, ...tables] = blocks("text");
const descriptors = blocks("json");

const readPair = (i: number) =>
  readMeasurement(new TextEncoder().encode(tables[i]), parseMeasurementDescriptor(descriptors[i]), { file: "table" });

describe("the guide to reading measurements", () => {
  it("has a table for every descriptor", () => expect([tables.length, descriptors.length]).toEqual([3, 3]));

  it("its curve", () => {
    const measured = readPair(0);
    if (measured.kind !== "curve") throw new Error(measured.kind);
    expect([...measured.curve.magnetisation]).toEqual([-21.5, 6.2, 21.4]);
    expect(measured.curve).toMatchObject({ basis: "per-iron-mass", branch: "ascending", findings: [] });
    expect(measured.curve.assumptions.map(({ fact }) => fact)).toEqual(["coreMaterial", "coreSaturation"]);
  });

  it("its harmonics", () => {
    const measured = readPair(1);
    if (measured.kind !== "harmonics") throw new Error(measured.kind);
    const { moment, harmonic, findings, driveAmplitude_T, frequency_Hz } = measured.spectrum;
    expect({ harmonic: [...harmonic], driveAmplitude_T, frequency_Hz, findings }).toEqual({
      harmonic: [1, 3, 5],
      driveAmplitude_T: 0.02,
      frequency_Hz: 25e3,
      findings: [],
    });
    // m_1 = u_1 i / (w B_R/I) times i for the sine = -u_1 / (w B_R/I): 171.2 - 180 degrees, a lag of 8.8
    const size = (Math.SQRT2 * 812.4e-6) / (2 * Math.PI * 25e3 * 31.4e-6);
    expect(Math.hypot(moment[0], moment[1]) / size).toBeCloseTo(1, 12);
    expect((Math.atan2(moment[1], moment[0]) * 180) / Math.PI).toBeCloseTo(-8.8, 9);
  });

  it("its susceptibility", () => {
    const measured = readPair(2);
    if (measured.kind !== "susceptibility") throw new Error(measured.kind);
    const { susceptibility } = measured;
    expect(susceptibility).toMatchObject({
      unit: "1",
      basis: "per-sample-volume",
      findings: [],
      viscosity_Pa_s: 0.89e-3,
    });
    expect([...susceptibility.imaginary]).toEqual([0.0004, 0.0031, 0.0098, 0.0031]);
    expect(susceptibility.fieldAmplitude_T / (80 * Math.SQRT2 * 4e-7 * Math.PI)).toBeCloseTo(1, 8);
  });

  it("its message is the program's own", () => {
    const text = "field (Oe),M (A.m2/kg)\n1,2\n";
    try {
      readMeasurement(new TextEncoder().encode(text), undefined, { file: "curve.csv" });
    } catch (error) {
      if (!isKnownError(error, "MissingFact")) throw error;
      expect(error.message).toBe(message.trim());
      return;
    }
    throw new Error("not refused");
  });
});

describe("parseMeasurementDescriptor", () => {
  it.each([
    ["{}", "no schema", 1],
    ['{\n  "schema": "urn:ferrule:tracer:1"\n}', '"urn:ferrule:tracer:1"', 2],
    ["[]", "no schema", 1],
    ["null", "no schema", 1],
  ])("refuses %j and names the three kinds", (text, found, line) => {
    try {
      parseMeasurementDescriptor(text, { file: "d.json" });
    } catch (error) {
      if (!isKnownError(error, "InvalidDocument")) throw error;
      expect(error).toMatchObject({ found, place: { file: "d.json", line, path: "schema" } });
      for (const kind of ["curve", "harmonics", "susceptibility"])
        expect(error.accepted).toContain(`${kind}-descriptor:1`);
      return;
    }
    throw new Error("not refused");
  });

  it("leaves the rest to the parser of the kind", () => {
    const text = '{ "schema": "urn:ferrule:susceptibility-descriptor:1", "name": "x", "facts": { "fieldUnit": 1 } }';
    expect(() => parseMeasurementDescriptor(text)).toThrow(/facts.fieldUnit: found an unknown field/);
  });
});
