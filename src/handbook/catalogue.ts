import { FerruleError } from "../errors.js";
import { measureFormulas } from "../measure/index.js";
import { physicsFormulas } from "../physics/index.js";
import { safetyFormulas } from "../safety/index.js";
import type { Formula } from "../units/index.js";
import { didYouMean } from "./nearest-name.js";

/** Every published formula that the layers below declare, in the order of the signal path. */
export const catalogue: readonly Formula[] = withUniqueNames([
  ...physicsFormulas,
  ...measureFormulas,
  ...safetyFormulas,
]);

/** The formula of that name, or a refusal that names the nearest one. */
export function findFormula(name: string): Formula {
  const formula = catalogue.find((candidate) => candidate.name === name);
  if (formula !== undefined) return formula;
  const names = catalogue.map((candidate) => candidate.name);
  throw new FerruleError("UnknownName", {
    found: `formula "${name}"`,
    accepted: `${didYouMean(name, names)}Formulas: ${names.join(", ")}`,
  });
}

/**
 * Two formulas of one name, or two inputs or outputs of one name within a formula, are a fault of ours: refused when the
 * handbook loads, so that no build can ship it.
 */
export function withUniqueNames(formulas: readonly Formula[]): readonly Formula[] {
  requireUnique(formulas, "the handbook");
  for (const { name, inputs, outputs } of formulas) {
    requireUnique(inputs, `the inputs of ${name}`);
    requireUnique(outputs, `the outputs of ${name}`);
  }
  return formulas;
}

function requireUnique(items: readonly { readonly name: string }[], where: string): void {
  const names = items.map(({ name }) => name);
  const twice = names.find((name, i) => names.indexOf(name) !== i);
  if (twice === undefined) return;
  throw new FerruleError("Conflict", { found: `"${twice}" twice in ${where}`, accepted: "one entry for each name" });
}
