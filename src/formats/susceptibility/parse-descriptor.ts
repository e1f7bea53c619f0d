import { type DescriptorRules, parseDescriptor } from "../descriptor/parse.js";
import { frequencyUnit, phaseUnit } from "../descriptor/unit-facts.js";
import { type SusceptibilityDescriptor, susceptibilityDescriptorSchema } from "./descriptor.js";
import { susceptibilityQuantityFacts } from "./quantity-facts.js";
import { isSusceptibilityUnit, susceptibilityUnitRefusal } from "./unit.js";

const rules: DescriptorRules = {
  columns: '["frequency", "real", "imaginary"]',
  units: {
    susceptibilityUnit: { isUnit: isSusceptibilityUnit, refusal: susceptibilityUnitRefusal },
    frequencyUnit,
    phaseUnit,
  },
  quantities: susceptibilityQuantityFacts,
};

/**
 * A susceptibility's descriptor from its JSON text.
 *
 * @throws FerruleError InvalidDocument with line, column and path of every problem
 */
export function parseSusceptibilityDescriptor(
  text: string,
  { file }: { readonly file?: string } = {},
): SusceptibilityDescriptor {
  return parseDescriptor(text, susceptibilityDescriptorSchema, { rules, file });
}
