import { FerruleError } from "../../errors.js";
import type { IronDose } from "../../safety/index.js";
import { parseQuantity } from "../../units/index.js";

interface DoseRequest {
  /** A mass of Fe, or a mass of Fe per mass of body. */
  readonly ironDose: string;
  readonly bodyMass?: string | undefined;
  readonly part?: string | undefined;
}

/** A dose as people write it: "0.29 mg" with a body mass, or "2.8 mg/kg". Of Fe, not of oxide. */
export function ironDoseOf({ ironDose, bodyMass, part }: DoseRequest): IronDose {
  const species = speciesOf(part);
  const bodyMass_kg = parseQuantity(bodyMass ?? typicalMass[species], "mass", { path: "--body-mass" });
  if (!(bodyMass_kg > 0))
    throw new FerruleError("InvalidValue", { path: "--body-mass", found: bodyMass ?? "", accepted: 'e.g. "25 g"' });
  const isPerMass = ironDose.includes("/");
  const stated = parseQuantity(ironDose, isPerMass ? "massRatio" : "mass", { path: "--iron-dose" });
  return { species, bodyMass_kg, ironMass_kg: isPerMass ? stated * bodyMass_kg : stated };
}

/** Stand in until the user weighs; typical, from memory. */
const typicalMass = { mouse: "25 g", rat: "300 g", human: "70 kg", "other animal": "25 g" } as const;

function speciesOf(part: string | undefined): keyof typeof typicalMass {
  if (part === "mouse" || part === "rat") return part;
  return part?.startsWith("human") ? "human" : "other animal";
}
