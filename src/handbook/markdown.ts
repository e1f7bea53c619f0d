import type { Formula, FormulaInput, FormulaOutput } from "../units/index.js";
import { catalogue } from "./catalogue.js";
import { boundsText } from "./evaluate.js";

/** The whole handbook as Markdown: docs/guide/handbook.md is this text. */
export function handbookMarkdown(formulas: readonly Formula[] = catalogue): string {
  return `${[introduction, index(formulas), ...formulas.map(section)].join("\n\n")}\n`;
}

const introduction = `# Handbook

Every published formula that Ferrule uses and can be called by name. This page is generated from the declarations beside
the functions; a test keeps the two equal.

Applied fields and gradients are carried as mu0*H (T, T/m); drive amplitudes are peak values; a gradient is the magnitude
along the axis that is named. A mass of iron is a mass of Fe, never of oxide.

The status says how well the source is known: *read* (seen in the text), *read (secondary)* (seen quoted elsewhere),
*common practice*, *from memory* (text not seen), *derived* (worked out here from definitions).`;

function index(formulas: readonly Formula[]): string {
  const rows = formulas.map(
    ({ name, subject, summary }) => `| [\`${name}\`](#${name}) | ${subject} | ${cell(summary)} |`,
  );
  return ["| formula | subject | what it gives |", "|---|---|---|", ...rows].join("\n");
}

function section({ name, summary, equation, inputs, outputs, validity, source }: Formula): string {
  return [
    `## ${name}`,
    `${capitalised(summary)}.`,
    `\`\`\`text\n${equation}\n\`\`\``,
    ["| input | meaning | example | default | bounds |", "|---|---|---|---|---|", ...inputs.map(inputRow)].join("\n"),
    ["| output | shown as | unit | meaning |", "|---|---|---|---|", ...outputs.map(outputRow)].join("\n"),
    `Valid for: ${validity}.`,
    `Source (${source.status}): ${source.text}.`,
  ].join("\n\n");
}

function inputRow(input: FormulaInput): string {
  const { name, summary, example, default: standIn } = input;
  const last = standIn === undefined ? "required" : `\`${standIn}\``;
  return `| \`${name}\` | ${cell(summary)} | \`${example}\` | ${last} | ${boundsText(input)} |`;
}

function outputRow({ name, label = name, unit, summary }: FormulaOutput): string {
  return `| \`${name}\` | ${cell(label)} | ${unit} | ${cell(summary)} |`;
}

const cell = (text: string): string => text.replaceAll("|", "\\|");
const capitalised = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);
