/** The unit in which a set of masses is shown: one for a whole axis. */
export interface MassUnit {
  readonly perKg: number;
  /** "µg Fe" */
  readonly label: string;
}

const units: readonly MassUnit[] = [
  { perKg: 1e6, label: "mg Fe" },
  { perKg: 1e9, label: "\u00b5g Fe" },
  { perKg: 1e12, label: "ng Fe" },
  { perKg: 1e15, label: "pg Fe" },
];

/** The largest unit in which the largest of the masses is at least 1. */
export function massUnit(masses_kg: readonly number[]): MassUnit {
  const largest = masses_kg.reduce((most, mass) => (Number.isFinite(mass) ? Math.max(most, Math.abs(mass)) : most), 0);
  return units.find(({ perKg }) => largest * perKg >= 1) ?? units[largest === 0 ? 1 : 3];
}

/** Plain digits with a true minus sign. */
export const plainNumber = (value: number, digits = 3): string =>
  String(Number(value.toPrecision(digits))).replace("-", "\u2212");
