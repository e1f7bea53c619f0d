import { ironMolarMass_kg_per_mol, type SourceStatus } from "../../units/index.js";

/** A dose of iron (Fe) that a label or a publication names. Never a limit by itself. */
export interface PublishedDose {
  readonly name: string;
  readonly source: string;
  readonly edition: string;
  readonly status: SourceStatus;
}

/** A human dose: of the body as a whole, or in proportion to its mass. */
export interface LabelledDose extends PublishedDose {
  readonly dose: { readonly perBody_kg: number } | { readonly perMass_kg_per_kg: number };
  /** Body masses for which the label names it. */
  readonly from_kg?: number;
  readonly below_kg?: number;
}

const molar = ironMolarMass_kg_per_mol;
const labels = "labels and reviews";

/** Labelled and usual single human doses, intravenous. Checked by checks/limits (P21 to P23). */
export const labelledDoses: readonly LabelledDose[] = [
  {
    name: "ferumoxytol, 510 mg Fe (17 mL of 30 mg/mL); repeat after 3 to 8 days",
    dose: { perBody_kg: 510e-6 },
    source: "label pages of drugs.com and globalrph.com",
    edition: "as read there",
    status: "read",
  },
  {
    name: "ferucarbotran, 0.9 mL of 0.5 mmol Fe/mL below 60 kg",
    dose: { perBody_kg: 0.45e-3 * molar },
    below_kg: 60,
    source: labels,
    edition: "not read",
    status: "from memory",
  },
  {
    name: "ferucarbotran, 1.4 mL of 0.5 mmol Fe/mL from 60 kg",
    dose: { perBody_kg: 0.7e-3 * molar },
    from_kg: 60,
    source: labels,
    edition: "not read",
    status: "from memory",
  },
  {
    name: "ferumoxides, 10 umol Fe/kg",
    dose: { perMass_kg_per_kg: 10e-6 * molar },
    source: labels,
    edition: "not read",
    status: "from memory",
  },
  {
    name: "upper end of usual diagnostic doses, 0.5 to 5 mg Fe/kg",
    dose: { perMass_kg_per_kg: 5e-6 },
    source: labels,
    edition: "not read",
    status: "from memory",
  },
];

/** A dose given to animals in published work. */
export interface AnimalDose extends PublishedDose {
  readonly species: "mouse" | "rat" | "rabbit";
  readonly dose_kg_per_kg: number;
}

/** Doses of published work on animals: what was done, not what may be done. Checked by checks/limits (P24). */
export const animalDoses: readonly AnimalDose[] = [
  {
    species: "mouse",
    name: "60 uL of 87 mmol Fe/L, at 25 g",
    dose_kg_per_kg: (60e-9 * 87 * molar) / 25e-3,
    source: "Kaul et al. (2017), abstract on semanticscholar",
    edition: "2017",
    status: "read",
  },
  {
    species: "rabbit",
    name: "50 umol Fe/kg",
    dose_kg_per_kg: 50e-6 * molar,
    source: "PMC4159390",
    edition: "2014",
    status: "read",
  },
  {
    species: "rat",
    name: "0.4 mg Fe/kg as iron-loaded albumin aggregates",
    dose_kg_per_kg: 0.4e-6,
    source: "PMC5734624, figure 3",
    edition: "2017",
    status: "read",
  },
];
