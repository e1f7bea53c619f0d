import type { Formula } from "../units/index.js";
import { cylinderSarFormula, inducedFieldFormula } from "./heating/heating-formulas.js";
import { icnirpReferenceLevelFormula } from "./staff/staff-formulas.js";
import { stimulationDepartureFormula, stimulationThresholdFormula } from "./stimulation/stimulation-formulas.js";

/** The formulas that this layer declares beside its functions, for the handbook to collect. */
export const safetyFormulas: readonly Formula[] = [
  stimulationThresholdFormula,
  stimulationDepartureFormula,
  cylinderSarFormula,
  inducedFieldFormula,
  icnirpReferenceLevelFormula,
];
