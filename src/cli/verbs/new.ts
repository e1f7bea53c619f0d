import { FerruleError } from "../../errors.js";
import { alignedTable, wrapText } from "../table.js";
import { type AddVerb, examples } from "../verb.js";

interface NewOptions {
  readonly from?: string;
  readonly list?: boolean;
  readonly json?: boolean;
}

/** `ferrule new`: a study folder from a shipped example. */
export const addNew: AddVerb = (program, face) => {
  program
    .command("new")
    .description("make a study folder from a shipped example")
    .argument("[folder]", "the new folder")
    .option("--from <name>", "which example (see --list)")
    .option("--list", "list the shipped examples")
    .option("--json", "print one JSON document")
    .addHelpText("after", examples("ferrule new --list", "ferrule new my-study --from four-spheres"))
    .action(async (folder: string | undefined, { from, list, json }: NewOptions) => {
      const { listShippedStudies, newStudy } = await import("../../workbench/index.js");
      if (list) {
        const studies = listShippedStudies();
        if (json) face.print(JSON.stringify(studies, null, 2));
        else {
          for (const { name, title, invented, description } of studies) {
            for (const line of alignedTable([[face.bold(name), `${title}${invented ? " (invented)" : ""}`]]))
              face.print(line);
            for (const line of wrapText(description, { indent: "    " })) face.print(line);
          }
        }
        return;
      }
      if (folder === undefined || from === undefined)
        throw new FerruleError("MissingFact", {
          found: folder === undefined ? "no folder" : "no --from",
          accepted: "ferrule new FOLDER --from NAME, with a name from ferrule new --list",
        });
      newStudy(folder, from);
      if (json) face.print(JSON.stringify({ folder, from }, null, 2));
      else {
        face.print(`Made ${folder} from ${from}.`);
        face.print(`Next: ferrule run ${folder}`);
      }
    });
};
