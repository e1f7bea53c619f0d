import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { DocumentError } from "./document-error.js";
import { type FamilyName, familyNames } from "./families.js";
import { parseDocument } from "./parse-document.js";

const read = (name: string) => readFileSync(new URL(`fixtures/${name}.json`, import.meta.url), "utf8");

function refusal(text: string, family?: FamilyName): DocumentError {
  try {
    parseDocument(text, { file: "a.json", family });
  } catch (error) {
    if (error instanceof DocumentError) return error;
    throw error;
  }
  throw new Error("accepted");
}

/** Line and column of the `offset`-th character, counted here from the text itself. */
function placeAt(text: string, offset: number) {
  const lines = text.slice(0, offset).split("\n");
  return { line: lines.length, column: (lines.at(-1)?.length ?? 0) + 1 };
}

describe("good documents", () => {
  it.each(familyNames)("reads a %s", (family) => {
    const text = read(family);
    const parsed = parseDocument(text, { file: "a.json" });
    expect(parsed.family).toBe(family);
    expect(parsed.document).toEqual(JSON.parse(text));
    expect(parsed.changes).toEqual([]);
    expect(parsed.placeOf(["name"])).toEqual({ file: "a.json", line: 3, column: 11, path: "name" });
  });

  it("turns a tracer into SI", () => {
    const { model } = parseDocument(read("tracer"), { family: "tracer" });
    expect(model.core).toMatchObject({ saturation_A_per_m: 446e3, density_kg_per_m3: 5180, ironMassFraction: 0.7236 });
    expect(model.core.sizes).toMatchObject({ kind: "lognormal", weighting: "number", logSd: 0.05 });
    expect(model.environment.temperature_K).toBe(300);
    expect(model.advisories).toHaveLength(2);
  });

  it("reads a volume-weighted median as the number-weighted one that it means", () => {
    const volume = read("tracer").replace('"weighting": "number"', '"weighting": "volume"');
    const { core } = parseDocument(volume, { family: "tracer" }).model;
    // ln d_n = ln d_v - 3 s^2; a few roundings.
    expect(core.sizes.kind === "lognormal" && Math.log(core.sizes.medianDiameter_m / 25e-9)).toBeCloseTo(-0.0075, 13);
    expect(core.statedWeighting).toBe("volume");
  });

  it("turns a scanner, a protocol and a phantom into SI", () => {
    const scanner = parseDocument(read("scanner"), { family: "scanner" }).model;
    expect(scanner.selectionField.gradient_T_per_m.map((row, i) => row[i])).toEqual([-3.5, -3.5, 7]);
    const protocol = parseDocument(read("protocol"), { family: "protocol" }).model;
    expect(protocol.sampling.samplesPerPeriod).toBe(100);
    expect(protocol.raster.patchCount).toBe(21 * 1 * 5);
    const [vial, block] = parseDocument(read("phantom"), { family: "phantom" }).model.objects;
    // 5 ug in a 2 mm sphere (4/3 pi mm3); 0.1 mg/mL in 20 mm3 = 2 ug.
    expect(vial?.kind === "sphere" && vial.ironConcentration_kg_per_m3).toBeCloseTo(5 / ((4 / 3) * Math.PI), 12);
    expect(block?.ironMass_kg).toBeCloseTo(2e-9, 20);
  });

  it("tells the three sources of a scan apart", () => {
    const { scans } = parseDocument(read("study"), { family: "study" }).model;
    expect(scans.map(({ source }) => source.kind)).toEqual(["phantom", "phantom", "nothing", "recorded"]);
  });
});

/** family, what is replaced, by what, where the trouble is told (text to point at), path, found, accepted (part). */
const broken: readonly (readonly [FamilyName, string, string, string, string, string, string])[] = [
  ["tracer", '"446 kA/m",', "446,", "446,", "core.saturation", "the bare number 446", 'unit, e.g. "446 kA/m"'],
  ["tracer", '"446 kA/m",', '"446",', '"446",', "core.saturation", "446 without a unit", '"446 kA/m"'],
  ["tracer", '"446 kA/m",', '"-446 kA/m",', '"-446 kA/m"', "core.saturation", '"-446 kA/m"', "above 0"],
  ["tracer", '"446 kA/m",', '"0.56 T",', '"0.56 T"', "core.saturation", 'unit "T"', "T/mu0"],
  ["tracer", '"72.36 %"', "true", "true", "core.ironMassFraction", "true", 'e.g. "72.36 %"'],
  [
    "tracer",
    '"saturation": "446',
    '"saturatoin": "446',
    '"saturatoin"',
    "core.saturatoin",
    'field "saturatoin"',
    '"saturation"',
  ],
  ["tracer", '"lot":', '"lott":', '"lott"', "lott", 'field "lott"', '"lot" (nearest)'],
  ["tracer", '"lognormal"', '"lognomal"', '"lognomal"', "core.sizes.kind", '"lognomal"', '"lognormal" (nearest)'],
  ["tracer", '"kind": "lognormal", ', "", '{ "weighting"', "core.sizes.kind", "missing", '"single", "lognormal"'],
  ["tracer", '"magnetite"', '"magnetit"', '"magnetit"', "core.material", '"magnetit"', '"magnetite" (nearest)'],
  ["tracer", '"logSd": 0.05', '"logSd": -1', "-1 }", "core.sizes.logSd", "the number -1", "a number above 0"],
  ["tracer", '"logSd": 0.01,\n', "", "-0.6", "uncertainties.medianLogSdCorrelation", "without both", "together"],
  ["tracer", '"300 K"', '"-300 Cel"', '"-300 Cel"', "environment.temperature", '"-300 Cel"', "absolute zero"],
  ["scanner", '"7 T/m"', '"6 T/m"', '["-3.5', "selectionField.gradient", "whose sum is -1 T/m", "-3.5, -3.5, 7 T/m"],
  ["scanner", '"7 T/m"', "7", "7]", "selectionField.gradient[2]", "the bare number 7", '"-3.5 T/m"'],
  ["scanner", '"7 T/m"]', '"7 T/m", 1]', '["-3.5', "selectionField.gradient", "a list of 4", "three rows of three"],
  [
    "scanner",
    '"-3.5 T/m", "-3.5 T/m", "7 T/m"',
    '["1 T/m", "0 T/m", "0 T/m"], ["0 T/m", "1 T/m", "1 T/m"], ["0 T/m", "0 T/m", "-2 T/m"]',
    '[["1',
    "selectionField.gradient",
    "1 T/m at yz but 0 T/m at zy",
    "symmetric",
  ],
  [
    "scanner",
    '"field-free-point"',
    '"field-free-line"',
    '"field-free-line"',
    "topology",
    "gradient of a field-free point",
    "7, -7, 0",
  ],
  [
    "scanner",
    '"x", "range"',
    '"y", "range"',
    '"y", "range": "70 mT" },\n    { "axis": "z"',
    "shiftFields[1].axis",
    'axis "y" a second time',
    "one shift field per axis",
  ],
  ["scanner", '"polarity": 1', '"polarity": 2', "2,\n", "receive[0].polarity", "the number 2", "one of 1, -1"],
  [
    "scanner",
    '"polarity": 1,',
    '"polarity": 1, "__proto__": {},',
    '"__proto__"',
    "receive[0].__proto__",
    'the unknown field "__proto__"',
    'one of "windings", "resistance"',
  ],
  ["protocol", "2.5 MS/s", "2.51 MS/s", '"2.51 MS/s"', "sampling.rate", "100.4 samples", '"2500000 S/s"'],
  ["protocol", "2.5 MS/s", "50 kS/s", '"50 kS/s"', "sampling.rate", "2 samples", "at least 3"],
  ["protocol", "2.5 MS/s", "2.5 MS", '"2.5 MS"', "sampling.rate", '"MS"', "2.5 MS/s"],
  ["protocol", '"4 mm"', '"3 mm"', '"3 mm"', "raster.axes.z.step", "holds 5.33333", '"3.2 mm"'],
  ["protocol", ', "step": "4 mm"', "", '{ "from": "-8 mm"', "raster.axes.z", "a range without a step", '"step"'],
  [
    "protocol",
    '"periodsPerPatch": 100',
    '"periodsPerPatch": 1.5',
    "1.5",
    "periodsPerPatch",
    "the number 1.5",
    "whole number of at least 1",
  ],
  [
    "phantom",
    '"ironMass": "5 ug"',
    '"ironMass": "5 ug", "ironConcentration": "1 mg/mL"',
    '{\n      "kind": "sphere"',
    "objects[0]",
    "both",
    "exactly one",
  ],
  [
    "phantom",
    ',\n      "ironMass": "5 ug"',
    "",
    '{\n      "kind": "sphere"',
    "objects[0]",
    "without an iron amount",
    "exactly one",
  ],
  [
    "phantom",
    '"ironMass": "5 ug"',
    '"ironMass": "50 mg"',
    '"50 mg"',
    "objects[0].ironMass",
    "kg of Fe per m3",
    "7874 kg/m3",
  ],
  [
    "phantom",
    '"block"',
    '"vial 1"',
    '"vial 1",\n      "center": ["5',
    "objects[1].label",
    "a second time",
    "of its own",
  ],
  ["phantom", '"point"', '"pont"', '"pont"', "objects[2].kind", '"pont"', '"point" (nearest)'],
  ["study", '"iron-mass"', '"iron-mas"', '"iron-mas"', "questions[0].kind", '"iron-mas"', '"iron-mass"'],
  ["study", '"region": "vial 1"', '"region": "vial 2"', '"vial 2"', "questions[0].region", '"vial 2"', '"vial 1"'],
  [
    "study",
    '"scan": "standard"',
    '"scan": "standrad"',
    '"standrad"',
    "calibration.vials[0].scan",
    '"standrad"',
    '"standard"',
  ],
  ["study", '"tracer.json"', '"../tracer.json"', '"../tracer.json"', "tracer", "leads out", '"tracer.json"'],
  ["study", '"tracer.json"', '"/tracer.json"', '"/tracer.json"', "tracer", "absolute", '"tracer.json"'],
  ["study", '"tracer.json"', '"c:\\\\tracer.json"', '"c:', "tracer", "separator", '"tracer.json"'],
  ["study", ', "seed": 1', "", '{ "name": "vials"', "scans[0].seed", "missing", "e.g. 1"],
  [
    "study",
    '"notice": "Invented data for demonstration.",',
    "",
    '{\n  "schema"',
    "notice",
    "without a notice",
    "every page",
  ],
];

describe("bad documents", () => {
  it.each(broken)("%s: %s -> %s", (family, from, to, pointer, path, found, accepted) => {
    const good = read(family);
    expect(good).toContain(from);
    const text = good.replace(from, to);
    const error = refusal(text);
    expect(error.problems).toHaveLength(1);
    expect(text.split(pointer), "the place must be pointed at without doubt").toHaveLength(2);
    expect(error.place).toEqual({ file: "a.json", ...placeAt(text, text.indexOf(pointer)), path });
    expect(error.found).toContain(found);
    expect(error.accepted).toContain(accepted);
    expect(error.code).toBe("InvalidDocument");
  });

  it("tells all problems in reading order, the first ten in full", () => {
    const two = read("scanner").replace('"60 mm"', "60").replace('"1 MHz"', '"1 mm"');
    const error = refusal(two);
    expect(error.problems.map(({ path }) => path)).toEqual(["boreDiameter", "receive[0].bandwidth"]);
    expect(error.message.split("\n")).toHaveLength(2);
    // Unknown fields are found last, but this one is written first.
    const early = refusal(read("scanner").replace('"name"', '"colour": 1, "name"').replace('"60 mm"', "60"));
    expect(early.problems.map(({ path }) => path)).toEqual(["colour", "boreDiameter"]);
    const many = refusal(read("study").replace('"scans": [', `"scans": [${"{}, ".repeat(12)}`));
    expect(many.problems).toHaveLength(10);
    expect(many.problemCount).toBe(12 * 2);
    expect(many.message).toMatch(/\nand 14 more$/);
  });

  it("keeps its problems when an outer caller adds the file", () => {
    const error = refusal(read("scanner").replace('"60 mm"', "60")).at({ file: "b.json", path: "x" });
    expect(error).toBeInstanceOf(DocumentError);
    expect(error.place).toMatchObject({ file: "a.json", path: "boreDiameter" });
  });
});

describe("which document it is", () => {
  it.each([
    ["[]", "", "an empty list", '"schema": "urn:ferrule:tracer:1"'],
    ["{}", "schema", "missing", '"urn:ferrule:study:1"'],
    ['{"schema": 1}', "schema", "the number 1", '"urn:ferrule:scanner:1"'],
    ['{"schema": "urn:ferrule:tracr:1"}', "schema", "tracr", '"urn:ferrule:tracer:1" (nearest)'],
    ['{"schema": "urn:ferrule:tracer:0"}', "schema", "tracer:0", '"urn:ferrule:tracer:1"'],
    ['{"schema": "urn:ferrule:constructor:1"}', "schema", "constructor", "urn:ferrule"],
    ['{"schema": "urn:ferrule:tracer:7"}', "schema", "version 7 of a tracer document", "up to version 1"],
  ])("%s is refused at %j", (text, path, found, accepted) => {
    const error = refusal(text);
    expect(error.place.path).toBe(path);
    expect(error.found).toContain(found);
    expect(error.accepted).toContain(accepted);
  });

  it("refuses another family than the one wanted", () => {
    const error = refusal(read("scanner"), "tracer");
    expect(error.found).toBe("a scanner document");
    expect(error.accepted).toBe('a tracer document, "urn:ferrule:tracer:1"');
  });
});
