/** How a coil is run. */
export interface CoilUse {
  /** Peak of a sine, or the direct current. */
  readonly current_A: number;
  /** 0: direct current. Default 0. */
  readonly frequency_Hz?: number;
  /** Of the conductor, for every figure but the steady temperature. Default 293.15. */
  readonly temperature_K?: number;
  /** Share of the time with current. Default 1. */
  readonly dutyCycle?: number;
  /** For the voltage of a ramp: the change of current wanted, on top of `current_A` (e.g. dB/dt over field per ampere). */
  readonly currentRate_A_per_s?: number;
  readonly cooling?: "air" | "water";
  /** Rise of the cooling water. Absent: no flow is worked out. */
  readonly coolantRise_K?: number | undefined;
  /** From conductor to surroundings. Absent: no steady temperature is worked out. */
  readonly thermalResistance_K_per_W?: number | undefined;
  readonly ambient_K?: number;
  /** See `ResistanceOptions`. */
  readonly ownField_T_per_A?: readonly number[] | undefined;
}
