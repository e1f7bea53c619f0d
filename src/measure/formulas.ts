import type { Formula } from "../units/index.js";
import { inversePredictionFormula } from "./calibration/inverse-prediction-formula.js";
import { currieLimitsFormula } from "./detection/currie.js";

/** The formulas that this layer declares beside its functions, for the handbook to collect. */
export const measureFormulas: readonly Formula[] = [currieLimitsFormula, inversePredictionFormula];
