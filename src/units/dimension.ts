/** Exponents of m, kg, s, A, K, mol, cd, in this order. Half-integers occur (V/Hz^0.5). Angles have no dimension. */
export type Dimension = readonly [number, number, number, number, number, number, number];

const baseUnits = ["m", "kg", "s", "A", "K", "mol", "cd"] as const;

export const noDimension: Dimension = [0, 0, 0, 0, 0, 0, 0];

/** `a` times `b` to the given power: exponents add. */
export function combine(a: Dimension, b: Dimension, power: number): Dimension {
  return a.map((exponent, i) => exponent + power * b[i]) as unknown as Dimension;
}

export function isSameDimension(a: Dimension, b: Dimension): boolean {
  return a.every((exponent, i) => exponent === b[i]);
}

/** `m2.kg.s-2`, a text that the unit grammar reads back; `1` without dimension. */
export function dimensionText(dimension: Dimension): string {
  const factors = baseUnits.flatMap((symbol, i) => {
    const exponent = dimension[i];
    if (exponent === 0) return [];
    return [exponent === 1 ? symbol : Number.isInteger(exponent) ? `${symbol}${exponent}` : `${symbol}^${exponent}`];
  });
  return factors.length === 0 ? "1" : factors.join(".");
}
