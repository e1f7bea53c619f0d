import type { AcSusceptibility, HarmonicSpectrum, MagnetisationCurve } from "../../measure/index.js";
import { curveDescriptorUrn } from "../curve/descriptor.js";
import { type ReadCurveOptions, readCurve } from "../curve/read.js";
import { harmonicsDescriptorUrn } from "../spectroscopy/descriptor.js";
import { readHarmonics } from "../spectroscopy/read.js";
import { readSusceptibility } from "../susceptibility/read.js";
import type { MeasurementDescriptor } from "./parse-descriptor.js";

/** A measured table in SI, by what it is. */
export type Measurement =
  | { readonly kind: "curve"; readonly curve: MagnetisationCurve }
  | { readonly kind: "harmonics"; readonly spectrum: HarmonicSpectrum }
  | { readonly kind: "susceptibility"; readonly susceptibility: AcSusceptibility };

/**
 * A measured table as what its descriptor says it is; without a descriptor it is read as a magnetisation curve, whose
 * header may say enough. A spectrum or a susceptibility always needs one.
 *
 * @throws FerruleError as the readers of each kind do
 */
export function readMeasurement(
  bytes: Uint8Array,
  descriptor: MeasurementDescriptor | undefined,
  place: ReadCurveOptions = {},
): Measurement {
  if (descriptor === undefined || descriptor.schema === curveDescriptorUrn) {
    return { kind: "curve", curve: readCurve(bytes, descriptor, place) };
  }
  if (descriptor.schema === harmonicsDescriptorUrn) {
    return { kind: "harmonics", spectrum: readHarmonics(bytes, descriptor, place) };
  }
  return { kind: "susceptibility", susceptibility: readSusceptibility(bytes, descriptor, place) };
}
