/** Front door of the units layer. Values inside the program are coherent SI; texts carry their unit. */
export {
  avogadroConstant_per_mol,
  boltzmannConstant_J_per_K,
  celsiusZero_K,
  elementaryCharge_C,
  gyromagneticRatio_rad_per_s_T,
  ironMassFraction,
  ironMolarMass_kg_per_mol,
  maghemiteMolarMass_kg_per_mol,
  magnetiteMolarMass_kg_per_mol,
  oxygenMolarMass_kg_per_mol,
  vacuumPermeability_T_m_per_A,
} from "./constants.js";
export { fieldFromStrength, fromUnit, strengthFromField, toUnit } from "./convert.js";
export type { DisplayOptions } from "./display.js";
export { formatNumber, formatQuantity, unitForDisplay, unitThatSuits } from "./display.js";
export type { Formula, FormulaInput, FormulaOutput, SourceStatus } from "./formula.js";
export type { Unit } from "./grammar.js";
export { parseUnit } from "./grammar.js";
export type { UnitRow } from "./guide.js";
export { unitGuide, unitTable } from "./guide.js";
export type { QuantityKind } from "./kinds.js";
export { quantityKinds } from "./kinds.js";
export type { Measured } from "./measured.js";
export { formatWithUncertainty, measuredFromSI } from "./measured.js";
export { parseQuantity } from "./parse.js";
