/** Front door of the physics layer. */
export type { ChainGeometry } from "./chains/chain-coupling.js";
export { chainField_T, dipolarCoupling, geometricCoupling } from "./chains/chain-coupling.js";
export type { ChainBranch, ChainCurve, ChainNodes } from "./chains/chain-magnetisation.js";
export { chainHistory, chainMagnetisation } from "./chains/chain-magnetisation.js";
export { coresFromNodes } from "./chains/core-response.js";
export type { MacrospinChain } from "./chains/macrospin-chain.js";
export { suggestedStep_s } from "./chains/macrospin-chain.js";
export { macrospinChunk } from "./chains/macrospin-chunk.js";
export { combineMacrospins, type MacrospinCurve, macrospinLoop } from "./chains/macrospin-loop.js";
export { chainsPerChunk, type MacrospinRun, macrospinChunks } from "./chains/macrospin-run.js";
export type { MacrospinBlock, MacrospinKernel } from "./chains/macrospin-steps.js";
export { macrospinSteps } from "./chains/macrospin-steps.js";
export { meanFieldStates } from "./chains/mean-field.js";
export { meanFieldDynamics, meanFieldDynamicsSteps } from "./chains/mean-field-dynamics.js";
export { chainWidth_T, meanFieldWidth } from "./chains/mean-field-width.js";
export { type Reversal, reversalField } from "./chains/reversal-field.js";
export { remanence, type Spinodal, spinodal } from "./chains/spinodal.js";
export { type CoilReport, coilReport } from "./coils/coil-report.js";
export { coilResistance_Ohm } from "./coils/coil-resistance.js";
export type { CoilUse } from "./coils/coil-use.js";
export { type ConductorMaterial, conductorMaterials } from "./coils/conductors.js";
export { coilInductance_H, inductanceMatrix_H, mutualInductance_H, selfInductance_H } from "./coils/inductance.js";
export { magnetMass_kg } from "./coils/magnet-mass.js";
export { ownField_T_per_A } from "./coils/own-field.js";
export { type ScalingResult, type ScalingStudy, scaleCoil, scalingExponents } from "./coils/scaling.js";
export { skinDepth_m, skinEffect, strandEddyLoss_W } from "./coils/skin-effect.js";
export { type Coil, sourcesOfCoil, type Winding, type WindingShape } from "./coils/winding.js";
export { measureWinding, windingResistance_Ohm } from "./coils/winding-measures.js";
export type { BoreCylinder } from "./field/bore-cylinder.js";
export type { FieldFreeLine } from "./field/field-free-line.js";
export { type FieldFreeRegion, type FieldFreeZero, findFieldFreeRegion } from "./field/field-free-region.js";
export { fieldFreeShift_m } from "./field/field-free-shift.js";
export {
  fieldErrors,
  type GradientReference,
  gradientErrorMap,
  gradientErrors,
  gradientReference,
} from "./field/gradient-error.js";
export type { Axis, IdealGradient } from "./field/ideal-gradient.js";
export { axes, axisIndex, diagonalGradient, diagonalOf, fieldAt, shiftFieldFor } from "./field/ideal-gradient.js";
export { type Distortion, imageDistortion, imagePositions } from "./field/image-distortion.js";
export { localFields, localGradient } from "./field/local-gradient.js";
export { type BallMassError, massErrorOfSphere } from "./field/mass-error.js";
export { type PlaneGrid, type PlaneValues, planePoints } from "./field/plane-grid.js";
export { type PrincipalGradients, principalGradients } from "./field/principal-gradients.js";
export { responseTensor_per_T } from "./field/response-tensor.js";
export { type UsableRegion, usableRegion, usableRegionSteps } from "./field/usable-region.js";
export { zonalField } from "./field/zonal-field.js";
export { physicsFormulas } from "./formulas.js";
export { coarseNodes } from "./particle/coarse-nodes.js";
export type { CoreMaterial } from "./particle/core.js";
export {
  coreMaterials,
  coreMoment_A_m2,
  coreVolume_m3,
  ironPerCore_kg,
  momentPerIron_A_m2_per_kg,
  xiPerTesla,
} from "./particle/core.js";
export type { CoreSizes, LogNormalSizes, MixtureSizes, SingleSize, TableSizes } from "./particle/core-sizes.js";
export { scaledSizes, sizeComponents } from "./particle/core-sizes.js";
export { ensembleResponse } from "./particle/ensemble-response.js";
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
export {
  ensembleNodes,
  initialSlope_per_T,
  relativeMagnetisation,
  relativeSlope_per_T,
} from "./particle/magnetisation.js";
export {
  langevinRatioWidth,
  langevinSlopeWidth,
  staticTransverseWidth_T,
  staticWidth_T,
  staticWidthAlong_m,
} from "./particle/point-spread.js";
export type { ChainCoupling, HydrodynamicSize, Relaxation } from "./particle/relaxation-model.js";
export type { SizeNodes } from "./particle/size-distribution.js";
export { diameterMoment, numberWeighted, sizeNodes, volumeWeighted } from "./particle/size-distribution.js";
export type { MomentCurve, StaticResponse } from "./particle/static-response.js";
export { collinearSlope, momentAlong, tabulateResponse } from "./particle/static-response.js";
export { type BodyLoading, bodyLoading } from "./receive/body-loading.js";
export { type DynamicRange, dynamicRange } from "./receive/dynamic-range.js";
export { feedthroughVoltage_V, uniformFeedthroughVoltage_V } from "./receive/feedthrough.js";
export {
  type DriveCoupling,
  driveCoupling,
  type GradiometerResponse,
  gradiometerResponse,
} from "./receive/gradiometer.js";
export { type NoiseMatch, noiseMatch } from "./receive/noise-matching.js";
export { pointHarmonics_V_per_kg } from "./receive/point-harmonics.js";
export { type CoilResonance, coilResonance, type ReceiveChain } from "./receive/receive-chain.js";
export { filterAttenuation_dB, filterGain, type ReceiveFilter } from "./receive/receive-filter.js";
export { type NoiseDensity, noiseDensity_V_per_sqrtHz, noiseInBand_V } from "./receive/receive-noise.js";
export {
  coupledFlux_Wb,
  sensitivityAlong_T_per_A,
  sensitivityHomogeneity,
  sensitivityProfile,
  sensitivityReach_m,
} from "./receive/sensitivity.js";
export { driveBandwidth_Hz, harmonicsAboveNoise, passBandwidth_Hz } from "./receive/signal-bandwidth.js";
export { thermalNoise_V_per_sqrtHz } from "./receive/thermal-noise.js";
export { areaTurns_m2, fluxLinkage_Wb } from "./receive/winding-flux.js";
export type { BrownianOptions, BrownianParticles, BrownianResponses } from "./relaxation/brownian-fokker-planck.js";
export {
  brownianChunk,
  brownianEnsemble,
  brownianEnsembleSteps,
  brownianMagnetisation,
  brownianResponsesSteps,
  weightedSum,
} from "./relaxation/brownian-fokker-planck.js";
export { type DebyeFactor, debyeFactor, debyeMagnetisation, debyeResponse } from "./relaxation/debye.js";
export { fieldDependentMagnetisation } from "./relaxation/field-dependent.js";
export {
  fixedAxisEquilibrium,
  parallelAxesEquilibrium,
  randomAxesEquilibrium,
} from "./relaxation/fixed-axes-equilibrium.js";
export { brownianUnderCosine, type Harmonic, waveformHarmonic } from "./relaxation/fokker-planck-harmonics.js";
export type { BrownianKernel, LegendreSteps } from "./relaxation/legendre-steps.js";
export { legendreSteps } from "./relaxation/legendre-steps.js";
export { exactNeelTime_s } from "./relaxation/neel-eigenvalue.js";
export { neelMagnetisation } from "./relaxation/neel-fokker-planck.js";
export { neelRandomAxes } from "./relaxation/neel-random-axes.js";
export type { PeriodicDetail, PeriodicMagnetisation } from "./relaxation/periodic-magnetisation.js";
export { harmonicDecay, quasiStaticHarmonic } from "./relaxation/quasi-static-harmonics.js";
export {
  arrheniusTime_s,
  barrierRatio,
  brownTime_s,
  combinedTime_s,
  combinedTimeCaveat,
  freeNeelTime_s,
  highBarrierTime_s,
} from "./relaxation/relaxation-times.js";
export { type DriveRegime, driveRegime } from "./signal/drive-regime.js";
export { partialFieldOfView_m, peakSpeed_m_per_s } from "./signal/field-free-motion.js";
export { lissajousPeriod_s } from "./signal/lissajous.js";
export { peakMomentRate_A_m2_per_s } from "./signal/peak-moment-rate.js";
export type { PeriodicField } from "./signal/periodic-field.js";
export { cosineDrive, pulsedDrive, sampleField, sineDrive, triangleDrive } from "./signal/periodic-field.js";
export {
  combineResponses,
  periodicResponse,
  periodicResponseSteps,
  respondPartSteps,
} from "./signal/periodic-response.js";
export type { Polarity } from "./signal/reciprocity.js";
export { inducedVoltage_V } from "./signal/reciprocity.js";
export { type DrivenTracer, type ResponsePart, responseParts } from "./signal/response-parts.js";
export { largestRate, type ResponseSpectrum, responseSpectrum } from "./signal/response-spectrum.js";
export { type SweepResponse, sweepResponse } from "./signal/sweep-response.js";
export { equilibriumMagnetisation, equilibriumWidth_T } from "./signal/tracer-equilibrium.js";
export { clearance_m } from "./sources/clearance.js";
export { clearanceFromAxis_m } from "./sources/clearance-from-axis.js";
export { contributionSum_T, fieldAtPoint, fieldOfSources } from "./sources/field-of-sources.js";
export { type FieldSelfCheck, fieldSelfCheck } from "./sources/field-self-check.js";
export { gradientFunction, gradientOfSources } from "./sources/gradient-of-sources.js";
export { type HalbachBlocks, type HalbachSectors, halbachBlocks, halbachSectors } from "./sources/halbach.js";
export { halbachField_T, halbachGradient_T_per_m } from "./sources/halbach-centre.js";
export type { CurrentSource, FieldFunction, FieldSource, MagnetSource, Vector3 } from "./sources/source.js";
export { vectorPotentialOfSources } from "./sources/vector-potential.js";
