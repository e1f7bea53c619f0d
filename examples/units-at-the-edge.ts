/**
 * Question    What happens to a number between what a person writes and what a formula takes?
 * Objective   Read fields, gradients and masses as they are written in papers; see what is refused, and what is said.
 *
 * Run         npx tsx examples/units-at-the-edge.ts
 * Numbers     invented, except the conversions, which are definitions
 */
import { isKnownError } from "../src/errors.js";
import {
  formatQuantity,
  formatWithUncertainty,
  measuredFromSI,
  parseQuantity,
  type QuantityKind,
} from "../src/units/index.js";
import { type Print, runAlone } from "./run-alone.js";

const written: readonly [string, QuantityKind][] = [
  ["20 mT", "appliedField"],
  ["200 Oe", "appliedField"],
  ["15.9155 kA/m", "appliedField"],
  ["5.7 T/m", "fieldGradient"],
  ["92 emu/g", "massMagnetisation"],
  ["2.5 MS/s", "samplingRate"],
];
const refused: readonly [string, QuantityKind][] = [
  ["20", "appliedField"],
  ["20 mTpp", "appliedField"],
  ["5 ugFe", "mass"],
  ["1 M", "molarConcentration"],
];

export function unitsAtTheEdge(print: Print) {
  const values = written.map(([text, kind]) => parseQuantity(text, kind));
  for (const [i, [text, kind]] of written.entries()) print(`"${text}" is ${formatQuantity(values[i], kind)}`);
  const refusals = refused.map(([text, kind]) => refusalOf(text, kind));
  for (const [i, [text]] of refused.entries()) print(`"${text}" is refused: ${refusals[i]}`);
  // A number is shown with its doubt: two digits of the uncertainty, the value to the same place.
  print(
    `a mass as a person reads it: ${formatWithUncertainty(measuredFromSI(1.2034e-9, 0.0813e-9, { kind: "mass" }), { of: "Fe" })}`,
  );
  return { values, refusals };
}

function refusalOf(text: string, kind: QuantityKind): string {
  try {
    parseQuantity(text, kind);
  } catch (error) {
    if (isKnownError(error, "UnitMismatch")) return error.accepted;
    throw error;
  }
  return "";
}

runAlone(import.meta.url, unitsAtTheEdge);
