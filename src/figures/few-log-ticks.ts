import { logTicks } from "./log-axis.js";

/**
 * Round numbers within a logarithmic range, at most so many and evenly spaced, 1 among them where the range holds it:
 * powers of ten where there are three of these. The plot library leaves other ticks of a range that long without numbers.
 */
export function fewLogTicks(range: readonly [number, number], most = 10): number[] {
  const every = logTicks(range);
  const decades = every.filter((tick) => Math.abs(Math.log10(tick) - Math.round(Math.log10(tick))) < 1e-9);
  const ticks = decades.length >= 3 ? decades : every;
  const step = Math.max(1, Math.ceil(ticks.length / most));
  const first = Math.max(0, ticks.indexOf(1)) % step;
  return ticks.filter((_, i) => i % step === first);
}
