/** Front door of the handbook: every published formula, callable by name. */
export { catalogue, findFormula } from "./catalogue.js";
export type { EvaluatedInput, EvaluatedOutput, FormulaAnswer } from "./evaluate.js";
export { evaluateFormula } from "./evaluate.js";
export { handbookMarkdown } from "./markdown.js";
export { didYouMean, nearestName } from "./nearest-name.js";
