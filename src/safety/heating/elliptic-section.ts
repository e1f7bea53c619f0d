import type { FieldRate, SectionHeating, Tissue } from "./section.js";

/**
 * Electric field in an elliptic section, uniform field along the cylinder.
 *   E(x, y) = dB/dt sqrt(b^4 x^2 + a^4 y^2) / (a^2 + b^2)
 *
 * @param point_m  [x, y] inside the section, semi-axes a along x and b along y
 * @returns V/m
 * Valid for   quasi-static fields, homogeneous tissue; a = b gives the circle, (r/2) dB/dt
 * Source      ACGIH and IEEE as cited in toc.123doc.org/document/2794495 (current density J = sigma E); read
 * Checked by  checks/limits (finite elements)
 */
export function ellipticField_V_per_m(
  [x, y]: readonly [number, number],
  { x: a, y: b }: { readonly x: number; readonly y: number },
  rate_T_per_s: number,
): number {
  return (rate_T_per_s * Math.hypot(b ** 2 * x, a ** 2 * y)) / (a ** 2 + b ** 2);
}

/**
 * Heating of an elliptic section, uniform field along the cylinder.
 *   mean    sigma <(dB/dt)^2> a^2 b^2 / (4 rho (a^2 + b^2))
 *   highest sigma <(dB/dt)^2> a^4 b^2 / (rho (a^2 + b^2)^2), at the ends of the short axis b
 *
 * Valid for, Checked by   as `ellipticField_V_per_m`
 * Source      integral of that field; derived
 */
export function ellipticHeating(
  { x, y }: { readonly x: number; readonly y: number },
  { conductivity_S_per_m: sigma, density_kg_per_m3: rho }: Tissue,
  { peakRate_T_per_s, meanSquareRate_T2_per_s2: S }: FieldRate,
): SectionHeating {
  const [a, b] = [Math.max(x, y), Math.min(x, y)];
  const sumOfSquares = a ** 2 + b ** 2;
  return {
    mean_W_per_kg: (sigma * S * (a * b) ** 2) / (4 * rho * sumOfSquares),
    highest_W_per_kg: (sigma * S * (a ** 2 * b) ** 2) / (rho * sumOfSquares ** 2),
    peakField_V_per_m: ellipticField_V_per_m([0, b], { x: a, y: b }, peakRate_T_per_s),
    model: "long homogeneous cylinder of elliptic section, field along it",
  };
}
