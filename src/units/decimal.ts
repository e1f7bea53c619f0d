/**
 * Decimal numbers as people write them, and shifts of the decimal point that round once.
 * 25 * 1e-9 is 2.5000000000000002e-8 in binary; reading "25e-9" gives 2.5e-8, the number that was meant.
 */
const decimalPattern = /^([+-]?)((?:\d+\.?\d*|\.\d+))(?:[eE]([+-]?\d+))?/;

/** A number times 10^exponent10, rounded once from its shortest decimal text. */
export function shiftDecimal(value: number, exponent10: number): number {
  if (exponent10 === 0 || value === 0 || !Number.isFinite(value)) return value;
  const [mantissa, exponent = "0"] = String(value).split("e");
  return Number(`${mantissa}e${Number(exponent) + exponent10}`);
}

/** The number at the start of the text and what follows it; undefined where there is none. */
export function splitNumber(text: string): { digits: string; value: number; rest: string } | undefined {
  const match = decimalPattern.exec(text);
  if (match === null) return undefined;
  return { digits: match[0], value: Number(match[0]), rest: text.slice(match[0].length) };
}

/** Did digits other than 0 vanish, as in 1e-400? */
export function hasVanished(digits: string, value: number): boolean {
  return value === 0 && /[1-9]/.test(digits.split(/[eE]/)[0]);
}
