import { alignedTable } from "../table.js";
import { type AddVerb, examples } from "../verb.js";

/** `ferrule doctor`: which optional tools are found. Their absence is not an error. */
export const addDoctor: AddVerb = (program, face) => {
  program
    .command("doctor")
    .description("show which optional tools this machine has")
    .option("--json", "print one JSON document")
    .addHelpText("after", examples("ferrule doctor", "ferrule doctor --json"))
    .action(async ({ json }: { json?: boolean }) => {
      const { examineMachine } = await import("../../workbench/index.js");
      const report = examineMachine();
      if (json) {
        face.print(JSON.stringify(report, null, 2));
        return;
      }
      face.print(`node ${report.node} on ${report.platform}`);
      const rows = report.tools.map(({ name, path, version, usedFor }) => [
        name,
        path ? (version ?? path) : "-",
        usedFor,
      ]);
      for (const line of alignedTable([["tool", "found", "used for"], ...rows])) face.print(line);
      face.print("None of these is needed to run Ferrule.");
    });
};
