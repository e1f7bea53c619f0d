import { parsePositioned } from "../../documents/index.js";
import { FerruleError } from "../../errors.js";
import { type CurveDescriptor, curveDescriptorUrn } from "../curve/descriptor.js";
import { parseCurveDescriptor } from "../curve/parse-descriptor.js";
import { type HarmonicsDescriptor, harmonicsDescriptorUrn } from "../spectroscopy/descriptor.js";
import { parseHarmonicsDescriptor } from "../spectroscopy/parse-descriptor.js";
import { type SusceptibilityDescriptor, susceptibilityDescriptorUrn } from "../susceptibility/descriptor.js";
import { parseSusceptibilityDescriptor } from "../susceptibility/parse-descriptor.js";

export type MeasurementDescriptor = CurveDescriptor | HarmonicsDescriptor | SusceptibilityDescriptor;

const parsers = {
  [curveDescriptorUrn]: parseCurveDescriptor,
  [harmonicsDescriptorUrn]: parseHarmonicsDescriptor,
  [susceptibilityDescriptorUrn]: parseSusceptibilityDescriptor,
} as const;

export const measurementDescriptorUrns = Object.keys(parsers) as readonly (keyof typeof parsers)[];

export const isMeasurementDescriptorUrn = (text: unknown): text is keyof typeof parsers =>
  typeof text === "string" && Object.hasOwn(parsers, text);

/**
 * The descriptor of any measurement from its JSON text; its first field says of which.
 *
 * @throws FerruleError InvalidDocument with line, column and path of every problem
 */
export function parseMeasurementDescriptor(
  text: string,
  place: { readonly file?: string } = {},
): MeasurementDescriptor {
  const { value, locate } = parsePositioned(text, place);
  const schema = typeof value === "object" && value !== null && "schema" in value ? value.schema : undefined;
  if (isMeasurementDescriptorUrn(schema)) return parsers[schema](text, place);
  throw new FerruleError("InvalidDocument", {
    ...place,
    ...locate(["schema"]),
    path: "schema",
    found: schema === undefined ? "no schema" : JSON.stringify(schema),
    accepted: `one of ${measurementDescriptorUrns.map((urn) => `"${urn}"`).join(", ")}`,
  });
}
