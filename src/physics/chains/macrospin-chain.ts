import { FerruleError } from "../../errors.js";
import { boltzmannConstant_J_per_K, gyromagneticRatio_rad_per_s_T } from "../../units/index.js";
import { requirePositive } from "../particle/ranges.js";
import { dipoleField_T } from "./chain-coupling.js";

/**
 * Easy axes of the cores: none, all along the chain, or each in a random direction of its own. With `brownTime_s` the core
 * turns in its liquid, and its axis with it; without, axes are fixed.
 */
export type EasyAxes =
  | { readonly kind: "none" }
  | {
      readonly kind: "along-chain" | "random";
      /** K V of one core, J. */
      readonly barrier_J: number;
      /** Time in which a free axis forgets its direction (first-order correlation), s. */
      readonly brownTime_s?: number;
    };

/** A straight chain of equal macrospins along its own z axis. */
export interface MacrospinChain {
  readonly spins: number;
  readonly moment_A_m2: number;
  /** Distance between neighbouring centres; without meaning for one spin. */
  readonly spacing_m: number;
  readonly easyAxes: EasyAxes;
  /** Gilbert's alpha. */
  readonly damping: number;
  /** 0: no thermal field. */
  readonly temperature_K: number;
}

/** The chain's interactions as fields, in the form a kernel takes. */
export interface ChainFields {
  /** mu0 m / (4 pi (n a)^3), T, shape [spins]; 0 at n = 0. */
  readonly dipoleField_T: Float64Array;
  /** 2 K V / m, T. */
  readonly anisotropyField_T: number;
}

/**
 * Dipole and anisotropy fields of a chain.
 *   g_n = mu0 m / (4 pi (n a)^3),  B_K = 2 K V / m
 * Source   point dipoles (exact for spheres); derived. Checked by checks/chains.
 */
export function chainFields(chain: MacrospinChain): ChainFields {
  requireChain(chain);
  const { spins, moment_A_m2, spacing_m, easyAxes } = chain;
  return {
    dipoleField_T: Float64Array.from({ length: spins }, (_, n) =>
      n === 0 ? 0 : dipoleField_T(moment_A_m2, n * spacing_m).onAxis / 2,
    ),
    anisotropyField_T: easyAxes.kind === "none" ? 0 : (2 * easyAxes.barrier_J) / moment_A_m2,
  };
}

/**
 * Precession per tesla of one step, and the thermal field of that step.
 *   p = gamma dt / (1 + alpha^2),  sd = sqrt(2 alpha kB T / (gamma m dt)) per component
 * The sd is what lets the spins forget everything but the Boltzmann distribution (fluctuation-dissipation).
 *
 * Source   Brown, Phys. Rev. 130:1677 (1963); Garcia-Palacios & Lazaro, Phys. Rev. B 58:14937 (1998); from memory
 * Checked by   checks/chains (Boltzmann averages)
 */
export function stepOf(
  { moment_A_m2, damping, temperature_K }: MacrospinChain,
  step_s: number,
): { precession_per_T: number; thermalField_T: number } {
  const gamma = gyromagneticRatio_rad_per_s_T;
  return {
    precession_per_T: (gamma * step_s) / (1 + damping * damping),
    thermalField_T: Math.sqrt(
      (2 * damping * boltzmannConstant_J_per_K * temperature_K) / (gamma * moment_A_m2 * step_s),
    ),
  };
}

/**
 * Time step in which no spin turns by more than about `turn` rad: the smaller of what the fields and the noise allow.
 *
 * @param options.largestField_T  largest applied field
 * @param options.turn  rad. The bias of equilibrium averages falls with the step itself; measured for one spin at xi = 2:
 *                      0.001 of M/Ms at 0.125 rad for alpha = 1, 0.0045 at 0.125 rad and 0.0006 at 0.06 rad for alpha = 0.1
 */
export function suggestedStep_s(
  chain: MacrospinChain,
  { largestField_T, turn = 0.1 }: { largestField_T: number; turn?: number },
): number {
  const { spins, moment_A_m2, damping, temperature_K } = chain;
  const { dipoleField_T: g, anisotropyField_T } = chainFields(chain);
  const total_T = Math.abs(largestField_T) + anisotropyField_T + (spins > 1 ? 4 * g.reduce((a, b) => a + b) : 0);
  const gamma = gyromagneticRatio_rad_per_s_T;
  // |s x B + alpha s x (s x B)| <= sqrt(1 + alpha^2) B; the noise turns by sqrt(2 alpha kB T gamma dt / (m (1+alpha^2))).
  const byField = (turn * Math.sqrt(1 + damping * damping)) / (gamma * total_T);
  const byNoise =
    (turn * turn * (1 + damping * damping) * moment_A_m2) /
    (2 * damping * gamma * boltzmannConstant_J_per_K * temperature_K);
  return Math.min(byField, byNoise);
}

/**
 * Energy of every chain of a block, J.
 *   E = -m sum B . s_i - K V sum (s_i . e_i)^2 + sum_{i<j} m g_|i-j| (s_i . s_j - 3 s_iz s_jz)
 *
 * @param placed  state and easyAxis [3, spins, chains], fieldDirection [3, chains], as in `MacrospinBlock`
 * @returns energies, shape [chains]
 */
export function chainEnergy_J(
  chain: MacrospinChain,
  {
    state: s,
    easyAxis: e,
    fieldDirection,
    field_T,
  }: { state: Float64Array; easyAxis: Float64Array; fieldDirection: Float64Array; field_T: number },
): Float64Array {
  const { spins, moment_A_m2 } = chain;
  const { dipoleField_T: g, anisotropyField_T } = chainFields(chain);
  const chains = fieldDirection.length / 3;
  const plane = spins * chains;
  const dot = (a: Float64Array, i: number, b: Float64Array, j: number, strideB = plane) =>
    a[i] * b[j] + a[plane + i] * b[strideB + j] + a[2 * plane + i] * b[2 * strideB + j];
  return Float64Array.from({ length: chains }, (_, k) => {
    let energy_T = 0;
    for (let i = 0; i < spins; i++) {
      const at = i * chains + k;
      energy_T -= field_T * dot(s, at, fieldDirection, k, chains) + 0.5 * anisotropyField_T * dot(s, at, e, at) ** 2;
      for (let j = i + 1; j < spins; j++) {
        const to = j * chains + k;
        energy_T += g[j - i] * (dot(s, at, s, to) - 3 * s[2 * plane + at] * s[2 * plane + to]);
      }
    }
    return moment_A_m2 * energy_T;
  });
}

/** Refuses a chain that cannot be. */
export function requireChain({
  spins,
  moment_A_m2,
  spacing_m,
  easyAxes,
  damping,
  temperature_K,
}: MacrospinChain): void {
  if (!(Number.isInteger(spins) && spins >= 1 && spins <= 4096))
    refuse("spins", spins, "a whole number from 1 to 4096, e.g. 8");
  requirePositive(moment_A_m2, "moment_A_m2", "1.87e-18 (20 nm at 446 kA/m)");
  requirePositive(spacing_m, "spacing_m", "24e-9 (24 nm)");
  requirePositive(damping, "damping", "0.1");
  if (!(temperature_K >= 0 && Number.isFinite(temperature_K)))
    refuse("temperature_K", temperature_K, "0 (no thermal field) or more, e.g. 300");
  if (easyAxes.kind === "none") return;
  if (!(easyAxes.barrier_J >= 0 && Number.isFinite(easyAxes.barrier_J)))
    refuse("easyAxes.barrier_J", easyAxes.barrier_J, "K V from 0 up, e.g. 4e-20");
  if (easyAxes.brownTime_s === undefined) return;
  requirePositive(easyAxes.brownTime_s, "easyAxes.brownTime_s", "1e-6 (1 us)");
  if (temperature_K === 0)
    refuse("easyAxes.brownTime_s", easyAxes.brownTime_s, "fixed axes when the temperature is 0: turning is thermal");
}

function refuse(path: string, found: number, accepted: string): never {
  throw new FerruleError("InvalidValue", { path, found: String(found), accepted });
}
