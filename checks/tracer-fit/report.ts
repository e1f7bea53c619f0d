import {
  chainDeviations,
  type Deviation,
  freeFormDeviations,
  harmonicDeviations,
  jointDeviations,
  mixtureDeviations,
  nonNegativeDeviations,
  susceptibilityDeviations,
} from "./compare.js";

/** The meter: `npx tsx checks/tracer-fit/report.ts` prints count, median and worst deviation of each fit. */
const all = [
  ...nonNegativeDeviations(),
  ...mixtureDeviations(),
  ...freeFormDeviations(),
  ...chainDeviations(),
  ...harmonicDeviations(),
  ...susceptibilityDeviations(),
  ...jointDeviations(),
];
const groups = new Map<string, Deviation[]>();
for (const each of all) {
  const key = `${each.fit} | ${each.quantity}`;
  groups.set(key, [...(groups.get(key) ?? []), each]);
}
for (const [key, list] of groups) {
  const values = list.map(({ value }) => value).sort((a, b) => a - b);
  const [median, worst] = [values[Math.floor(values.length / 2)], values[values.length - 1]];
  console.log(`${key} | n ${values.length} | median ${median.toExponential(1)} | worst ${worst.toExponential(1)}`);
}
