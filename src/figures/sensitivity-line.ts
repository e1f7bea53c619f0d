/** Receive sensitivity B/I along one axis; its sign is that of the coil's winding. */
export interface SensitivityProfile {
  readonly axis: "x" | "y" | "z";
  /** Shape [n], ascending. */
  readonly position_m: Float64Array;
  readonly sensitivity_T_per_A: Float64Array;
}
