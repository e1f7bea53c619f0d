const tenths = Array.from({ length: 45 }, (_, i) => (10 + 2 * i) / 10);
const digitChoices = [[1], [1, 3], [1, 2, 5], [1, 1.5, 2, 3, 4, 5, 6, 8], tenths];

/** Round numbers within a logarithmic range, about ten at most; at least two where it spans 30 %. */
export function logTicks([low, high]: readonly [number, number]): number[] {
  const first = Math.floor(Math.log10(low));
  const decades = Array.from({ length: Math.ceil(Math.log10(high)) - first + 1 }, (_, i) => first + i);
  // Number("2e-1"), not 2 * 10 ** -1: the tick's own digits are printed.
  const within = (digits: readonly number[]) =>
    decades.flatMap((n) => digits.map((d) => Number(`${d}e${n}`))).filter((v) => v >= low && v <= high);
  const ticks = digitChoices.map(within).find((each) => each.length >= 4) ?? within(tenths);
  const every = Math.ceil(ticks.length / 10);
  return ticks.filter((_, i) => i % every === 0);
}

/** From the smallest to the largest of values above 0, with a share of the logarithmic range as room on either side. */
export function logDomain(values: readonly number[], share: number): [number, number] {
  const low = values.reduce((least, value) => Math.min(least, value), Number.POSITIVE_INFINITY);
  const high = values.reduce((most, value) => Math.max(most, value), 0);
  const room = high > low ? (high / low) ** share : 1.5;
  return [low / room, high * room];
}

const raisedDigits = "\u2070\u00b9\u00b2\u00b3\u2074\u2075\u2076\u2077\u2078\u2079";

/** 10 to a power, with a raised exponent. */
export const tenTo = (exponent: number): string =>
  `10${[...String(exponent)].map((c) => (c === "-" ? "\u207b" : raisedDigits[Number(c)])).join("")}`;

/** Plain digits near 1, else a power of ten with a raised exponent and a short number before it. */
export function powerTick(value: number): string {
  if (value >= 1e-3 && value < 1e4) return String(Number(value.toPrecision(2)));
  const exponent = Math.floor(Math.log10(value) + 1e-9);
  const front = Number((value / 10 ** exponent).toPrecision(2));
  return front === 1 ? tenTo(exponent) : `${front}\u00d7${tenTo(exponent)}`;
}
