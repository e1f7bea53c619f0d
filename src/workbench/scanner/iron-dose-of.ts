import type { ScannerModel } from "../../documents/index.js";
import { FerruleError } from "../../errors.js";
import type { Body, IronDose } from "../../safety/index.js";
import { parseQuantity } from "../../units/index.js";
import { scannerBody } from "./scanner-body.js";

interface DoseRequest {
  /** A mass of Fe, or a mass of Fe per mass of body. */
  readonly ironDose: string;
  readonly bodyMass?: string | undefined;
}

/**
 * A dose as people write it: "0.29 mg" with a body mass, or "2.8 mg/kg". Of Fe, not of oxide. The species is that of the
 * body in the bore; its mass, when none is given, the document's or a typical one.
 *
 * @throws FerruleError  what `parseQuantity` refuses; InvalidValue; MissingFact for an own part of unknown mass
 */
export function ironDoseOf(
  { ironDose, bodyMass }: DoseRequest,
  scanner: Pick<ScannerModel, "subject" | "boreDiameter_m">,
): IronDose {
  const { body } = scannerBody(scanner);
  if (bodyMass === undefined && body.part === "own" && scanner.subject?.mass_kg === undefined)
    throw new FerruleError("MissingFact", {
      path: "--body-mass",
      found: 'a dose for part "own" of unknown mass',
      accepted: '--body-mass, e.g. "25 g", or "mass" of the subject in the document',
    });
  const bodyMass_kg = bodyMass === undefined ? body.mass_kg : parseQuantity(bodyMass, "mass", { path: "--body-mass" });
  requireAbove0(bodyMass_kg, "--body-mass", { found: bodyMass ?? "", example: '"25 g"' });
  const isPerMass = ironDose.includes("/");
  const stated = parseQuantity(ironDose, isPerMass ? "massRatio" : "mass", { path: "--iron-dose" });
  requireAbove0(stated, "--iron-dose", { found: ironDose, example: '"0.29 mg" or "2.8 mg/kg"' });
  return { species: speciesOf(body), bodyMass_kg, ironMass_kg: isPerMass ? stated * bodyMass_kg : stated };
}

function requireAbove0(value: number, path: string, { found, example }: { found: string; example: string }): void {
  if (value > 0) return;
  throw new FerruleError("InvalidValue", {
    path,
    found: `"${found}"`,
    accepted: `a quantity above 0, e.g. ${example}`,
  });
}

function speciesOf({ part, class: bodyClass }: Body): IronDose["species"] {
  if (bodyClass === "scan subject") return "human";
  return part === "mouse" || part === "rat" ? part : "other animal";
}
