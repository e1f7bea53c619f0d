/** Heating of one section of a body while the field is on, averaged over the period. */
export interface SectionHeating {
  /** Power over mass of the section. */
  readonly mean_W_per_kg: number;
  /** At the worst point, not averaged over any mass. */
  readonly highest_W_per_kg: number;
  /** Largest electric field at that instant in the section. */
  readonly peakField_V_per_m: number;
  /** Which model this is, in words. */
  readonly model: string;
}

/** The rate of change of the field, uniform over the section. */
export interface FieldRate {
  readonly peakRate_T_per_s: number;
  /** <(dB/dt)^2>; (2 pi f B)^2 / 2 for a sine of amplitude B. */
  readonly meanSquareRate_T2_per_s2: number;
}

export interface Tissue {
  readonly conductivity_S_per_m: number;
  readonly density_kg_per_m3: number;
}
