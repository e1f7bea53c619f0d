import type { TissueLayer } from "../body.js";
import { sumLayers } from "./axial-cylinder.js";
import type { FieldRate, SectionHeating, Tissue } from "./section.js";

/**
 * Electric field in a long cylinder, uniform field across it. The loops run lengthwise and close far away.
 *   E = s dB/dt along the cylinder, s the distance from its axis across the field: r sin(phi), twice the axial case
 * Independent of the conductivity, and so exact in concentric layers: E is parallel to every border.
 *
 * @returns V/m at its largest, s = half width across the field
 * Valid for   quasi-static fields; an upper bound for a body of finite length: an ellipsoid of half length L has
 *             s/(1 + (s/L)^2)
 * Source      Faraday's law on a long rectangle; derived
 * Checked by  checks/limits (finite cylinders, series of Bessel functions)
 */
export function transverseField_V_per_m(halfWidth_m: number, rate_T_per_s: number): number {
  return halfWidth_m * rate_T_per_s;
}

/**
 * Heating of a long homogeneous cylinder of circular or elliptic section, uniform field across it.
 *   SAR = sigma s^2 <(dB/dt)^2> / rho;  mean over the section: a quarter of the highest
 *
 * @param halfWidth_m  semi-axis of the section across the field
 * Valid for, Source, Checked by   as `transverseField_V_per_m`
 */
export function transverseHeating(
  halfWidth_m: number,
  { conductivity_S_per_m: sigma, density_kg_per_m3: rho }: Tissue,
  { peakRate_T_per_s, meanSquareRate_T2_per_s2: S }: FieldRate,
): SectionHeating {
  const highest_W_per_kg = (sigma * halfWidth_m ** 2 * S) / rho;
  return {
    mean_W_per_kg: highest_W_per_kg / 4,
    highest_W_per_kg,
    peakField_V_per_m: transverseField_V_per_m(halfWidth_m, peakRate_T_per_s),
    model: transverseModel,
  };
}

/** The same for concentric layers. */
export function transverseLayersHeating(
  layers: readonly TissueLayer[],
  { peakRate_T_per_s, meanSquareRate_T2_per_s2: S }: FieldRate,
): SectionHeating {
  const { power, mass, highest, radius_m } = sumLayers(layers);
  return {
    mean_W_per_kg: (S / 4) * (power / mass),
    highest_W_per_kg: S * highest,
    peakField_V_per_m: transverseField_V_per_m(radius_m, peakRate_T_per_s),
    model: `${transverseModel}, ${layers.length} concentric layers`,
  };
}

const transverseModel =
  "endless cylinder, field across it: the induced loops run lengthwise, an upper figure for a body of finite length";
