import { formatNumber, formatQuantity } from "../../units/index.js";

const unknown = "not known";

/** Masses of hardware stay in kilograms: "0.103 kg", "1610 kg"; smaller ones take the unit that suits. */
export function massText(mass_kg: number | null): string {
  if (mass_kg === null || !Number.isFinite(mass_kg)) return unknown;
  return mass_kg > 0.05 ? `${formatNumber(mass_kg, 3)} kg` : formatQuantity(mass_kg, "mass", { digits: 3 });
}

/** Volt-amperes, which no quantity of ours is: "36.2 VA", "66.0 kVA", "4.61 MVA". */
export function apparentPowerText(power_VA: number | null): string {
  if (power_VA === null || !Number.isFinite(power_VA)) return unknown;
  const [unit, size] = power_VA >= 1e6 ? ["MVA", 1e6] : power_VA >= 1e3 ? ["kVA", 1e3] : ["VA", 1];
  return `${formatNumber(power_VA / Number(size), 3)} ${unit}`;
}

/** A value over its limit: "0.00086", "0.064", "0.72", "3.10", "94.5", "595". */
export function ratioText(ratio: number): string {
  if (ratio === 0) return "0";
  if (ratio < 0.1) return ratio.toPrecision(2);
  return ratio < 10 ? ratio.toFixed(2) : formatNumber(ratio, 3);
}
