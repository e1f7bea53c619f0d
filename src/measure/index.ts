/** Front door of the measure layer: answers from measured data, each with its uncertainty. */

export type { IronMassAnswer } from "./answer.js";
export {
  type CalibrationLine,
  type CalibrationPoint,
  calibrationLine,
  inverseCalibration,
} from "./calibration/calibration-line.js";
export { type AllanPoint, allanDeviation } from "./detection/allan-deviation.js";
export { type AllanFeatures, allanFeatures } from "./detection/allan-features.js";
export { type ConstantLimits, constantLimits } from "./detection/constant-limits.js";
export type { CountingLimits } from "./detection/currie.js";
export {
  exactKnownBlankLimits,
  exactPairedLimits,
  knownBlankLimits,
  pairedLimits,
} from "./detection/currie.js";
export {
  type DetectionOverTime,
  detectionOverTime,
  type RelativeInstability,
} from "./detection/detection-over-time.js";
export { type HarmonicChannel, type MassDetection, massDetection } from "./detection/mass-detection.js";
export { measureFormulas } from "./formulas.js";
export { answerIronMass, type RegionReading } from "./iron-mass/answer-iron-mass.js";
export type { SignalRatio } from "./iron-mass/line-in-state.js";
export {
  type LabelledRegion,
  type RegionErrors,
  type RegionEstimators,
  regionErrors,
  regionEstimators,
} from "./iron-mass/region-estimators.js";
export { judgeScan, type ScanFit, withScanFit } from "./iron-mass/scan-fit.js";
export { fitJoint, type Instrument, type InstrumentFit, type JointFit } from "./joint/joint-fit.js";
export { type BranchComparison, compareBranches, splitBranches } from "./magnetometry/branches.js";
export { type ChainFit, type ChainFitOptions, fitChain } from "./magnetometry/chain-fit.js";
export type { CurveAssumption, CurveBasis, CurveBranch, MagnetisationCurve } from "./magnetometry/curve.js";
export { curveBases, curveBranches } from "./magnetometry/curve.js";
export type { BackgroundOption } from "./magnetometry/curve-requirements.js";
export { type EvaluableFit, evaluateFit } from "./magnetometry/evaluate-fit.js";
export type { FitAdvisory } from "./magnetometry/fit-advisory.js";
export {
  type CurveFit,
  type CurveModel,
  curveModels,
  type DerivedValue,
  type FitParameter,
  type TracerFit,
  type WithInadequacy,
} from "./magnetometry/fit-result.js";
export { type FreeFormFitOptions, fitFreeForm, freeFormSteps } from "./magnetometry/free-form-fit.js";
export type { FreeFormFit, ReplicaRange } from "./magnetometry/free-form-report.js";
export type { Regularisation } from "./magnetometry/free-form-weight.js";
export { fitLogNormal, type LogNormalFitOptions } from "./magnetometry/log-normal-fit.js";
export { fitMixture, type MixtureFit, type MixtureFitOptions } from "./magnetometry/mixture-fit.js";
export type { Outlier } from "./magnetometry/outliers.js";
export type { PopulationComparison } from "./magnetometry/population-comparison.js";
export { sizesOfFit } from "./magnetometry/sizes-of-fit.js";
export { driftVariance } from "./regions/drift-variance.js";
export { applyFunctional, innerProduct, type MassFunctional, noiseCovariance } from "./regions/mass-functional.js";
export type { RegionShape } from "./regions/region-weights.js";
export type { ShapeUncertainty } from "./regions/shape-family.js";
export { type Halo, softRegionWeights } from "./regions/soft-region.js";
export { fitHarmonics, type HarmonicsFitOptions, harmonicsSteps } from "./spectroscopy/fit-harmonics.js";
export { ensembleHarmonics } from "./spectroscopy/harmonic-model.js";
export type { HarmonicSpectrum, SpectrumBasis } from "./spectroscopy/harmonics.js";
export { type HarmonicRelaxation, harmonicRelaxations, harmonicResponse } from "./spectroscopy/harmonics-block.js";
export type { PreparedResponse } from "./spectroscopy/response-table.js";
export { fitSusceptibility } from "./susceptibility/fit-susceptibility.js";
export type { AcSusceptibility, SusceptibilityBasis } from "./susceptibility/susceptibility.js";
export { type SusceptibilityModel, susceptibilityModels } from "./susceptibility/susceptibility-block.js";
export { brownSusceptibility, debyeSusceptibility } from "./susceptibility/susceptibility-model.js";
export { type BudgetLine, type Combined, combine } from "./uncertainty/budget.js";
