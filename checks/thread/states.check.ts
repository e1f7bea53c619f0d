import { rmSync } from "node:fs";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { resultsOf } from "../../src/workbench/thread/answers-node.js";
import { runStudy } from "../../src/workbench/thread/run-study.js";
import { editDocument, smallStudy } from "./small-study.js";

// A calibration in one state used in another: the signal ratio is divided out, its doubt kept, its absence told.
type Scans = { scans: { name: string; role: string; state?: object }[] };

let folder: string;
beforeAll(() => {
  folder = smallStudy();
  editDocument(
    folder,
    "study.json",
    (study: { tracerCurve?: unknown; tracer: string; comparisonTracers?: unknown }) => {
      delete study.tracerCurve;
      delete study.comparisonTracers;
      study.tracer = "tracer/langevin-25-nm.json";
    },
  );
  editDocument(folder, "tracer/langevin-25-nm.json", (tracer: { states: unknown }) => {
    const measurement = "invented";
    tracer.states = [
      { medium: "blood", temperature: "310 K", signalFactor: { value: 0.8, standardUncertainty: 0.04 }, measurement },
      { medium: "gel", temperature: "300 K", measurement },
    ];
  });
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const inState = (name: string, medium: string, temperature: string) =>
  editDocument(folder, "study.json", (study: Scans) => {
    for (const scan of study.scans) if (scan.name === name) scan.state = { medium, temperature };
  });

async function sphere() {
  const artifact = (await runStudy({ folder })).answers.get("spheres");
  const [answer] = artifact === undefined ? [] : resultsOf(artifact).answers;
  return answer;
}

describe("tracer states in a study", () => {
  it("divides by the measured ratio, budgets its uncertainty, and says so", async () => {
    const before = await sphere();
    expect(before.budget.some(({ name }) => name === "tracer state")).toBe(false);
    inState("spheres", "blood", "310 K");
    const after = await sphere();
    expect(after.value_kg / before.value_kg).toBeCloseTo(1 / 0.8, 9);
    const state = after.budget.find(({ name }) => name === "tracer state");
    expect((state?.standardUncertainty ?? 0) / after.value_kg).toBeCloseTo(0.05, 9);
    expect(after.advisories.join()).toMatch(/calibrated in water at 26\.9 \u00b0C, used in blood at 36\.9 \u00b0C/);
  }, 120_000);

  it("corrects nothing where no factor was measured, and warns", async () => {
    inState("spheres", "gel", "300 K");
    const answer = await sphere();
    expect(answer.budget.some(({ name }) => name === "tracer state")).toBe(false);
    expect(answer.advisories.join()).toMatch(/in gel at 26\.9 \u00b0C was not measured: masses are not corrected/);
  }, 120_000);

  it("refuses vials in two states", async () => {
    inState("vial 2", "blood", "310 K");
    await expect(runStudy({ folder })).rejects.toThrow(/"vial 2" in blood at 36\.9/);
  }, 120_000);
});
