import { largestTerm } from "../figures/index.js";
import type { IronMassAnswer } from "../measure/index.js";
import {
  answerSentence,
  intervalOf,
  isJudged,
  levelOf,
  massAlone,
  precisionOf,
  valueWithUncertainty,
} from "./answer-text.js";
import { escapeHtml, figureHtml, list, paragraph, section, tableHtml } from "./html-parts.js";
import type { StudyReportData } from "./study-report-data.js";
import type { StudyReportFigures } from "./study-report-figures.js";

/** What was asked and what came out, with the pictures that it rests on. */
export function answersSections(data: StudyReportData, figures: StudyReportFigures): string[] {
  return [answersSection(data, figures), mapsSection(data, figures), budgetSection(data, figures)];
}

const truthOf = ({ study, truth }: StudyReportData, region: string): number | undefined =>
  study.invented ? truth?.find((known) => known.region === region)?.iron_kg : undefined;

function answersSection(data: StudyReportData, figures: StudyReportFigures): string {
  const { answers } = data;
  const described = answers.map(({ region, decision }) => `${region} ${decision}`).join(", ");
  return section("answers", "Answers", [
    paragraph(
      "How much iron (mass of Fe) is in each region? A \u00b1 is one standard uncertainty; the interval has everything in the budget.",
    ),
    ...answers.map((answer, i) => answerBlock(data, answer, i + 1)),
    answersTable(data),
    figureHtml(figures.masses.svg, {
      alt: `Masses with their intervals: ${described}`,
      caption:
        "Value, both 95 % intervals, critical level and detection limit of every region. Small masses stay readable because the axis is logarithmic where it has to be, and says so.",
    }),
  ]);
}

function answerBlock(data: StudyReportData, answer: IronMassAnswer, number: number): string {
  const known = truthOf(data, answer.region);
  const term = largestTerm(answer);
  const unknown = answer.budget.filter(({ standardUncertainty: u }) => !Number.isFinite(u)).map(({ name }) => name);
  const largest = unknown.length === 0 ? "Largest part" : "Largest known part";
  const extra = [
    unknown.length === 0 ? "" : `Not known: ${unknown.join(", ")}.`,
    term === undefined
      ? ""
      : `${largest} of the uncertainty: ${term.name} (${term.note}), ${massAlone(term.standardUncertainty, 2)} Fe.`,
    known === undefined ? "" : `Put in: ${massAlone(known)} Fe (known because invented).`,
  ];
  return [
    '<div class="answer">',
    `<h3>${number} ${escapeHtml(answer.region)}</h3>`,
    `<p><strong>${escapeHtml(answerSentence(answer))}</strong></p>`,
    ...extra.filter((line) => line !== "").map(paragraph),
    list(answer.advisories),
    "</div>",
  ]
    .filter((line) => line !== "")
    .join("\n");
}

function answersTable(data: StudyReportData): string {
  const hasTruth = data.answers.some(({ region }) => truthOf(data, region) !== undefined);
  const rows = data.answers.map((answer, i) => {
    const known = truthOf(data, answer.region);
    return [
      `${i + 1} ${answer.region}`,
      valueWithUncertainty(answer),
      isJudged(answer) ? intervalOf(answer.interval95_kg, answer) : "withheld",
      precisionOf(answer),
      levelOf(answer.criticalLevel_kg, answer),
      levelOf(answer.detectionLimit_kg, answer),
      isJudged(answer) ? answer.decision : "withheld",
      ...(hasTruth ? [known === undefined ? "not stated" : `${massAlone(known)} Fe`] : []),
    ];
  });
  const columns = [
    "region",
    "mass",
    "95 % interval",
    "precision only, 95 %",
    "critical level",
    "detection limit",
    "decision",
  ];
  return tableHtml({
    caption:
      "Iron mass of each region. \u201cPrecision only\u201d holds noise and background: how well the same scan would repeat.",
    columns: [...columns, ...(hasTruth ? ["put in"] : [])],
    rows,
  });
}

function mapsSection({ maps, study }: StudyReportData, figures: StudyReportFigures): string {
  const sd = [...maps.iron.standardUncertainty].filter(Number.isFinite).sort((a, b) => a - b);
  const median = sd[Math.floor(sd.length / 2)];
  const noise =
    median === undefined
      ? "Its standard-uncertainty map is not known."
      : `Median standard uncertainty of a voxel from noise: ${Number(median.toPrecision(2))} mg Fe/mL; neighbouring voxels are correlated, so the sum over a region is not to be had from it.`;
  const label = study.invented ? " Invented data." : "";
  return section("maps", "Maps", [
    figureHtml(figures.ironMap.svg, {
      alt: "Iron map, three orthogonal slices through its largest voxel, with the contours of the regions",
      caption: `Linear inversion of the forward model, in mass of Fe per volume, negative values kept. ${noise}${label}`,
    }),
    figureHtml(figures.ironMapRegions.svg, {
      alt: "Iron map, one slice through the centre of every region",
      caption: `The same map and the same bar, one slice through the centre of each region.${label}`,
    }),
    figureHtml(figures.signalMap.svg, {
      alt: "Signal map, three orthogonal slices",
      caption: `Native map, gridded by the field-free point's place: it shows where tracer is and claims no mass, because its tails reach across the field of view.${label}`,
    }),
  ]);
}

const perTable = 4;

function budgetSection({ answers }: StudyReportData, figures: StudyReportFigures): string {
  const groups = Array.from({ length: Math.ceil(answers.length / perTable) }, (_, g) =>
    answers.slice(g * perTable, (g + 1) * perTable),
  );
  return section("budget", "Uncertainty budget", [
    ...groups.map((group, g) => budgetTable(group, g * perTable)),
    figureHtml(figures.budget.svg, {
      alt: "Contributions to each region's standard uncertainty, as bars",
      caption:
        "Type A and type B contributions as parts of the combined standard uncertainty; the largest of each region stands out.",
    }),
  ]);
}

/** A column's head must not push the others off the page; the whole name stands with its number under Answers. */
const shortLabel = (label: string): string =>
  [...label].length <= 18 ? label : `${[...label].slice(0, 17).join("").trimEnd()}\u2026`;

/** Contributions down, regions across; the largest of each region is set in bold. */
function budgetTable(answers: readonly IronMassAnswer[], offset: number): string {
  const lines = [
    ...new Map(answers.flatMap(({ budget }) => budget.map((line) => [line.name, line] as const))).values(),
  ];
  const termOf = (answer: IronMassAnswer, name: string) => answer.budget.find((line) => line.name === name);
  const rows = lines.map(({ name, type, note }) => [
    name,
    type,
    note,
    ...answers.map((answer) => massAlone(termOf(answer, name)?.standardUncertainty ?? Number.NaN, 2)),
  ]);
  const strong = new Set(
    answers.map(
      (answer, column) => `${lines.findIndex(({ name }) => name === largestTerm(answer)?.name)},${column + 3}`,
    ),
  );
  const combined = ["combined", "", "", ...answers.map(({ standardUncertainty_kg: u }) => massAlone(u, 2))];
  const largest = ["largest term", "", "", ...answers.map((answer) => largestTerm(answer)?.name ?? "none")];
  return tableHtml({
    caption: "Standard uncertainties (k = 1), mass of Fe; the largest of each region in bold",
    columns: [
      "contribution",
      "type",
      "what it covers",
      ...answers.map(({ region }, i) => `${offset + i + 1} ${shortLabel(region)}`),
    ],
    rows: [...rows, combined, largest],
    numeric: answers.map((_, i) => i + 3),
    strong,
  });
}
