import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { isKnownError } from "../../errors.js";
import { parseCurveDescriptor } from "./parse-descriptor.js";

const shipped = readFileSync(
  new URL("../../../shipped/curves/clustered-iron-oxide/descriptor.json", import.meta.url),
  "utf8",
);

function refusal(text: string) {
  try {
    parseCurveDescriptor(text, { file: "descriptor.json" });
  } catch (error) {
    if (isKnownError(error, "InvalidDocument")) return error;
    throw error;
  }
  throw new Error("not refused");
}

describe("parseCurveDescriptor", () => {
  it("reads the shipped one and keeps stated and assumed apart", () => {
    const { facts, columns } = parseCurveDescriptor(shipped);
    expect(columns).toEqual(["field", "magnetisation", "sigma"]);
    expect(facts.fieldUnit?.status).toBe("stated");
    expect(facts.magnetisationUnit?.status).toBe("assumed");
  });
  it.each([
    ['"fieldUnit"', '"fieldUnits"', 8, 5, "facts.fieldUnits", '"fieldUnit" (nearest)'],
    ['"sigma"', '"sigmas"', 6, 41, "columns[2]", 'one of "field", "magnetisation", "sigma"'],
    [
      '"A/m",\n      "status": "stated"',
      '"A/m",\n      "status": "known"',
      10,
      17,
      "facts.fieldUnit.status",
      '"assumed"',
    ],
    ['"300 K"', "300", 29, 16, "facts.temperature.value", "a value of type string"],
    ['"urn:ferrule:curve-descriptor:1"', '"urn:ferrule:tracer:1"', 2, 13, "schema", "urn:ferrule:curve-descriptor:1"],
    ['"name": "clustered iron oxide, initial curve",', "", 1, 1, "name", "a value of type string"],
  ])("refuses %s -> %s with its place", (from, to, line, column, path, words) => {
    expect(shipped).toContain(from);
    const error = refusal(shipped.replace(from, to));
    expect(error.place).toMatchObject({ file: "descriptor.json", line, column, path });
    expect(error.accepted).toContain(words);
  });
  it.each([
    ['"300 K"', '"-3 K"', "facts.temperature.value", "below absolute zero"],
    ['"300 K"', '"300"', "facts.temperature.value", "K"],
    ['"446 kA/m"', '"446 A/m"', "facts.coreSaturation.value", "from 10 kA/m to 2500 kA/m"],
    ['"446 kA/m"', '"446 MA/m"', "facts.coreSaturation.value", "from 10 kA/m to 2500 kA/m"],
    ['"A/m"', '"kg"', "facts.fieldUnit.value", '"Oe"'],
    ['"A.m2/kg"', '"mT"', "facts.magnetisationUnit.value", '"emu/g"'],
  ])("refuses %s -> %s, which no person can have meant, with its place", (from, to, path, words) => {
    const error = refusal(shipped.replace(`"value": ${from}`, `"value": ${to}`));
    expect(error.place).toMatchObject({ file: "descriptor.json", path, line: expect.any(Number) });
    expect(error.accepted).toContain(words);
  });
  it("refuses text that is no JSON, and JSON that is no object", () => {
    expect(refusal("{").place.line).toBe(1);
    expect(refusal("[]").found).toBe("[]");
    expect(refusal("null").found).toBe("null");
  });
});
