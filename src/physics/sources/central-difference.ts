/** Weights of f(x + k·h) − f(x − k·h), k = 1 to 5: the first derivative times h, exact for polynomials of degree 10. */
const weights = [5 / 6, -5 / 21, 5 / 84, -5 / 504, 1 / 1260] as const;

/** Adds the field at a point to `sum`. */
type Adder = (x: number, y: number, z: number, sum: Float64Array) => void;

/**
 * First derivatives of a vector field by central differences of tenth order.
 *   dB_i/dx_j ≈ (1/h)·Σ_k w_k·[B_i(r + k·h·e_j) − B_i(r − k·h·e_j)]
 *
 * @param step_m  h. With the nearest singularity at distance d, h = d/80 truncates at 1e-13 of |B|/d (a dipole at distance d:
 *                1.1e6·(h/d)^10) and rounds at 80 times the error of B.
 * @returns [9] row-major, dB_i/dx_j
 * Source      Fornberg, Mathematics of Computation 51:699 (1988), from memory
 * Checked by  gradient-of-sources.test.ts
 */
export function centralDifference(
  add: Adder,
  point_m: readonly [number, number, number],
  step_m: number,
): Float64Array {
  const gradient = new Float64Array(9);
  const ahead = new Float64Array(3);
  const behind = new Float64Array(3);
  for (let j = 0; j < 3; j++)
    for (const [at, weight] of weights.entries()) {
      const reach = (at + 1) * step_m;
      const [x, y, z] = [0, 1, 2].map((axis) => (axis === j ? reach : 0));
      ahead.fill(0);
      behind.fill(0);
      add(point_m[0] + x, point_m[1] + y, point_m[2] + z, ahead);
      add(point_m[0] - x, point_m[1] - y, point_m[2] - z, behind);
      for (let i = 0; i < 3; i++) gradient[3 * i + j] += (weight * (ahead[i] - behind[i])) / step_m;
    }
  return gradient;
}
