import { FerruleError } from "../../errors.js";
import { formatQuantity } from "../../units/index.js";
import { type LimitLine, limitLine } from "../limit-line.js";
import { requirePositive } from "../ranges.js";
import { type AnimalDose, animalDoses, type LabelledDose, labelledDoses } from "./published-doses.js";

export interface IronDose {
  readonly species: "human" | "mouse" | "rat" | "rabbit" | "other animal";
  /** Fe of one injection, not oxide and not particles. */
  readonly ironMass_kg: number;
  readonly bodyMass_kg: number;
}

/**
 * An iron dose beside the doses of labels (people) or of published work (animals; their limit stays null).
 *
 * @returns people: total Fe, kg, each label at this body mass; animals: Fe over body mass, kg/kg
 * @throws FerruleError  InvalidValue
 */
export function ironDoseLimits({ species, ironMass_kg, bodyMass_kg }: IronDose): LimitLine[] {
  requirePositive(ironMass_kg, "ironMass_kg", "100e-9 (100 ug Fe)");
  requirePositive(bodyMass_kg, "bodyMass_kg", species === "human" ? "70" : "25e-3 (25 g)");
  if (ironMass_kg >= bodyMass_kg)
    throw new FerruleError("InvalidValue", {
      path: "ironMass_kg",
      found: `${ironMass_kg} kg Fe in ${bodyMass_kg} kg`,
      accepted: "a mass of Fe far below that of the body, e.g. 100e-9 (100 ug Fe)",
    });
  const dose = { ironMass_kg, bodyMass_kg };
  if (species === "human") return humanLines(dose);
  const used = animalDoses.filter((row) => species === "other animal" || row.species === species);
  return used.map((row) => animalLine(dose, row));
}

type Dose = Omit<IronDose, "species">;

/** Boxed warning of injectable iron, from memory. */
const hypersensitivity =
  "injectable iron can cause fatal hypersensitivity even at the first dose, and its labels carry boxed warnings (from memory): licensed prescription, equipment and staff for resuscitation; repeated doses load the body with iron";

function humanLines({ ironMass_kg, bodyMass_kg }: Dose): LimitLine[] {
  const perMass = formatQuantity(ironMass_kg / bodyMass_kg, "massRatio");
  const compared = {
    class: "scan subject",
    quantity: "iron dose, one injection",
    axis: null,
    bodyPart: "whole body",
    kind: "mass",
    value: ironMass_kg,
  } as const;
  return labelledDoses
    .filter(({ from_kg = 0, below_kg = Infinity }) => bodyMass_kg >= from_kg && bodyMass_kg < below_kg)
    .map((row) =>
      limitLine(compared, {
        limit: labelledIron_kg(row, bodyMass_kg),
        source: `${row.name}: ${row.source}`,
        edition: row.edition,
        status: row.status,
        caution: `${perMass} Fe here; a dose labelled for another product and purpose, not a limit for this particle; ethics approval and a licensed physician decide; ${hypersensitivity}`,
      }),
    );
}

/** Fe that a label names for a body of this mass, kg. */
export function labelledIron_kg({ dose }: LabelledDose, bodyMass_kg: number): number {
  return "perBody_kg" in dose ? dose.perBody_kg : dose.perMass_kg_per_kg * bodyMass_kg;
}

function animalLine({ ironMass_kg, bodyMass_kg }: Dose, { species, name, dose_kg_per_kg, ...row }: AnimalDose) {
  const value = ironMass_kg / bodyMass_kg;
  const used = formatQuantity(dose_kg_per_kg, "massRatio");
  return limitLine(
    {
      class: "animal",
      quantity: "iron dose per body mass",
      axis: null,
      bodyPart: "whole body",
      kind: "massRatio",
      value,
    },
    {
      limit: null,
      ...row,
      caution: `dose used in published work, not a limit: ${used} Fe in a ${species} (${name}); ethics approval and a veterinarian decide; volume, coating and rate of injection matter too`,
    },
  );
}
