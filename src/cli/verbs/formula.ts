import { FerruleError } from "../../errors.js";
import { catalogue, evaluateFormula, type FormulaAnswer, findFormula } from "../../handbook/index.js";
import { type Formula, formatNumber, quantityKinds } from "../../units/index.js";
import type { Face } from "../face.js";
import { alignedTable, wrapText } from "../table.js";
import { type AddVerb, examples } from "../verb.js";

/** `ferrule formula`: lists the handbook, shows one formula, or evaluates it. */
export const addFormula: AddVerb = (program, face) => {
  program
    .command("formula")
    .description("list the handbook's formulas, or evaluate one")
    .argument("[name]", "formula; without it, all are listed")
    .argument("[inputs...]", 'input=value with its unit, e.g. core-diameter="25 nm"')
    .option("--about", "show equation, inputs, validity and source instead of evaluating")
    .option("--json", "print one JSON document")
    .addHelpText(
      "after",
      examples(
        "ferrule formula",
        "ferrule formula langevin xi=2",
        "ferrule formula psf-width --about",
        'ferrule formula psf-width core-diameter="25 nm" saturation="446 kA/m" temperature="300 K" --json',
      ),
    )
    .action(
      (name: string | undefined, inputs: readonly string[], { about, json }: { about?: boolean; json?: boolean }) => {
        if (name === undefined) list(face, json === true);
        else if (about) describe(face, findFormula(name), json === true);
        else show(face, evaluateFormula(name, splitInputs(inputs)), json === true);
      },
    );
};

/** `["xi=2"]` to `{ xi: "2" }`; the value may hold further equals signs. */
function splitInputs(inputs: readonly string[]): Record<string, string> {
  const values = new Map<string, string>();
  for (const input of inputs) {
    const equals = input.indexOf("=");
    if (equals < 1)
      throw new FerruleError("InvalidValue", {
        found: `"${input}"`,
        accepted: 'input=value, e.g. core-diameter="25 nm"',
      });
    const name = input.slice(0, equals).trim();
    if (values.has(name))
      throw new FerruleError("InvalidValue", {
        path: name,
        found: "the same input twice",
        accepted: "each input once",
      });
    values.set(name, input.slice(equals + 1).trim());
  }
  return Object.fromEntries(values);
}

function list(face: Face, json: boolean): void {
  if (json) {
    face.print(JSON.stringify(catalogue.map(declaration), null, 2));
    return;
  }
  for (const subject of new Set(catalogue.map((formula) => formula.subject))) {
    face.print(face.bold(subject));
    const rows = catalogue
      .filter((formula) => formula.subject === subject)
      .map(({ name, inputs, summary }) => [name, inputs.map((input) => input.name).join(", "), summary]);
    for (const line of alignedTable(rows)) face.print(line);
  }
  face.print(face.faint("\nferrule formula NAME --about shows equation, units and source"));
}

/** A formula's declaration as plain data. */
function declaration({ name, subject, summary, equation, inputs, outputs, validity, source }: Formula) {
  const withUnit = inputs.map(({ kind, ...input }) => ({ ...input, unit: quantityKinds[kind].siUnit }));
  return { name, subject, summary, equation, inputs: withUnit, outputs, validity, source };
}

function describe(face: Face, formula: Formula, json: boolean): void {
  if (json) {
    face.print(JSON.stringify(declaration(formula), null, 2));
    return;
  }
  face.print(`${face.bold(formula.name)}: ${formula.summary}`);
  face.print(`  ${formula.equation}`);
  const inputs = formula.inputs.map((input) => [
    input.name,
    input.default === undefined ? `e.g. "${input.example}"` : `default "${input.default}"`,
    input.summary,
  ]);
  for (const line of alignedTable([["input", "", ""], ...inputs])) face.print(line);
  const outputs = formula.outputs.map(({ name, label = name, unit, summary }) => [label, unit, summary]);
  for (const line of alignedTable([["output", "unit", ""], ...outputs])) face.print(line);
  for (const line of wrapText(`Valid for: ${formula.validity}`)) face.print(line);
  for (const line of wrapText(`Source (${formula.source.status}): ${formula.source.text}`)) face.print(line);
}

function show(face: Face, answer: FormulaAnswer, json: boolean): void {
  if (json) {
    face.print(JSON.stringify(answer, null, 2));
    return;
  }
  face.print(`${face.bold(answer.name)}: ${answer.equation}`);
  const rows = answer.outputs.map(({ label, value, unit, summary }) => [
    label,
    formatNumber(value, 7),
    unit === "1" ? "" : unit,
    face.faint(summary),
  ]);
  for (const line of alignedTable(rows, { right: [1] })) face.print(line);
  const used = answer.inputs.map(({ name, given, isDefault }) => `${name} = ${given}${isDefault ? " (default)" : ""}`);
  for (const line of wrapText(`with ${used.join(", ")}`)) face.print(line);
  for (const line of wrapText(`Valid for: ${answer.validity}`)) face.print(face.faint(line));
  for (const line of wrapText(`Source (${answer.status}): ${answer.source}`)) face.print(face.faint(line));
  for (const advisory of answer.advisories) for (const line of wrapText(`Caution: ${advisory}`)) face.print(line);
}
