import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { DocumentError } from "../document-error.js";
import { parseDocument } from "../parse-document.js";

type Tree = { [key: string]: Tree };

const written = readFileSync(new URL("../fixtures/sweep.json", import.meta.url), "utf8");

function edited(edits: Readonly<Record<string, unknown>>): string {
  const copy = JSON.parse(written) as Tree;
  for (const [path, value] of Object.entries(edits)) {
    const keys = path.split(".");
    const parent = keys.slice(0, -1).reduce((at, key) => at[key], copy);
    if (value === undefined) delete parent[keys[keys.length - 1]];
    else parent[keys[keys.length - 1]] = value as Tree;
  }
  return JSON.stringify(copy, null, 2);
}

const model = (edits: Readonly<Record<string, unknown>> = {}) =>
  parseDocument(edited(edits), { family: "sweep" }).model;

function refusal(edits: Readonly<Record<string, unknown>>): DocumentError {
  try {
    model(edits);
  } catch (error) {
    if (error instanceof DocumentError) return error;
    throw error;
  }
  throw new Error("accepted");
}

describe("a sweep", () => {
  it("is turned into SI", () => {
    const { over, cases, prices, scanTime_s, driveAxis, tracerPath } = model();
    expect([scanTime_s, driveAxis, tracerPath]).toEqual([60, "z", "tracer.json"]);
    expect(cases.map((each) => [each.name, each.boreDiameter_m, each.subject?.part])).toEqual([
      ["as built", undefined, "rat"],
      ["twice the bore", 0.12, "human-arm"],
    ]);
    expect(over.driveAmplitude_T).toEqual([0.005, 0.01, 0.02]);
    expect([over.frequency_Hz, over.boreDiameter_m]).toEqual([undefined, undefined]);
    expect(prices).toEqual({ currency: "EUR", conductorPerKg: 40, coolingPerKW: 300 });
  });

  it("spaces a range by ratio or evenly, both ends included", () => {
    const { gradient_T_per_m: ratio = [] } = model().over;
    expect(ratio).toHaveLength(25);
    expect([ratio[0], ratio[24]]).toEqual([1, 7]);
    for (let i = 1; i < 25; i++) expect(ratio[i] / ratio[i - 1]).toBeCloseTo(7 ** (1 / 24), 12);
    const { gradient_T_per_m: even } = model({ "over.gradient.spacing": "even", "over.gradient.count": 4 }).over;
    expect(even).toEqual([1, 3, 5, 7]);
  });

  it("drives z, and sweeps nothing, unless it is said", () => {
    const { driveAxis, over, prices } = model({ driveAxis: undefined, over: {}, prices: undefined });
    expect(driveAxis).toBe("z");
    expect(Object.values(over)).toEqual([undefined, undefined, undefined, undefined]);
    expect(prices).toBeUndefined();
  });

  it("keeps what a case fixes", () => {
    const [fixed] = model({ over: {}, "cases.0.gradient": "2.5 T/m", "cases.0.driveAmplitude": "4 mT" }).cases;
    expect(fixed).toMatchObject({ gradient_T_per_m: 2.5, driveAmplitude_T: 0.004, frequency_Hz: undefined });
  });

  it("may take its documents from a folder above", () => {
    expect(model({ tracer: "../tracers/a.json" }).tracerPath).toBe("../tracers/a.json");
  });

  it("says that its numbers are invented", () => {
    expect(model().advisories).toEqual([expect.stringMatching(/^sweep Example sweep: the numbers are invented/)]);
  });

  it.each([
    ["a range that falls", { "over.gradient.to": "0.5 T/m" }, "over.gradient.to", "not above the first", '"7 T/m"'],
    ["a range of one", { "over.gradient.count": 1 }, "over.gradient.count", "the number 1", "from 2 to 10000"],
    ["a gradient of zero", { "over.driveAmplitude.1": "0 mT" }, "over.driveAmplitude[1]", '"0 mT"', "above 0"],
    ["the wrong dimension", { "over.driveAmplitude.1": "5 mm" }, "over.driveAmplitude[1]", '"mm"', "T"],
    [
      "two cases of one name",
      { "cases.1.name": "as built" },
      "cases[1].name",
      '"as built" a second time',
      "of its own",
    ],
    [
      "a quantity swept and fixed",
      { "cases.1.gradient": "2 T/m" },
      "cases[1].gradient",
      "a value of a quantity that is swept",
      "not in both",
    ],
    [
      // 2 cases, 25 gradients, 3 amplitudes, 2000 frequencies: 300 000.
      "more points than anyone waits for",
      { "over.frequency": { from: "5 kHz", to: "100 kHz", count: 2000, spacing: "even" } },
      "over",
      "300000 points",
      "at most 200000",
    ],
    ["no case", { cases: [] }, "cases", "an empty list", "1"],
    ["a negative price", { "prices.conductorPerKg": -1 }, "prices.conductorPerKg", "the number -1", "0"],
    [
      "an absolute path",
      { tracer: "/tracer.json" },
      "tracer",
      '"/tracer.json" (an absolute path or an address)',
      "relative",
    ],
    [
      "a link",
      { "cases.0.scanner": "file:a.json" },
      "cases[0].scanner",
      '"file:a.json" (an absolute path or an address)',
      "relative",
    ],
    ["a subject that is not whole", { "cases.0.subject": { part: "own" } }, "cases[0].subject.being", "own", "person"],
  ])("%s is refused", (_what, edits, path, found, accepted) => {
    const error = refusal(edits);
    expect(error.place.path).toBe(path);
    expect(error.place.line).toBeGreaterThan(1);
    expect(error.found).toContain(found);
    expect(error.accepted).toContain(accepted);
  });
});

describe("a swept axis", () => {
  it.each<[string, unknown, string, string]>([
    ["without spacing", { from: "1 T/m", to: "2 T/m", count: 3 }, "over.gradient.spacing", "nothing"],
    ["with no value", { from: "1 T/m", to: "2 T/m", count: 0, spacing: "even" }, "over.gradient.count", "0"],
    ["with a bad element of its list", ["1 T/m", "2 mm"], "over.gradient[1]", "mm"],
  ])("%s is refused at the member that is wrong", (_, axis, path, found) => {
    const [problem] = refusal({ "over.gradient": axis }).problems;
    expect(problem.path).toBe(path);
    expect(problem.found).toContain(found);
  });
});
