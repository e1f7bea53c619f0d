import type { IronMassAnswer } from "../measure/index.js";
import { formatWithUncertainty, measuredFromSI, toUnit, unitForDisplay } from "../units/index.js";

/** The unit in which everything about one answer is written: that of the larger of value and uncertainty. */
export const unitOfAnswer = ({ value_kg, standardUncertainty_kg: u }: IronMassAnswer): string =>
  measuredFromSI(Number.isFinite(value_kg) ? value_kg : 0, Number.isFinite(u) ? u : 0, { kind: "mass" }).unit;

/** Without a known uncertainty there is no interval and no decision. */
export const isJudged = ({ value_kg, standardUncertainty_kg, criticalLevel_kg, interval95_kg }: IronMassAnswer): boolean =>
  [value_kg, standardUncertainty_kg, criticalLevel_kg, ...interval95_kg].every(Number.isFinite);

/** Decimals that show two digits of an uncertainty in a unit. */
function decimalsFor(uncertainty_kg: number, unit: string): number {
  const shown = toUnit(uncertainty_kg, unit, "mass");
  if (!(shown > 0) || !Number.isFinite(shown)) return 2;
  return Math.min(6, Math.max(0, 1 - Number(shown.toExponential(1).split("e")[1])));
}

const trueMinus = (text: string): string => text.replace(/^-/, "\u2212");

/** A mass with the decimals that its answer's uncertainty supports; "not known" where it is not a number. */
export function massDigits(mass_kg: number, answer: IronMassAnswer): string {
  if (!Number.isFinite(mass_kg)) return "not known";
  const unit = unitOfAnswer(answer);
  const text = toUnit(mass_kg, unit, "mass").toFixed(decimalsFor(answer.standardUncertainty_kg, unit));
  return trueMinus(/^-0\.?0*$/.test(text) ? text.slice(1) : text);
}

/** "1.20 µg Fe" */
export const massOf = (mass_kg: number, answer: IronMassAnswer): string =>
  Number.isFinite(mass_kg) ? `${massDigits(mass_kg, answer)} ${unitForDisplay(unitOfAnswer(answer))} Fe` : "not known";

/** "10.5 to 14.1 µg Fe" */
export const intervalOf = ([low, high]: readonly [number, number], answer: IronMassAnswer): string =>
  Number.isFinite(low) && Number.isFinite(high)
    ? `${massDigits(low, answer)} to ${massOf(high, answer)}`
    : "withheld: an uncertainty is not known";

/** "12.30 ± 0.90 µg Fe (k = 1)" */
export function valueOf(answer: IronMassAnswer): string {
  const { value_kg, standardUncertainty_kg: u } = answer;
  if (!Number.isFinite(value_kg)) return "not known";
  if (!Number.isFinite(u)) return `${massOf(value_kg, answer)}, uncertainty not known`;
  const measured = measuredFromSI(value_kg, u, { kind: "mass", unit: unitOfAnswer(answer) });
  return trueMinus(formatWithUncertainty(measured, { of: "Fe" }));
}

/** A mass of its own size, two digits: for lists of contributions. */
export function smallMass(mass_kg: number): string {
  if (!Number.isFinite(mass_kg)) return "not known";
  if (mass_kg === 0) return "0";
  const { value, unit } = measuredFromSI(mass_kg, 0, { kind: "mass" });
  return `${trueMinus(String(Number(value.toPrecision(2))))} ${unitForDisplay(unit)}`;
}

/** What is held against the critical level, in a sentence that can stand alone. */
export function answerSentence(answer: IronMassAnswer): string {
  const { region, decision, criticalLevel_kg, interval95_kg } = answer;
  const critical = `critical level ${massOf(criticalLevel_kg, answer)}`;
  if (!isJudged(answer))
    return `${region}: read as ${valueOf(answer)}; interval and decision withheld, because part of the uncertainty is not known.`;
  if (decision === "detected")
    return `${region} holds ${valueOf(answer)}, 95 % interval ${intervalOf(interval95_kg, answer)}; detected (${critical}).`;
  return `${region}: no iron detected. Read as ${valueOf(answer)}, 95 % interval ${intervalOf(interval95_kg, answer)}, below the ${critical}.`;
}
