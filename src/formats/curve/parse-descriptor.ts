import { type DescriptorRules, parseDescriptor } from "../descriptor/parse.js";
import { sampleQuantityFacts } from "../descriptor/quantity-facts.js";
import { type CurveDescriptor, curveDescriptorSchema } from "./descriptor.js";
import { fieldUnitRefusal, isFieldUnit, isMagnetisationUnit, magnetisationUnitRefusal } from "./facts.js";

const rules: DescriptorRules = {
  columns: '["field", "magnetisation", "sigma"]',
  units: {
    fieldUnit: { isUnit: isFieldUnit, refusal: fieldUnitRefusal },
    magnetisationUnit: { isUnit: isMagnetisationUnit, refusal: magnetisationUnitRefusal },
  },
  quantities: sampleQuantityFacts,
};

/**
 * A curve's descriptor from its JSON text.
 *
 * @throws FerruleError InvalidDocument with line, column and path of every problem
 */
export function parseCurveDescriptor(text: string, { file }: { readonly file?: string } = {}): CurveDescriptor {
  return parseDescriptor(text, curveDescriptorSchema, { rules, file });
}
