/** How the moments of a tracer follow the field; documents state it, `periodicResponse` computes it. */
export type Relaxation =
  /** Equilibrium at every instant. */
  | { readonly kind: "none" }
  /** One constant time for all cores. */
  | { readonly kind: "debye"; readonly time_s: number }
  /** A rate equation whose time shortens with the field: zero-field time, and which published law. */
  | { readonly kind: "field-dependent"; readonly zeroFieldTime_s: number; readonly law: "peak" | "instantaneous" }
  /** Particles turn as a whole in a liquid (Fokker-Planck). */
  | { readonly kind: "brownian"; readonly viscosity_Pa_s: number; readonly hydrodynamic: HydrodynamicSize }
  /** Moments turn inside fixed cores over a uniaxial barrier (Fokker-Planck). */
  | {
      readonly kind: "neel";
      readonly anisotropy_J_per_m3: number;
      readonly damping: number;
      readonly easyAxes: "parallel" | "random";
    }
  /** Both at once by adding zero-field rates: a rough figure, see `combinedTimeCaveat`. */
  | {
      readonly kind: "combined";
      readonly viscosity_Pa_s: number;
      readonly hydrodynamic: HydrodynamicSize;
      readonly anisotropy_J_per_m3: number;
      readonly attemptTime_s: number;
    };

/** Hydrodynamic size: one for all cores, a log-normal (number-weighted) independent of them, or core plus a shell. */
export type HydrodynamicSize =
  | { readonly kind: "median"; readonly diameter_m: number; readonly logSd: number }
  | { readonly kind: "shell"; readonly thickness_m: number };

/** Mean-field coupling of chained cores: an effective parameter, not a geometry. */
export interface ChainCoupling {
  /** kappa of M = L(xi + kappa M); above 3 the curve has hysteresis. */
  readonly kappa: number;
}
