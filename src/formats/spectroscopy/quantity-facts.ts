import { driveQuantityFacts, sampleQuantityFacts } from "../descriptor/quantity-facts.js";

/** Facts of a spectrum that are quantities, with the range in which a person can have meant them. */
export const harmonicsQuantityFacts = {
  ...sampleQuantityFacts,
  driveAmplitude: driveQuantityFacts.fieldAmplitude,
  driveFrequency: driveQuantityFacts.driveFrequency,
  biasField: driveQuantityFacts.biasField,
  viscosity: driveQuantityFacts.viscosity,
  receiveSensitivity: driveQuantityFacts.receiveSensitivity,
} as const;
