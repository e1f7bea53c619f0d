import { join } from "node:path";
import { figureCsv } from "../../figures/index.js";
import type { IronMassAnswer } from "../../measure/index.js";
import { answersDocument, studyReportFigures, studyReportHtml } from "../../report/index.js";
import { writeResults } from "../store/write-results.js";
import { reportData } from "./report-data.js";
import type { StudyRunResult } from "./run-study.js";

/** The answers of a run as the JSON document that `--json` prints and `results/answers.json` holds. */
export function answersOf(result: StudyRunResult, { version }: { version: string }) {
  return answersDocument(reportData(result, { version }));
}

/** Every answer with, in an invented study, what was put in. */
export function answerRows(result: StudyRunResult): { answer: IronMassAnswer; truth_kg?: number }[] {
  const { answers, truth } = reportData(result, { version: "" });
  return answers.map((answer) => ({
    answer,
    truth_kg: truth?.find(({ region }) => region === answer.region)?.iron_kg,
  }));
}

/** Writes STUDY/results: report.html, answers.json, and every figure with its numbers. Returns the paths. */
export async function writeReport(result: StudyRunResult, { version }: { version: string }): Promise<string[]> {
  const data = reportData(result, { version });
  const figures = await studyReportFigures(data);
  const files: Record<string, string> = {
    "report.html": studyReportHtml(data, figures),
    "answers.json": `${JSON.stringify(answersDocument(data), null, 2)}\n`,
  };
  for (const [name, figure] of Object.entries(figures)) {
    const base = name.replace(/[A-Z]/g, (capital) => `-${capital.toLowerCase()}`);
    files[`${base}.svg`] = figure.svg;
    files[`${base}.csv`] = figureCsv(figure);
  }
  return writeResults(join(result.run.loaded.folder, "results"), files, { replace: true }).slice(0, 2);
}
