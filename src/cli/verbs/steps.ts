import { type AddVerb, examples } from "../verb.js";
import { artifactList, runForVerb, showArtifacts } from "./study-verb.js";

/** Verbs that bring one part of a study up to date. Thin for now: each says what it will become. */
const steps = [
  {
    name: "simulate",
    upTo: "scans",
    description: "simulate the study's scans (thin for now: one drive axis, static response, ideal gradient)",
  },
  {
    name: "reconstruct",
    upTo: "maps",
    description: "make the study's iron and signal maps (thin for now: simulated line rasters of a study only)",
  },
] as const;

export const addSteps: AddVerb = (program, face) => {
  for (const { name, upTo, description } of steps)
    program
      .command(name)
      .description(description)
      .argument("<study>", "folder of a study (ferrule new)")
      .option("--json", "print one JSON document")
      .addHelpText("after", examples(`ferrule ${name} my-study`))
      .action(async (folder: string, { json }: { json?: boolean }) => {
        const result = await runForVerb(face, folder, upTo);
        if (json) face.print(JSON.stringify({ steps: await artifactList(result) }, null, 2));
        else await showArtifacts(face, result);
      });
};
