/** Front door of the formats layer: bytes -> plain data in SI and back. No file is opened here. */
export {
  type CurveDescriptor,
  type CurveFactName,
  curveDescriptorSchema,
  curveDescriptorUrn,
} from "./curve/descriptor.js";
export { parseCurveDescriptor } from "./curve/parse-descriptor.js";
export { type ReadCurveOptions, readCurve } from "./curve/read.js";
export { type ReadNpyOptions, readNpy } from "./npy/read.js";
export type { NpyArray, NpyType } from "./npy/types.js";
export { writeNpy } from "./npy/write.js";
