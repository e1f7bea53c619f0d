import { cpSync, mkdtempSync, readFileSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { studyFolder } from "./shipped-study.js";

type Document = Record<string, unknown>;

/** Changes one document of a study in place. */
export function editDocument(folder: string, name: string, edit: (document: never) => void): void {
  const file = join(folder, name);
  const document = JSON.parse(readFileSync(file, "utf8")) as Document;
  edit(document as never);
  writeFileSync(file, JSON.stringify(document, null, 2));
}

/** The shipped study cut down to a raster that runs in a second or two, in a folder of its own. */
export function smallStudy(): string {
  const folder = mkdtempSync(join(tmpdir(), "ferrule-study-"));
  cpSync(studyFolder, folder, { recursive: true });
  editDocument(folder, "protocol.json", (protocol: { raster: { axes: unknown }; empties: unknown }) => {
    const across = { from: "-6.25 mm", to: "6.25 mm", step: "1.25 mm" };
    protocol.raster.axes = { x: across, y: across, z: { from: "-7 mm", to: "7 mm", step: "2.8 mm" } };
    protocol.empties = { every: 66, periods: 800 };
  });
  editDocument(
    folder,
    "study.json",
    (study: {
      reconstruction: { voxelsAlongDrive: unknown; marginLines: number };
      regions: unknown;
      questions: unknown;
      simulation: { offsetGrid: string[] };
    }) => {
      study.reconstruction.voxelsAlongDrive = { from: "-5.5 mm", to: "5.5 mm", step: "0.5 mm" };
      study.reconstruction.marginLines = -2;
      study.simulation.offsetGrid = ["0.61 mm", "0.61 mm", "0.24 mm"];
      study.regions = [
        { label: "sphere", shape: { kind: "sphere", center: ["0.5 mm", "-0.5 mm", "-2 mm"], diameter: "3 mm" } },
        { label: "empty place", shape: { kind: "sphere", center: ["-1 mm", "1 mm", "3.5 mm"], diameter: "2 mm" } },
      ];
      study.questions = [
        { kind: "iron-mass", region: "sphere" },
        { kind: "iron-mass", region: "empty place" },
      ];
    },
  );
  const sphere = (label: string, z: string, ironMass: string) => ({
    kind: "sphere",
    label,
    center: ["0.5 mm", "-0.5 mm", z],
    diameter: "3 mm",
    ironMass,
  });
  editDocument(folder, "phantoms/spheres.json", (phantom: { objects: unknown }) => {
    phantom.objects = [sphere("sphere", "-2 mm", "10 ug")];
  });
  editDocument(folder, "phantoms/pilot.json", (phantom: { objects: unknown }) => {
    phantom.objects = [sphere("pilot", "1 mm", "12 ug")];
  });
  return folder;
}
