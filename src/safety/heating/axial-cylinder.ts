import type { TissueLayer } from "../body.js";
import type { FieldRate, SectionHeating, Tissue } from "./section.js";

/**
 * Electric field around the axis of a long cylinder in a uniform axial field.
 *   E(r) = (r/2) dB/dt;  peak (r/2) 2 pi f B for a sine of amplitude B
 * Holds in concentric layers too: E runs in circles along the layers, so no charge gathers at their borders.
 *
 * @returns V/m
 * Valid for   quasi-static fields, conductivity that varies with the radius only
 * Source      Faraday's law on a circle; derived
 * Checked by  checks/limits (W27; finite elements)
 */
export function axialField_V_per_m(radius_m: number, rate_T_per_s: number): number {
  return (radius_m / 2) * rate_T_per_s;
}

/**
 * Heating of a homogeneous cylinder in a uniform axial field.
 *   SAR(r) = sigma r^2 <(dB/dt)^2> / (4 rho);  mean over the section: half of that at the surface
 *   sine of amplitude B: surface sigma w^2 B^2 R^2 / (8 rho), mean sigma w^2 B^2 R^2 / (16 rho)
 *
 * Valid for, Source, Checked by   as `axialField_V_per_m`; peak amplitude, average over the period
 */
export function axialCylinderHeating(
  radius_m: number,
  { conductivity_S_per_m, density_kg_per_m3 }: Tissue,
  { peakRate_T_per_s, meanSquareRate_T2_per_s2 }: FieldRate,
): SectionHeating {
  const surface = (conductivity_S_per_m * radius_m ** 2 * meanSquareRate_T2_per_s2) / (4 * density_kg_per_m3);
  return {
    mean_W_per_kg: surface / 2,
    highest_W_per_kg: surface,
    peakField_V_per_m: axialField_V_per_m(radius_m, peakRate_T_per_s),
    model: "long homogeneous cylinder, field along it",
  };
}

/**
 * Heating of concentric layers in a uniform axial field.
 *   SAR_i(r) = sigma_i r^2 <(dB/dt)^2> / (4 rho_i);  power per length of a shell a..b: pi sigma_i (b^4 - a^4) <..> / 8
 *
 * Valid for, Source, Checked by   as `axialField_V_per_m`
 */
export function axialLayersHeating(
  layers: readonly TissueLayer[],
  { peakRate_T_per_s, meanSquareRate_T2_per_s2: S }: FieldRate,
): SectionHeating {
  const { power, mass, highest, radius_m } = sumLayers(layers);
  return {
    mean_W_per_kg: (S / 8) * (power / mass),
    highest_W_per_kg: (S / 4) * highest,
    peakField_V_per_m: axialField_V_per_m(radius_m, peakRate_T_per_s),
    model: `long cylinder of ${layers.length} concentric layers, field along it`,
  };
}

/** Sums over shells: sigma (b^4 - a^4), rho (b^2 - a^2), the largest sigma b^2/rho, the outer radius. */
export function sumLayers(layers: readonly TissueLayer[]) {
  let [power, mass, highest, radius_m] = [0, 0, 0, 0];
  for (const { outerRadius_m: b, conductivity_S_per_m: sigma, density_kg_per_m3: rho } of layers) {
    power += sigma * (b ** 4 - radius_m ** 4);
    mass += rho * (b ** 2 - radius_m ** 2);
    highest = Math.max(highest, (sigma * b ** 2) / rho);
    radius_m = b;
  }
  return { power, mass, highest, radius_m };
}
