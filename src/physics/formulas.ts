import type { Formula } from "../units/index.js";
import { chainCoerciveFieldFormula, chainPsfWidthFormula, chainRemanenceFormula } from "./chains/chain-formulas.js";
import { shiftFieldFormula } from "./field/shift-field-formula.js";
import { coreMomentFormula, ironPerCoreFormula, momentPerIronFormula } from "./particle/core-formulas.js";
import { langevinFormula, langevinSlopeFormula } from "./particle/langevin-formulas.js";
import {
  psfWidthFormula,
  psfWidthTransverseFormula,
  xSpaceResolutionFormula,
  xSpaceResolutionTransverseFormula,
} from "./particle/point-spread-formulas.js";
import { lognormalMomentFormula, volumeMedianFormula } from "./particle/size-formulas.js";
import { johnsonNoiseFormula } from "./receive/thermal-noise.js";
import { driveHarmonicFormula, fokkerPlanckHarmonicFormula } from "./relaxation/harmonic-formulas.js";
import { brownTimeFormula, debyeResponseFormula, neelTimeFormula } from "./relaxation/relaxation-formulas.js";
import { fieldFreeSpeedFormula, partialFovFormula } from "./signal/field-free-motion.js";
import { lissajousPeriodFormula } from "./signal/lissajous.js";
import { peakMomentRateFormula } from "./signal/peak-moment-rate.js";
import { reciprocityVoltageFormula } from "./signal/reciprocity.js";
import {
  helmholtzFieldFormula,
  loopFieldFormula,
  maxwellGradientFormula,
  solenoidFieldFormula,
} from "./sources/coil-formulas.js";
import { halbachFieldFormula } from "./sources/halbach-formula.js";

/** The formulas that this layer declares beside its functions, for the handbook to collect. */
export const physicsFormulas: readonly Formula[] = [
  langevinFormula,
  langevinSlopeFormula,
  coreMomentFormula,
  ironPerCoreFormula,
  momentPerIronFormula,
  psfWidthFormula,
  psfWidthTransverseFormula,
  xSpaceResolutionFormula,
  xSpaceResolutionTransverseFormula,
  lognormalMomentFormula,
  volumeMedianFormula,
  brownTimeFormula,
  neelTimeFormula,
  debyeResponseFormula,
  driveHarmonicFormula,
  fokkerPlanckHarmonicFormula,
  chainPsfWidthFormula,
  chainCoerciveFieldFormula,
  chainRemanenceFormula,
  shiftFieldFormula,
  partialFovFormula,
  fieldFreeSpeedFormula,
  lissajousPeriodFormula,
  peakMomentRateFormula,
  reciprocityVoltageFormula,
  loopFieldFormula,
  helmholtzFieldFormula,
  maxwellGradientFormula,
  solenoidFieldFormula,
  halbachFieldFormula,
  johnsonNoiseFormula,
];
