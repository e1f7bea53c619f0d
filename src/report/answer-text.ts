import type { IronMassAnswer } from "../measure/index.js";
import { formatWithUncertainty, measuredFromSI, toUnit, unitForDisplay, unitThatSuits } from "../units/index.js";

/** One unit for everything about an answer: that which suits the largest of value, uncertainty and interval. */
export function unitOfAnswer({ value_kg, standardUncertainty_kg, interval95_kg }: IronMassAnswer): string {
  const sizes = [value_kg, standardUncertainty_kg, ...interval95_kg].filter(Number.isFinite).map(Math.abs);
  return unitThatSuits(Math.max(0, ...sizes), "mass", 2);
}

/** Without a known uncertainty there is no interval and no decision. */
export const isJudged = (answer: IronMassAnswer): boolean =>
  answer.decision !== "withheld" &&
  [answer.value_kg, answer.standardUncertainty_kg, answer.criticalLevel_kg, ...answer.interval95_kg].every(
    Number.isFinite,
  );

const trueMinus = (text: string): string => text.replace(/^\(?-/, (sign) => sign.replace("-", "\u2212"));

/** Decimals that show two digits of a size; fewer than 0 rounds to tens. Sizes that are not known ask for none. */
function decimalsFor(size: number): number {
  if (!(Math.abs(size) > 0) || !Number.isFinite(size)) return Number.NEGATIVE_INFINITY;
  return 1 - Number(size.toExponential(1).split("e")[1]);
}

function fixed(value: number, decimals: number): string {
  if (decimals === Number.NEGATIVE_INFINITY) return String(Number(value.toPrecision(3)));
  const step = 10 ** Math.max(0, -decimals);
  const text = (Math.round(value / step) * step || 0).toFixed(0);
  const shown = decimals > 0 ? value.toFixed(Math.min(decimals, 12)) : text;
  return Number(shown) === 0 ? "0" : trueMinus(shown);
}

/** A mass in its answer's unit, to the second digit of `grain_kg`; "not known" where it is not a number. */
function digits(mass_kg: number, answer: IronMassAnswer, grain_kg = answer.standardUncertainty_kg): string {
  if (!Number.isFinite(mass_kg)) return "not known";
  const unit = unitOfAnswer(answer);
  return fixed(toUnit(mass_kg, unit, "mass"), decimalsFor(toUnit(grain_kg, unit, "mass")));
}

const unitText = (answer: IronMassAnswer): string => `${unitForDisplay(unitOfAnswer(answer))} Fe`;

/** "10.5 to 14.1 µg Fe" */
export function intervalOf(
  [low, high]: readonly [number, number],
  answer: IronMassAnswer,
  grain_kg = answer.standardUncertainty_kg,
): string {
  if (!Number.isFinite(low) || !Number.isFinite(high)) return "withheld";
  return `${digits(low, answer, grain_kg)} to ${digits(high, answer, grain_kg)} ${unitText(answer)}`;
}

/** How well the same scan would repeat, to the digits that this supports. */
export const precisionOf = (answer: IronMassAnswer): string =>
  intervalOf(answer.precisionOnly.interval95_kg, answer, answer.precisionOnly.standardUncertainty_kg);

/** Critical level or detection limit: two digits of its own, in the answer's unit, so that it can be set beside it. */
export const levelOf = (level_kg: number, answer: IronMassAnswer): string =>
  Number.isFinite(level_kg) ? `${digits(level_kg, answer, level_kg)} ${unitText(answer)}` : "not known";

/** "12.30 ± 0.90 µg Fe"; one standard uncertainty. */
export function valueWithUncertainty(answer: IronMassAnswer): string {
  const { value_kg, standardUncertainty_kg: u } = answer;
  if (!Number.isFinite(value_kg)) return "not known";
  if (!(Number.isFinite(u) && u >= 0)) return `${massAlone(value_kg)} Fe, uncertainty not known`;
  return massPair(value_kg, u, unitOfAnswer(answer));
}

/** "2.000 ± 0.020 µg Fe" */
export function massPair(value_kg: number, u_kg: number, unit?: string): string {
  const measured = measuredFromSI(value_kg, u_kg, { kind: "mass", unit });
  return trueMinus(formatWithUncertainty(measured, { of: "Fe" })).replace(" (k = 1)", "");
}

/** A mass in the unit that suits it, without padding: "20 µg". */
export function massAlone(mass_kg: number, significant = 3): string {
  if (!Number.isFinite(mass_kg)) return "not known";
  if (mass_kg === 0) return "0 \u00b5g";
  const { value, unit } = measuredFromSI(mass_kg, 0, { kind: "mass" });
  return `${trueMinus(String(Number(value.toPrecision(significant))))} ${unitForDisplay(unit)}`;
}

/** What is held against the critical level, in a sentence that can stand alone. */
export function answerSentence(answer: IronMassAnswer): string {
  const { region, decision, criticalLevel_kg, interval95_kg } = answer;
  const value = valueWithUncertainty(answer);
  if (!isJudged(answer))
    return `${region}: read as ${value}; interval and decision withheld, because ${decision === "withheld" && answer.advisories.length > 0 ? answer.advisories.at(-1) : "part of the uncertainty is not known"}.`;
  const critical = `critical level ${levelOf(criticalLevel_kg, answer)}`;
  const interval = `95 % ${intervalOf(interval95_kg, answer)}`;
  if (decision === "detected") return `${region} holds ${value} (${interval}); detected (${critical}).`;
  return `${region}: no iron detected. It reads ${value} (${interval}), not above the ${critical}.`;
}
