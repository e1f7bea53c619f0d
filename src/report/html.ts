import { answersSections } from "./answers-html.js";
import { caution, standingCautions } from "./cautions.js";
import { escapeHtml, list, paragraph, section, tableHtml } from "./html-parts.js";
import { methodSections } from "./method-html.js";
import { pageStyle } from "./page-style.js";
import { recordGaps } from "./record-gaps.js";
import type { StudyReportData } from "./study-report-data.js";
import type { StudyReportFigures } from "./study-report-figures.js";

/**
 * The report of a study as one HTML document that needs nothing else: style and drawings inside, no script, no address.
 * It reads like a lab report and prints on A4. Everything that came from a person is escaped.
 */
export function studyReportHtml(data: StudyReportData, figures: StudyReportFigures): string {
  const title = `${data.study.name} \u2013 report`;
  return [
    "<!doctype html>",
    '<html lang="en">',
    "<head>",
    '<meta charset="utf-8">',
    '<meta name="viewport" content="width=device-width, initial-scale=1">',
    `<title>${escapeHtml(title)}</title>`,
    `<style>\n${pageStyle}\n</style>`,
    "</head>",
    "<body>",
    "<main>",
    header(data),
    ...answersSections(data, figures),
    ...methodSections(data, figures),
    provenanceSection(data),
    gapsSection(data),
    cautionsSection(data),
    "</main>",
    "</body>",
    "</html>",
    "",
  ].join("\n");
}

function header({ study, version, scans }: StudyReportData): string {
  const notice = study.notice ?? "The scanner, the objects or the voltages of this study are made up.";
  return [
    study.invented ? `<p class="banner" role="note"><strong>Invented data.</strong> ${escapeHtml(notice)}</p>` : "",
    `<h1>${escapeHtml(study.name)}</h1>`,
    study.description === undefined ? "" : paragraph(study.description),
    `<p class="quiet">Iron masses from magnetic particle imaging, scan ${escapeHtml(scans.map(({ name }) => name).join(", "))}. Written by Ferrule ${escapeHtml(version)}.</p>`,
  ]
    .filter((line) => line !== "")
    .join("\n");
}

function provenanceSection({ provenance, seeds, version }: StudyReportData): string {
  const pieces = tableHtml({
    caption: "Every computed piece. Equal content digests mean equal results.",
    columns: ["piece", "method", "key of its inputs", "content digest"],
    rows: provenance.map(({ node, method, methodVersion, key, digest }) => [
      node,
      `${method} ${methodVersion}`,
      key,
      digest,
    ]),
    className: "hash",
  });
  const seedList = seeds.map(({ scan, seed }) => `${scan}: ${seed}`).join(", ");
  const words = seeds.length === 0 ? "No random numbers were drawn." : `Seeds of the simulated scans: ${seedList}.`;
  return section("provenance", "Provenance", [pieces, paragraph(words), paragraph(`Program version ${version}.`)]);
}

function gapsSection(data: StudyReportData): string {
  const rows = recordGaps(data).map(({ subject, missing }) => [subject, missing.join("; ")]);
  return section("record", "What this record does not hold", [
    paragraph(
      "Another laboratory would need these to repeat the study. They are not among what this report was written from.",
    ),
    tableHtml({ caption: "Items of a complete record that are missing", columns: ["subject", "missing"], rows }),
  ]);
}

function cautionsSection({ advisories, answers }: StudyReportData): string {
  const own = answers.flatMap(({ region, advisories: each }) => each.map((advisory) => `${region}: ${advisory}`));
  const all = [...new Set([...own, ...advisories, ...standingCautions])];
  return `<div class="cautions">\n${section("cautions", "Cautions", [list(all), `<p><strong>${escapeHtml(caution)}</strong></p>`])}\n</div>`;
}
