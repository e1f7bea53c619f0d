import { type DescriptorRules, parseDescriptor } from "../descriptor/parse.js";
import { frequencyUnit, phaseUnit } from "../descriptor/unit-facts.js";
import { type HarmonicsDescriptor, harmonicsDescriptorSchema } from "./descriptor.js";
import { harmonicsQuantityFacts } from "./quantity-facts.js";
import { isValueUnit, valueUnitRefusal } from "./value-unit.js";

const rules: DescriptorRules = {
  columns: '["harmonic", "amplitude", "phase", "sigma"]',
  units: {
    valueUnit: { isUnit: isValueUnit, refusal: (unit) => valueUnitRefusal(unit) },
    frequencyUnit,
    phaseUnit,
  },
  quantities: harmonicsQuantityFacts,
};

/**
 * A spectrum's descriptor from its JSON text.
 *
 * @throws FerruleError InvalidDocument with line, column and path of every problem
 */
export function parseHarmonicsDescriptor(text: string, { file }: { readonly file?: string } = {}): HarmonicsDescriptor {
  return parseDescriptor(text, harmonicsDescriptorSchema, { rules, file });
}
