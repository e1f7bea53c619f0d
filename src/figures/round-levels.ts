/** Multiples of 1, 2 or 5 times a power of ten inside a range, about `count` of them, without its ends. */
export function roundLevels(low: number, high: number, count: number): number[] {
  if (!(high > low)) return [];
  const rough = (high - low) / count;
  const power = Math.floor(Math.log10(rough));
  const away = (digit: number) => Math.abs(Math.log((digit * 10 ** power) / rough));
  const digit = [1, 2, 5, 10].reduce((best, each) => (away(each) < away(best) ? each : best));
  const [step, exponent] = digit === 10 ? [1, power + 1] : [digit, power];
  const size = Number(`${step}e${exponent}`);
  const first = Math.floor(low / size) + 1;
  const last = Math.ceil(high / size) - 1;
  // Number("15e-3"), not 15 * 0.001: the level's own digits are printed.
  return Array.from({ length: Math.max(0, last - first + 1) }, (_, i) => Number(`${(first + i) * step}e${exponent}`));
}
