/** Front door of the physics layer. */
export type { Axis, IdealGradient } from "./field/ideal-gradient.js";
export { axes, axisIndex, diagonalGradient, diagonalOf, fieldAt, shiftFieldFor } from "./field/ideal-gradient.js";
export { physicsFormulas } from "./formulas.js";
export type { CoreMaterial } from "./particle/core.js";
export {
  coreMaterials,
  coreMoment_A_m2,
  coreVolume_m3,
  ironPerCore_kg,
  momentPerIron_A_m2_per_kg,
  xiPerTesla,
} from "./particle/core.js";
export { ensembleResponse, scaledSizes } from "./particle/ensemble-response.js";
export {
  langevin,
  langevinCurvature,
  langevinEach,
  langevinRatio,
  langevinRatioEach,
  langevinSlope,
  langevinSlopeEach,
} from "./particle/langevin.js";
export type { ParticleEnsemble } from "./particle/magnetisation.js";
export { initialSlope_per_T, relativeMagnetisation, relativeSlope_per_T } from "./particle/magnetisation.js";
export {
  langevinRatioWidth,
  langevinSlopeWidth,
  staticTransverseWidth_T,
  staticWidth_T,
  staticWidthAlong_m,
} from "./particle/point-spread.js";
export type { CoreSizes, LogNormalSizes, SingleSize, SizeNodes } from "./particle/size-distribution.js";
export { diameterMoment, numberWeighted, sizeNodes, volumeWeighted } from "./particle/size-distribution.js";
export type { MomentCurve, StaticResponse } from "./particle/static-response.js";
export { collinearSlope, momentAlong, tabulateResponse } from "./particle/static-response.js";
export { partialFieldOfView_m, peakSpeed_m_per_s } from "./signal/field-free-motion.js";
export { lissajousPeriod_s } from "./signal/lissajous.js";
export { peakMomentRate_A_m2_per_s } from "./signal/peak-moment-rate.js";
export type { Polarity } from "./signal/reciprocity.js";
export { inducedVoltage_V } from "./signal/reciprocity.js";
