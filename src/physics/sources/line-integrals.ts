/*
 * Integrals along a straight line of length s1 + s2, for a point whose foot on the line lies s1 behind one end and s2 before
 * the other (one of them negative when the foot is outside) and whose distance from the line is √d2.
 * Written so that nothing cancels: far away, beside the line, or on its extension.
 *
 * Source      elementary; the forms without cancellation are derived
 * Checked by  line-integrals.test.ts (closed cases), checks/coil-fields
 */

/**
 * ∫ ds/R³, 1/m²; times the vector from the line it is the part of ∫ R ds/R³ across the line.
 * On the line itself infinite, on its extension finite.
 */
export function inverseCube(d2: number, s1: number, s2: number): number {
  const r1 = Math.sqrt(d2 + s1 * s1);
  const r2 = Math.sqrt(d2 + s2 * s2);
  if (s1 >= 0 && s2 >= 0) return (s1 / r1 + s2 / r2) / d2;
  return Math.abs(s1 * s1 - s2 * s2) / (r1 * r2 * (Math.abs(s1) * r2 + Math.abs(s2) * r1));
}

/** Part of ∫ R ds/R³ along the line (from the first end to the second), 1/m: 1/r2 − 1/r1. */
export function alongLine(d2: number, s1: number, s2: number): number {
  const r1 = Math.sqrt(d2 + s1 * s1);
  const r2 = Math.sqrt(d2 + s2 * s2);
  return ((s1 + s2) * (s1 - s2)) / (r1 * r2 * (r1 + r2));
}

/** ∫ ds/R = ln((r1 + r2 + L)/(r1 + r2 − L)), dimensionless; on the line itself infinite. */
export function inverseDistance(d2: number, s1: number, s2: number): number {
  return Math.log1p((2 * (s1 + s2)) / (beyond(d2, s1) + beyond(d2, s2)));
}

/** √(d2 + s²) − s without cancellation. */
function beyond(d2: number, s: number): number {
  const r = Math.sqrt(d2 + s * s);
  return s > 0 ? d2 / (r + s) : r - s;
}
