import { rmSync } from "node:fs";
import { afterEach, describe, expect, it } from "vitest";
import { resultsOf } from "../../src/workbench/thread/answers-node.js";
import { weightOf } from "../../src/workbench/thread/map-nodes.js";
import { runStudy } from "../../src/workbench/thread/run-study.js";
import { editDocument, smallStudy } from "./small-study.js";

// A confident number is worse than none: what the model does not hold must be seen in the data, not only warned of.
let folder = "";
afterEach(() => rmSync(folder, { recursive: true, force: true }));

type Phantom = { objects: Record<string, unknown>[] };
const sphere = (center: string[], ironMass: string) => ({
  kind: "sphere",
  label: "other",
  center,
  diameter: "2 mm",
  ironMass,
});

async function answersFor(edit: (phantom: Phantom) => void, name = "phantoms/spheres.json") {
  folder = smallStudy();
  editDocument(folder, name, edit);
  const run = await runStudy({ folder });
  const artifact = run.answers.get("spheres");
  if (artifact === undefined || run.weight === undefined) throw new Error("no answers");
  return { ...resultsOf(artifact), weight: weightOf(run.weight) };
}

describe("iron where the model has none", () => {
  it("a strong organ beyond the voxels: the misfit is seen and every decision withheld", async () => {
    const { answers, fit } = await answersFor(({ objects }) =>
      objects.push(sphere(["5.5 mm", "5.5 mm", "0 mm"], "500 ug")),
    );
    expect(fit.misfit).toBeGreaterThan(1.75);
    expect(answers.map(({ decision }) => decision)).toEqual(["withheld", "withheld"]);
    expect(answers[0].advisories.join(" ")).toMatch(/unexplained/);
  });

  it("iron in the map but outside every region: its mass is told and every decision withheld", async () => {
    const { answers, fit } = await answersFor(({ objects }) =>
      objects.push(sphere(["-1.5 mm", "-1 mm", "2 mm"], "50 ug")),
    );
    expect(fit.outside_kg / fit.inside_kg).toBeGreaterThan(0.5);
    expect(answers.map(({ decision }) => decision)).toEqual(["withheld", "withheld"]);
  });

  it("nothing but what the regions hold: the misfit is near 1 and nothing is said", async () => {
    const { answers, fit } = await answersFor(() => {});
    // 51,000 rows: the misfit of a scan like the pilot scatters by well under 5 %.
    expect(Math.abs(fit.misfit - 1)).toBeLessThan(0.05);
    expect(answers.flatMap(({ advisories }) => advisories)).toEqual([]);
  });
});

describe("what is refused before it can mislead", () => {
  it("a pilot without iron asks for the most smoothing, not the least", async () => {
    const { weight } = await answersFor(({ objects }) => {
      objects[0].ironMass = "0 ug";
    }, "phantoms/pilot.json");
    expect(weight.relativeWeight).toBeGreaterThan(0.1);
  });

  it.each([
    ["overlapping regions", (study: never) => moveRegion(study), /do not overlap/],
    [
      "a place known worse than the region is wide",
      (study: never) => setUncertainty(study, "3 mm"),
      /position uncertainty up to/,
    ],
    ["an offset grid of a micrometre", (study: never) => setGrid(study), /at most 2000000 points/],
  ])("%s", async (_, edit, message) => {
    folder = smallStudy();
    editDocument(folder, "study.json", edit);
    await expect(runStudy({ folder })).rejects.toThrow(message);
  });
});

function moveRegion(study: { regions: { shape: { center: string[] } }[] }): void {
  study.regions[1].shape.center = ["0.5 mm", "0 mm", "-2 mm"];
}

function setUncertainty(study: { reconstruction: { positionUncertainty: string } }, value: string): void {
  study.reconstruction.positionUncertainty = value;
}

function setGrid(study: { simulation: { offsetGrid: string[] } }): void {
  study.simulation.offsetGrid = ["0.001 mm", "0.001 mm", "0.001 mm"];
}
