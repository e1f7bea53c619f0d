import { FerruleError } from "../errors.js";
import {
  type Formula,
  type FormulaInput,
  type FormulaOutput,
  parseQuantity,
  quantityKinds,
  type SourceStatus,
  toUnit,
} from "../units/index.js";
import { findFormula } from "./catalogue.js";
import { didYouMean } from "./nearest-name.js";

/** An input as it was used: in coherent SI, with what the user wrote (or the default that stood in). */
export interface EvaluatedInput {
  readonly name: string;
  readonly value: number;
  readonly unit: string;
  readonly given: string;
  readonly isDefault: boolean;
}

/** An output in the unit in which the formula shows it. */
export interface EvaluatedOutput {
  readonly name: string;
  readonly label: string;
  readonly value: number;
  readonly unit: string;
  readonly summary: string;
}

export interface FormulaAnswer {
  readonly name: string;
  readonly inputs: readonly EvaluatedInput[];
  readonly outputs: readonly EvaluatedOutput[];
  readonly equation: string;
  readonly validity: string;
  readonly source: string;
  readonly status: SourceStatus;
  readonly advisories: readonly string[];
}

/**
 * A formula of the handbook, with inputs as a person writes them.
 *
 * @param name  "psf-width"
 * @param rawInputs  { "core-diameter": "25 nm", saturation: "446 kA/m", temperature: "300 K" }
 * @returns outputs in the formula's display units, inputs in SI, source and cautions
 * @throws FerruleError  UnknownName, MissingFact, UnitMismatch, InvalidValue; `place.path` is the input's name
 */
export function evaluateFormula(name: string, rawInputs: Readonly<Record<string, string>>): FormulaAnswer {
  const formula = findFormula(name);
  refuseUnknownInputs(formula, Object.keys(rawInputs));
  const inputs = formula.inputs.map((input) => readInput(formula, input, rawInputs));
  const values = Object.fromEntries(inputs.map((input) => [input.name, input.value]));
  const results = formula.compute(values);
  return {
    name: formula.name,
    inputs,
    outputs: formula.outputs.map((output) => showOutput(formula, output, results[output.name])),
    equation: formula.equation,
    validity: formula.validity,
    source: formula.source.text,
    status: formula.source.status,
    advisories: formula.advise?.(values) ?? [],
  };
}

function refuseUnknownInputs(formula: Formula, given: readonly string[]): void {
  const names = formula.inputs.map((input) => input.name);
  const unknown = given.find((name) => !names.includes(name));
  if (unknown === undefined) return;
  throw new FerruleError("UnknownName", {
    path: unknown,
    found: `input "${unknown}" for ${formula.name}`,
    accepted: `${didYouMean(unknown, names)}Inputs: ${names.join(", ")}`,
  });
}

function readInput(formula: Formula, input: FormulaInput, rawInputs: Readonly<Record<string, string>>): EvaluatedInput {
  const raw = Object.hasOwn(rawInputs, input.name) ? rawInputs[input.name] : undefined;
  const given = raw ?? input.default;
  if (given === undefined) throw missingInputs(formula, rawInputs);
  const value = parseQuantity(given, input.kind, { path: input.name });
  requireWithinBounds(input, value, given);
  return { name: input.name, value, unit: quantityKinds[input.kind].siUnit, given, isDefault: raw === undefined };
}

/** All of them at once: a reader should not have to discover the inputs one by one. */
function missingInputs(formula: Formula, rawInputs: Readonly<Record<string, string>>): FerruleError {
  const missing = formula.inputs.filter(
    ({ name, default: standIn }) => standIn === undefined && !Object.hasOwn(rawInputs, name),
  );
  return new FerruleError("MissingFact", {
    path: missing[0]?.name,
    found: `${formula.name} without ${missing.map(({ name }) => name).join(", ")}`,
    accepted: missing.map(({ name, example, summary }) => `${name} "${example}" (${summary})`).join("; "),
  });
}

function requireWithinBounds(input: FormulaInput, value: number, given: string): void {
  const { minimum = Number.NEGATIVE_INFINITY, maximum = Number.POSITIVE_INFINITY, aboveMinimum = false } = input;
  if (value <= maximum && (aboveMinimum ? value > minimum : value >= minimum)) return;
  throw new FerruleError("InvalidValue", {
    path: input.name,
    found: `"${given}"`,
    accepted: `${boundsText(input)}, e.g. "${input.example}"`,
  });
}

/** "above 0 m", "from 0 to 1": the bounds of an input in SI, or nothing. */
export function boundsText({ kind, minimum, maximum, aboveMinimum = false }: FormulaInput): string {
  const { siUnit } = quantityKinds[kind];
  const withUnit = (value: number) => (siUnit === "1" ? String(value) : `${value} ${siUnit}`);
  const low = minimum === undefined ? "" : `${aboveMinimum ? "above" : "at least"} ${withUnit(minimum)}`;
  const high = maximum === undefined ? "" : `at most ${withUnit(maximum)}`;
  return [low, high].filter((part) => part !== "").join(" and ");
}

function showOutput(formula: Formula, output: FormulaOutput, valueSI: number | undefined): EvaluatedOutput {
  const value = valueSI === undefined ? Number.NaN : toUnit(valueSI, output.unit);
  if (!Number.isFinite(value)) {
    throw new FerruleError("InvalidValue", {
      found: `inputs for which ${output.name} of ${formula.name} is not a finite number`,
      accepted: `inputs of the usual size, e.g. ${formula.inputs.map((i) => `${i.name} "${i.example}"`).join(", ")}`,
    });
  }
  const { name, label = name, unit, summary } = output;
  return { name, label, value, unit, summary };
}
