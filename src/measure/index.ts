/** Front door of the measure layer: answers from measured data, each with its uncertainty. */

export type { CountingLimits } from "./detection/currie.js";
export {
  exactKnownBlankLimits,
  exactPairedLimits,
  knownBlankLimits,
  pairedLimits,
} from "./detection/currie.js";
export { measureFormulas } from "./formulas.js";
export type { CurveAssumption, CurveBasis, CurveBranch, MagnetisationCurve } from "./magnetometry/curve.js";
export { curveBases, curveBranches } from "./magnetometry/curve.js";
export type { CurveFit, FitAdvisory, FitParameter } from "./magnetometry/fit-result.js";
export { evaluateFit, fitLogNormal, type LogNormalFitOptions } from "./magnetometry/log-normal-fit.js";
