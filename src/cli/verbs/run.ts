import type { IronMassAnswer } from "../../measure/index.js";
import { formatQuantity } from "../../units/index.js";
import type { StudyRunResult } from "../../workbench/index.js";
import type { Face } from "../face.js";
import { alignedTable, wrapText } from "../table.js";
import { type AddVerb, examples } from "../verb.js";
import { readVersion } from "../version.js";
import { artifactList, runForVerb, showArtifacts } from "./study-verb.js";

const verbs = [
  { name: "run", description: "bring a study up to date, answer its questions and write the report" },
  { name: "measure", description: "answer a study's questions (thin for now: iron mass in geometric regions)" },
  { name: "report", description: "write a study's report (HTML and JSON), bringing it up to date first" },
] as const;

/** `ferrule run`, `measure`, `report`: the whole thread; they differ in what they print and write. */
export const addRun: AddVerb = (program, face, setExitCode) => {
  for (const { name, description } of verbs)
    program
      .command(name)
      .description(description)
      .argument("<study>", "folder of a study (ferrule new)")
      .option("--json", "print one JSON document")
      .addHelpText("after", examples(`ferrule ${name} my-study`))
      .action(async (folder: string, { json }: { json?: boolean }) => {
        const { answerRows, answersOf, writeReport } = await import("../../workbench/index.js");
        const result = await runForVerb(face, folder, "answers");
        const answers = answersOf(result, { version: readVersion() });
        face.progress("writing the report ...");
        const files = name === "measure" ? [] : await writeReport(result, { version: readVersion() });
        const decisions = answerRows(result).map(({ answer }) => answer.decision);
        if (decisions.length > 0 && decisions.every((decision) => decision === "withheld")) setExitCode(1);
        if (json) face.print(JSON.stringify({ ...answers, steps: await artifactList(result), files }, null, 2));
        else await show(face, result, { name, files });
      });
};

async function show(
  face: Face,
  result: StudyRunResult,
  { name, files }: { name: (typeof verbs)[number]["name"]; files: readonly string[] },
): Promise<void> {
  const { answerRows } = await import("../../workbench/index.js");
  const { study } = result.run.loaded;
  if (name === "run") await showArtifacts(face, result);
  face.print(face.bold(`\n${study.model.name}${study.model.invented ? " (invented)" : ""}`));
  for (const line of answerTable(answerRows(result))) face.print(line);
  const { advisories } = study.model;
  for (const advisory of advisories) for (const line of wrapText(advisory)) face.print(face.faint(line));
  face.print(face.faint("  Research use; not a medical device. Every caution and the budgets are in the report."));
  if (files.length > 0) face.print(`Written: ${files.join(", ")}`);
}

function answerTable(rows: readonly { readonly answer: IronMassAnswer; readonly truth_kg?: number }[]): string[] {
  const mass = (kg: number) => formatQuantity(kg, "mass", { digits: 3, unit: "ug" });
  const withTruth = rows.some(({ truth_kg }) => truth_kg !== undefined);
  const head = [
    "region",
    "Fe",
    "95 % interval",
    "noise only",
    "critical level",
    "decision",
    ...(withTruth ? ["put in"] : []),
  ];
  const body = rows.map(({ answer, truth_kg }) => [
    answer.region,
    mass(answer.value_kg),
    `${mass(answer.interval95_kg[0])} to ${mass(answer.interval95_kg[1])}`,
    `± ${mass(answer.precisionOnly.standardUncertainty_kg)}`,
    mass(answer.criticalLevel_kg),
    answer.decision,
    ...(truth_kg === undefined ? [] : [mass(truth_kg)]),
  ]);
  return alignedTable([head, ...body], { right: [1, 2, 3, 4] });
}
