import { gaussLegendre, type QuadratureRule } from "../../numerics/index.js";

/** Nearest singular point of an integrand, at the complex place `at ± i·off` (off >= 0). */
export interface Pole {
  readonly at: number;
  readonly off: number;
}

interface PreparedRule extends QuadratureRule {
  /** Smallest semi-major axis of the ellipse (foci at the ends, half-length 1) at which the rule is exact to rounding. */
  readonly semiMajor: number;
}

/** Gauss-Legendre with n nodes errs as e^(−2n) when the integrand is analytic in the ellipse with semi-axes' sum e. */
const rules: readonly PreparedRule[] = [2, 3, 4, 6, 8, 12, 16].map((n) => {
  const sum = 10 ** (16 / (2 * n));
  return { ...gaussLegendre(n), semiMajor: (sum + 1 / sum) / 2 };
});
const finest = rules[rules.length - 1];
const deepest = 46;

/** The shortest rule that is exact to rounding for a pole that far away, or nothing: then halve the interval. */
export function ruleFor(semiMajor: number): QuadratureRule | undefined {
  return rules.find((rule) => semiMajor >= rule.semiMajor);
}

/** Semi-major axis of the ellipse through the pole, in half-lengths of the interval; 1 on the interval, large far away. */
export function ellipseThrough({ at, off }: Pole, from: number, to: number): number {
  return (Math.hypot(at - from, off) + Math.hypot(at - to, off)) / (to - from);
}

/**
 * Gauss-Legendre nodes on an interval, halved toward a pole until every piece is exact to rounding.
 *   ∫ f(x) dx ≈ Σ w·f(x)
 *
 * @param interval  [from, to]; empty or backward visits nothing
 * @param pole  nearest singular point of f; on the interval itself it must be an end, and integrable (log, |x|)
 * @param visit  called with (x, w)
 *
 * Valid for   f analytic but at the pole; halving stops after 46 times, where the last piece is 1e-14 of the interval.
 * Source      error of Gauss rules by Bernstein ellipses: Trefethen, Approximation Theory, ch. 19; from memory
 * Checked by  graded-nodes.test.ts
 */
export function visitNodes(
  interval: readonly [number, number],
  pole: Pole,
  visit: (x: number, weight: number) => void,
): void {
  visitPiece(interval, { pole, visit, depth: 0 });
}

interface Walk {
  readonly pole: Pole;
  readonly visit: (x: number, weight: number) => void;
  readonly depth: number;
}

function visitPiece([from, to]: readonly [number, number], { pole, visit, depth }: Walk): void {
  if (!(to > from)) return;
  const rule = ruleFor(ellipseThrough(pole, from, to)) ?? (depth >= deepest ? finest : undefined);
  const middle = (from + to) / 2;
  if (rule === undefined) {
    visitPiece([from, middle], { pole, visit, depth: depth + 1 });
    visitPiece([middle, to], { pole, visit, depth: depth + 1 });
    return;
  }
  const half = (to - from) / 2;
  for (let i = 0; i < rule.nodes.length; i++) visit(middle + half * rule.nodes[i], half * rule.weights[i]);
}
