import { readFileSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { predictStatic } from "../../src/workbench/predict/static-prediction.js";
import { resultsOf } from "../../src/workbench/thread/answers-node.js";
import { weightOf } from "../../src/workbench/thread/map-nodes.js";
import { artifactsOf } from "../../src/workbench/thread/report-data.js";
import { runStudy, type StudyRunResult } from "../../src/workbench/thread/run-study.js";
import { editDocument, smallStudy } from "./small-study.js";

// What a toy would fail: a change at one end moves every number after it, and nothing else is run again.
let folder: string;
let first: StudyRunResult;
beforeAll(async () => {
  folder = smallStudy();
  first = await runStudy({ folder });
}, 120_000);
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const computed = (result: StudyRunResult) =>
  artifactsOf(result)
    .filter(({ fromCache }) => !fromCache)
    .map(({ node }) => node);
const digests = (result: StudyRunResult) =>
  Object.fromEntries(artifactsOf(result).map(({ node, digest }) => [node, digest]));
const answersIn = (result: StudyRunResult) => {
  const artifact = result.answers.get("spheres");
  return artifact === undefined ? [] : resultsOf(artifact).answers;
};

describe("a study run again", () => {
  it("computed everything the first time, and finds what is there and what is not", () => {
    expect(computed(first)).toHaveLength(11);
    const [sphere, empty] = answersIn(first);
    expect(Math.abs(sphere.value_kg - 10e-9)).toBeLessThanOrEqual(2 * sphere.standardUncertainty_kg);
    expect([sphere.decision, empty.decision]).toEqual(["detected", "not detected"]);
  });

  it("computes nothing when nothing changed, nor for another layout of a document or another notice", async () => {
    expect(computed(await runStudy({ folder }))).toEqual([]);
    writeFileSync(
      join(folder, "scanner.json"),
      JSON.stringify(JSON.parse(readFileSync(join(folder, "scanner.json"), "utf8"))),
    );
    editDocument(folder, "study.json", (study: { notice: string }) => {
      study.notice = "Invented, said otherwise.";
    });
    const again = await runStudy({ folder });
    expect(computed(again)).toEqual([]);
    expect(digests(again)).toEqual(digests(first));
  });

  it("never gives two phantoms one cached answer, and reruns only what depends on the phantom", async () => {
    editDocument(folder, "phantoms/spheres.json", (phantom: { objects: { ironMass: string }[] }) => {
      phantom.objects[0].ironMass = "5 ug";
    });
    const other = await runStudy({ folder });
    expect(computed(other)).toEqual(["scan-spheres", "map-spheres", "answers-spheres"]);
    const ratio = answersIn(other)[0].value_kg / answersIn(first)[0].value_kg;
    expect(Math.abs(ratio - 0.5)).toBeLessThan(0.05); // same noise, half the iron: 5 % is four sd of the noise at 5 ug
    editDocument(folder, "phantoms/spheres.json", (phantom: { objects: { ironMass: string }[] }) => {
      phantom.objects[0].ironMass = "10 ug";
    });
    const back = await runStudy({ folder });
    expect(computed(back)).toEqual([]);
    expect(digests(back)).toEqual(digests(first));
  });

  it("core diameter +10 %: the width falls by the cubic law and every later number moves", async () => {
    const tracer = JSON.parse(first.tracer.artifact.readText("tracer.json"));
    const grown = structuredClone(tracer);
    grown.core.sizes.medianDiameter = `${Number.parseFloat(tracer.core.sizes.medianDiameter) * 1.1} nm`;
    writeFileSync(join(folder, "tracer.json"), JSON.stringify(grown));
    editDocument(folder, "study.json", (study: { tracer?: string; tracerCurve?: unknown }) => {
      delete study.tracerCurve;
      study.tracer = "tracer.json";
    });
    const wider = await runStudy({ folder });
    expect(computed(wider)).toHaveLength(11);
    const scanner = first.run.loaded.scanner.model;
    const width = (result: StudyRunResult) =>
      predictStatic(result.tracer.model, scanner, "z").staticWidth_T ?? Number.NaN;
    // The whole distribution is scaled, so the cubic law holds exactly; 1e-6 is the root finder's own tolerance.
    expect((width(wider) / width(first)) * 1.1 ** 3).toBeCloseTo(1, 6);
    for (const [node, digest] of Object.entries(digests(wider)))
      expect({ node, same: digest === digests(first)[node] }).toEqual({ node, same: false });
    const weight = (result: StudyRunResult) =>
      result.weight === undefined ? Number.NaN : weightOf(result.weight).relativeWeight;
    expect(weight(wider)).not.toBe(weight(first));
    answersIn(wider).forEach((answer, i) => {
      const before = answersIn(first)[i];
      for (const key of ["value_kg", "standardUncertainty_kg", "criticalLevel_kg"] as const)
        expect({ region: answer.region, key, same: answer[key] === before[key] }).toEqual({
          region: answer.region,
          key,
          same: false,
        });
    });
  }, 120_000);
});
