import { driveQuantityFacts, sampleQuantityFacts } from "../descriptor/quantity-facts.js";

/** Facts of a susceptibility that are quantities, with the range in which a person can have meant them. */
export const susceptibilityQuantityFacts = {
  ...sampleQuantityFacts,
  fieldAmplitude: driveQuantityFacts.fieldAmplitude,
  viscosity: driveQuantityFacts.viscosity,
} as const;
