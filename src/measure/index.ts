/** Front door of the measure layer: answers from measured data, each with its uncertainty. */

export type { IronMassAnswer } from "./answer.js";
export {
  type CalibrationLine,
  type CalibrationPoint,
  calibrationLine,
  inverseCalibration,
} from "./calibration/calibration-line.js";
export type { CountingLimits } from "./detection/currie.js";
export {
  exactKnownBlankLimits,
  exactPairedLimits,
  knownBlankLimits,
  pairedLimits,
} from "./detection/currie.js";
export { measureFormulas } from "./formulas.js";
export { answerIronMass, type RegionReading } from "./iron-mass/answer-iron-mass.js";
export {
  type LabelledRegion,
  type RegionErrors,
  type RegionEstimators,
  regionErrors,
  regionEstimators,
} from "./iron-mass/region-estimators.js";
export { judgeScan, type ScanFit, withScanFit } from "./iron-mass/scan-fit.js";
export type { CurveAssumption, CurveBasis, CurveBranch, MagnetisationCurve } from "./magnetometry/curve.js";
export { curveBases, curveBranches } from "./magnetometry/curve.js";
export type { CurveFit, FitAdvisory, FitParameter } from "./magnetometry/fit-result.js";
export { evaluateFit, fitLogNormal, type LogNormalFitOptions } from "./magnetometry/log-normal-fit.js";
export { driftVariance } from "./regions/drift-variance.js";
export { applyFunctional, innerProduct, type MassFunctional, noiseCovariance } from "./regions/mass-functional.js";
export type { RegionShape } from "./regions/region-weights.js";
export type { ShapeUncertainty } from "./regions/shape-family.js";
export { type Halo, softRegionWeights } from "./regions/soft-region.js";
export { type BudgetLine, type Combined, combine } from "./uncertainty/budget.js";
