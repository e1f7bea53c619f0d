/**
 * Widens an interval until a function changes its sign over it.
 * The end with the smaller |f| moves outwards by `growth` times the width, inside the given limits.
 *
 * @param f  continuous
 * @param interval  first guess, [a, b] with a < b
 * @param options.lower, options.upper  never evaluated outside these
 * @returns a bracket for `findRoot`, or `undefined` when none was found (an outcome: there may be no root)
 *
 * Source      Press et al., Numerical Recipes, ch. 9.1 (zbrac); common practice.
 * Checked by  bracket.test.ts
 */
export function bracketRoot(
  f: (x: number) => number,
  [start, end]: readonly [number, number],
  {
    lower = Number.NEGATIVE_INFINITY,
    upper = Number.POSITIVE_INFINITY,
    growth = 1.6,
    maxEvaluations = 100,
  }: { lower?: number; upper?: number; growth?: number; maxEvaluations?: number } = {},
): readonly [number, number] | undefined {
  let a = Math.max(lower, Math.min(start, end));
  let b = Math.min(upper, Math.max(start, end));
  let fa = f(a);
  let fb = f(b);
  for (let evaluations = 2; evaluations < maxEvaluations; evaluations++) {
    if (fa === 0 || fb === 0 || fa > 0 !== fb > 0) return [a, b];
    const [canLower, canRaise] = [a > lower, b < upper];
    if (!canLower && !canRaise) return undefined;
    const width = growth * (b - a);
    if (canLower && (!canRaise || Math.abs(fa) < Math.abs(fb))) {
      a = Math.max(lower, a - width);
      fa = f(a);
    } else {
      b = Math.min(upper, b + width);
      fb = f(b);
    }
    if (!Number.isFinite(b - a) || Number.isNaN(fa) || Number.isNaN(fb)) return undefined;
  }
  return undefined;
}
