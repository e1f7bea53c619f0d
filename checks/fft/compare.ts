import { readFileSync } from "node:fs";
import { fourierPlan } from "../../src/numerics/index.js";

interface Short {
  readonly n: number;
  readonly x: number[];
  readonly y: number[];
}
interface Long {
  readonly n: number;
  readonly norm: number;
  readonly at: number[];
  readonly y: number[];
}
export const truth: { readonly cases: Short[]; readonly long: Long[] } = JSON.parse(
  readFileSync(new URL("truth.json", import.meta.url), "utf8"),
);

const norm = (values: ArrayLike<number>) => Math.sqrt(Array.from(values).reduce((sum, v) => sum + v * v, 0));
const distance = (a: ArrayLike<number>, b: ArrayLike<number>) => norm(Array.from(a, (v, i) => v - b[i]));

/** Relative rms differences of a whole transform, there and back. */
export function shortErrors({ n, x, y }: Short): { forward: number; back: number } {
  const plan = fourierPlan(n);
  const forward = plan.forward(Float64Array.from(x), new Float64Array(2 * n));
  const back = plan.inverse(Float64Array.from(y));
  return { forward: distance(forward, y) / norm(y), back: distance(back, x) / norm(x) };
}

/** Norm, and some bins in units of the mean bin, of a chirp given by formula. */
export function longErrors({ n, norm: total, at, y }: Long): { norm: number; bins: number } {
  const data = new Float64Array(2 * n);
  for (let j = 0; j < n; j++) {
    data[2 * j] = Math.sin(0.001 * j * j);
    data[2 * j + 1] = Math.cos(0.003 * j * j + 1);
  }
  const bins = fourierPlan(n).forward(data);
  const picked = at.flatMap((k) => [bins[2 * k], bins[2 * k + 1]]);
  return { norm: Math.abs(norm(bins) / total - 1), bins: distance(picked, y) / (total * Math.sqrt(at.length / n)) };
}
