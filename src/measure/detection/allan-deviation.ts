import { FerruleError } from "../../errors.js";
import { chiSquareQuantile } from "../../numerics/index.js";
import { allanFreedom } from "./allan-freedom.js";
import { identifyNoise, type NoiseExponent } from "./noise-identity.js";

/** Allan deviation at one averaging time. */
export interface AllanPoint {
  /** How many values are averaged. */
  readonly factor: number;
  readonly time_s: number;
  /** In the unit of the values. */
  readonly deviation: number;
  /** 95 % interval of the deviation, from chi-square. */
  readonly low: number;
  readonly high: number;
  readonly degreesOfFreedom: number;
  /** Power of the frequency in the noise's density here: 0 white, -1 flicker, -2 random walk. */
  readonly exponent: NoiseExponent;
}

/**
 * Overlapping Allan deviation of equally spaced values, e.g. of empties: how well an average of m values foretells the
 * next average of m values.
 *   sigma^2(m tau0) = 1/(2 m^2 (M - 2m + 1)) sum_j (sum_(i=j..j+m-1) (y_(i+m) - y_i))^2
 * White noise falls as 1/sqrt(tau), flicker is flat, a random walk rises as sqrt(tau), a straight drift D as D tau/sqrt(2).
 *
 * @param values  y, [M], each the mean over its interval (or a sample of something slower)
 * @param options.interval_s  tau0
 * @param options.factors  m; default 1, 2, 4 .. to a quarter of the series
 *
 * Valid for   gapless series. The interval needs the kind of noise: named by the lag-one autocorrelation where 30 averages
 *             exist, and never less steep than at a shorter time. Short of 30 values: white is assumed.
 * Source      Riley, Handbook of Frequency Stability Analysis, NIST SP 1065 (2008), sections 5.2.4, 5.3, 5.5; from memory
 * Checked by  checks/receive-chain (the 1000-point and 9-point test suites, numpy)
 */
export function allanDeviation(
  values: ArrayLike<number>,
  { interval_s, factors = octaves(values.length) }: { interval_s: number; factors?: readonly number[] },
): AllanPoint[] {
  const y = centred(values);
  if (!(Number.isFinite(interval_s) && interval_s > 0))
    throw refused("interval_s", interval_s, "a time above 0, e.g. 0.0215");
  const sums = runningSums(y);
  let exponent: NoiseExponent | undefined;
  return [...factors]
    .sort((a, b) => a - b)
    .map((factor) => {
      requireFactor(factor, y.length);
      exponent = steeper(exponent, identifyNoise(y, factor));
      const deviation = overlapping(sums, factor);
      const degreesOfFreedom = allanFreedom(y.length, factor, exponent);
      const bound = (p: number) => deviation * Math.sqrt(degreesOfFreedom / chiSquareQuantile(p, degreesOfFreedom));
      const [low, high] = [bound(0.975), bound(0.025)];
      return { factor, time_s: factor * interval_s, deviation, low, high, degreesOfFreedom, exponent };
    });
}

/**
 * In a sum of power laws the steepest rules the longest times, so the exponent never rises with the averaging time. Named
 * afresh from a few averages it would, by chance, and a white series pass for an over-corrected one with an interval far
 * too narrow. White where nothing is known.
 */
function steeper(before: NoiseExponent | undefined, named: NoiseExponent | undefined): NoiseExponent {
  if (before === undefined) return named ?? 0;
  return named !== undefined && named < before ? named : before;
}

/** The formula over running sums x_k = sum of the first k values: terms (x_(j+2m) - 2 x_(j+m) + x_j)/m. */
function overlapping(sums: Float64Array, m: number): number {
  const count = sums.length - 2 * m;
  let squares = 0;
  for (let j = 0; j < count; j++) squares += (sums[j + 2 * m] - 2 * sums[j + m] + sums[j]) ** 2;
  return Math.sqrt(squares / (2 * count)) / m;
}

/** Running sums of M values, [M + 1]. */
function runningSums(y: Float64Array): Float64Array {
  const sums = new Float64Array(y.length + 1);
  for (let i = 0; i < y.length; i++) sums[i + 1] = sums[i] + y[i];
  return sums;
}

/** Values less their mean: the deviation does not feel it, and the running sums stay small. */
function centred(values: ArrayLike<number>): Float64Array {
  if (values.length < 2) throw refused("values", values.length, "two values or more; 100 or more to name the noise");
  const y = Float64Array.from(values);
  const bad = y.findIndex((value) => !Number.isFinite(value));
  if (bad >= 0) throw refused(`values[${bad}]`, y[bad], "finite values without gaps");
  const mean = y.reduce((sum, value) => sum + value, 0) / y.length;
  return y.map((value) => value - mean);
}

/** 1, 2, 4 .. while four averages remain. */
function octaves(count: number): number[] {
  const found = [1];
  while (found[found.length - 1] * 8 <= count) found.push(2 * found[found.length - 1]);
  return found;
}

function requireFactor(factor: number, count: number): void {
  if (Number.isInteger(factor) && factor >= 1 && 2 * factor <= count) return;
  throw refused("factors", factor, `whole numbers from 1 to ${Math.floor(count / 2)}, half the series`);
}

function refused(path: string, found: number, accepted: string): FerruleError {
  return new FerruleError("InvalidValue", { path, found: String(found), accepted });
}
