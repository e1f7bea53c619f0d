/**
 * Front door of the safety layer: settings beside published limits, with source and edition. It compares; it clears
 * nothing.
 */
export type { Body, BodyPart, OwnThreshold, TissueLayer } from "./body.js";
export { bodyParts, checkedBody, ellipticTorso, typicalBody } from "./body.js";
export { type IronDose, ironDoseLimits } from "./dose/iron-dose.js";
export { type AnimalDose, animalDoses, type LabelledDose, labelledDoses } from "./dose/published-doses.js";
export type { Drive, DriveWaveform, FieldSwing, ShiftField } from "./drive.js";
export { driveSwing, shiftSwing } from "./drive.js";
export { safetyFormulas } from "./formulas.js";
export { axialCylinderHeating, axialField_V_per_m, axialLayersHeating } from "./heating/axial-cylinder.js";
export { bodyHeating } from "./heating/body-heating.js";
export { ellipticField_V_per_m, ellipticHeating } from "./heating/elliptic-section.js";
export { sarLimits } from "./heating/sar-limits.js";
export type { FieldRate, SectionHeating, Tissue } from "./heating/section.js";
export { type TissueConductivity, tissueConductivity, tissues } from "./heating/tissue-conductivity.js";
export {
  transverseField_V_per_m,
  transverseHeating,
  transverseLayersHeating,
} from "./heating/transverse-cylinder.js";
export { adiabaticWarming_K_per_s } from "./heating/warming-rate.js";
export { firstLimits, type LimitBand, limitBands } from "./limit-band.js";
export type { LimitClass, LimitLine } from "./limit-line.js";
export { noPublishedThreshold, researchUse, usualCautions, whoDecides } from "./research-use.js";
export {
  type Audience,
  basicRestriction_V_per_m,
  referenceLevel_T,
  workersPeakField_V_per_m,
} from "./staff/reference-levels.js";
export { type StaffExposure, type StaticStrayField, type StrayField, staffLimits } from "./staff/staff-limits.js";
export { measuredDeparture } from "./stimulation/measured-departure.js";
export { squareRootChangeRatio } from "./stimulation/square-root-law.js";
export {
  operatingModes,
  type RateReading,
  readThresholdChange_T,
  type StrengthDuration,
  thresholdChange_T,
  thresholdRate_T_per_s,
  wholeBodyDefault,
} from "./stimulation/strength-duration.js";
export { torsoThresholds_T } from "./stimulation/torso-estimate.js";
export { measuredWholeBody } from "./stimulation/whole-body-measured.js";
export { type SubjectExposure, subjectLimits } from "./subject-limits.js";
