/** Front door of the formats layer: bytes -> plain data in SI and back. No file is opened here. */
export {
  type CurveDescriptor,
  type CurveFactName,
  curveDescriptorSchema,
  curveDescriptorUrn,
} from "./curve/descriptor.js";
export { parseCurveDescriptor } from "./curve/parse-descriptor.js";
export { type ReadCurveOptions, readCurve } from "./curve/read.js";
export {
  isMeasurementDescriptorUrn,
  type MeasurementDescriptor,
  measurementDescriptorUrns,
  parseMeasurementDescriptor,
} from "./measurement/parse-descriptor.js";
export { type Measurement, readMeasurement } from "./measurement/read.js";
export { type ReadNpyOptions, readNpy } from "./npy/read.js";
export type { NpyArray, NpyType } from "./npy/types.js";
export { writeNpy } from "./npy/write.js";
export {
  type HarmonicsDescriptor,
  harmonicsDescriptorSchema,
  harmonicsDescriptorUrn,
} from "./spectroscopy/descriptor.js";
export { parseHarmonicsDescriptor } from "./spectroscopy/parse-descriptor.js";
export { type ReadHarmonicsOptions, readHarmonics } from "./spectroscopy/read.js";
export {
  type SusceptibilityDescriptor,
  susceptibilityDescriptorSchema,
  susceptibilityDescriptorUrn,
} from "./susceptibility/descriptor.js";
export { parseSusceptibilityDescriptor } from "./susceptibility/parse-descriptor.js";
export { type ReadSusceptibilityOptions, readSusceptibility } from "./susceptibility/read.js";
