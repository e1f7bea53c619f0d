import { boltzmannConstant_J_per_K, gyromagneticRatio_rad_per_s_T } from "../../units/index.js";
import { coreMoment_A_m2, coreVolume_m3 } from "../particle/core.js";
import { requireBetween, requirePositive } from "../particle/ranges.js";

/**
 * Zero-field relaxation time of a particle that turns as a whole in a liquid.
 *   tau_B = 3 eta V_H / (kB T) = pi eta d_H^3 / (2 kB T)
 *
 * @returns s
 * Valid for   a sphere in a Newtonian liquid, zero field; d_H is the *hydrodynamic* diameter (core, coating and all)
 * Source      Brown 1963 / Debye 1929; from memory, recomputed
 * Checked by  checks/relaxation (379.241 us and 42.4524 us)
 */
export function brownTime_s(hydrodynamicDiameter_m: number, viscosity_Pa_s: number, temperature_K: number): number {
  requirePositive(hydrodynamicDiameter_m, "hydrodynamicDiameter_m", "100e-9 (100 nm)");
  requirePositive(viscosity_Pa_s, "viscosity_Pa_s", "1e-3 (water, 20 C)");
  requirePositive(temperature_K, "temperature_K", "300");
  return (3 * viscosity_Pa_s * coreVolume_m3(hydrodynamicDiameter_m)) / (boltzmannConstant_J_per_K * temperature_K);
}

/**
 * Height of the barrier between the two directions of a uniaxial core, in thermal energies.
 *   sigma = K V / (kB T)
 *
 * Valid for   a sphere; V is the *core* volume
 * Source      definition. Checked by checks/relaxation (13.14702).
 */
export function barrierRatio(coreDiameter_m: number, anisotropy_J_per_m3: number, temperature_K: number): number {
  requirePositive(coreDiameter_m, "coreDiameter_m", "20e-9 (20 nm)");
  requirePositive(temperature_K, "temperature_K", "300");
  return (anisotropy_J_per_m3 * coreVolume_m3(coreDiameter_m)) / (boltzmannConstant_J_per_K * temperature_K);
}

/**
 * Zero-field Neel time as a plain activated rate.
 *   tau_N = tau_0 exp(sigma)
 *
 * Valid for   orders of magnitude: tau_0, 1e-9 to 1e-10 s, stands for everything but the exponential
 * Source      encyclopaedia article "Neel relaxation theory"; read. Checked by checks/relaxation (0.512483 ms).
 */
export function arrheniusTime_s(barrier: number, attemptTime_s: number): number {
  return attemptTime_s * Math.exp(barrier);
}

/**
 * Zero-field Neel time for a high barrier, Brown's form.
 *   tau_N = (sqrt(pi)/2) tau_0 exp(sigma) / sqrt(sigma)
 *
 * Valid for   sigma above 2, and then low: by 20 % at 5 and 11 % at 10 against the exact eigenvalue (`exactNeelTime_s`)
 *             when tau_0 = tau_N0 / sigma
 * Source      Rosensweig, JMMM 252:370 (2002); from memory. Checked by checks/relaxation (0.125260 ms; the 20 and 11 %).
 */
export function highBarrierTime_s(barrier: number, attemptTime_s: number): number {
  requirePositive(barrier, "barrier", "13.1");
  return ((Math.sqrt(Math.PI) / 2) * attemptTime_s * Math.exp(barrier)) / Math.sqrt(barrier);
}

/**
 * Diffusion time of a moment inside its core without any barrier.
 *   tau_N0 = m (1 + alpha^2) / (2 alpha gamma kB T)
 * The clock of the Neel Fokker-Planck equation; Brown's tau_0 is tau_N0 / sigma.
 *
 * @returns s
 * Valid for   one damping constant alpha of the Landau-Lifshitz-Gilbert equation, about 0.01 to 1 (poorly known)
 * Source      W. F. Brown, Phys. Rev. 130:1677 (1963); from memory
 * Checked by  relaxation-times.test.ts (written out once by hand)
 */
export function freeNeelTime_s({
  coreDiameter_m,
  saturation_A_per_m,
  temperature_K,
  damping,
}: {
  coreDiameter_m: number;
  saturation_A_per_m: number;
  temperature_K: number;
  damping: number;
}): number {
  requireBetween(damping, [1e-6, 1e3], { path: "damping", example: "0.1" });
  const xiPerField = coreMoment_A_m2(coreDiameter_m, saturation_A_per_m) / (boltzmannConstant_J_per_K * temperature_K);
  return (xiPerField * (1 + damping * damping)) / (2 * damping * gyromagneticRatio_rad_per_s_T);
}

/** What anyone who joins the two mechanisms into one time has to know. */
export const combinedTimeCaveat =
  "zero field only: at the fields of a drive the two mechanisms decouple, and one combined time can fail (abstract of arXiv:2402.04427, read)";

/**
 * One time for two independent ways to turn.
 *   1/tau = 1/tau_B + 1/tau_N
 *
 * Valid for   zero field (see `combinedTimeCaveat`)
 * Source      textbook; from memory. Checked by relaxation-times.test.ts (limits).
 */
export function combinedTime_s(brown_s: number, neel_s: number): number {
  requirePositive(brown_s, "brown_s", "3.8e-4");
  requirePositive(neel_s, "neel_s", "1.3e-4");
  // Divided through by the longer, so that no reciprocal overflows.
  const [short_s, long_s] = brown_s < neel_s ? [brown_s, neel_s] : [neel_s, brown_s];
  return short_s / (1 + short_s / long_s);
}
