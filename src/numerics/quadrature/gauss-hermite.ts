import { findRoot } from "../roots/brent.js";
import { requireCount } from "./gauss-legendre.js";
import type { QuadratureRule } from "./rule.js";

/**
 * Gauss-Hermite rule in the probabilists' form: the mean of a function of a standard normal variable.
 *   E f(Z) = ∫ f(x)·exp(−x²/2)/√(2π) dx ≈ Σ w_i·f(x_i),  Σ w_i = 1;  exact for polynomials up to degree 2n − 1
 * With orthonormal h_k (h_{k+1} = (x·h_k − √k·h_{k−1})/√(k+1)):  w_i = 1/(n·h_{n−1}(x_i)²)
 *
 * Valid for   n from 1 to 200. Converges fast for smooth functions on the scale 1; a function with a kink or a steep
 *             step gains little from more nodes.
 * Source      DLMF 18.9, 3.5(v) (from memory); roots by interlacing and Brent
 * Checked by  gauss-hermite.test.ts (normal moments), checks/special-functions (numpy hermegauss)
 */
export function gaussHermite(n: number): QuadratureRule {
  requireCount(n, 200);
  let roots: number[] = [];
  // The roots of h_k separate those of h_{k+1}; the outermost lie within ±2·√(k+1).
  for (let k = 1; k <= n; k++) {
    const edge = 2 * Math.sqrt(k) + 1;
    const ends = [-edge, ...roots, edge];
    roots = Array.from({ length: k }, (_, i) =>
      2 * i + 1 === k ? 0 : findRoot((x) => hermite(k, x)[0], [ends[i], ends[i + 1]]).root,
    );
  }
  const nodes = Float64Array.from(roots, (root, i) => (root - roots[n - 1 - i]) / 2);
  return { nodes, weights: nodes.map((x) => 1 / (n * hermite(n, x)[1] ** 2)) };
}

/** h_n(x) and h_{n−1}(x). */
function hermite(n: number, x: number): readonly [number, number] {
  let before = 0;
  let value = 1;
  for (let k = 0; k < n; k++) [before, value] = [value, (x * value - Math.sqrt(k) * before) / Math.sqrt(k + 1)];
  return [value, before];
}
