import { boltzmannConstant_J_per_K, vacuumPermeability_T_m_per_A } from "../../units/index.js";
import { requirePositive } from "../particle/ranges.js";

/**
 * zeta(3) = sum 1/n^3, Apery's constant.
 * Source   OEIS A002117; from memory. Checked by checks/chains (30 digits).
 */
export const zetaOfThree = 1.2020569031595942;

/** Equal moments in a straight line: moment of one, distance between centres. */
export interface ChainGeometry {
  readonly moment_A_m2: number;
  readonly spacing_m: number;
}

/**
 * Field of a dipole at a distance, T: on its axis 2 times mu0 m / (4 pi r^3), along m; at its side once, against m.
 * Source   standard (facts C3); derived. Checked by checks/chains.
 */
export function dipoleField_T(moment_A_m2: number, distance_m: number): { onAxis: number; atSide: number } {
  requirePositive(distance_m, "distance_m", "25e-9 (25 nm)");
  const unit = (vacuumPermeability_T_m_per_A * moment_A_m2) / (4 * Math.PI * distance_m ** 3);
  return { onAxis: 2 * unit, atSide: -unit };
}

/**
 * Field, as mu0 H, at one moment of an aligned chain from all the others.
 *   endless: mu0 zeta(3) m / (pi a^3);  `perSide` neighbours on each side: zeta(3) cut after that many terms
 *
 * Valid for   moments along the chain. For touching spheres of magnetisation Ms: 0.200343 mu0 Ms.
 * Source      facts C4; derived
 * Checked by  checks/chains
 */
export function chainField_T(
  { moment_A_m2, spacing_m }: ChainGeometry,
  { perSide = Number.POSITIVE_INFINITY }: { perSide?: number } = {},
): number {
  let sum = Number.isFinite(perSide) ? 0 : zetaOfThree;
  if (Number.isFinite(perSide)) for (let n = perSide; n >= 1; n--) sum += 1 / n ** 3;
  return 2 * dipoleField_T(moment_A_m2, spacing_m).onAxis * sum;
}

/**
 * Dipolar coupling of two neighbours over thermal energy.
 *   lambda = mu0 m^2 / (4 pi a^3 kB T)
 * Head to tail the pair is bound by 2 lambda kB T, twice what lambda alone suggests; side by side by 1 lambda.
 *
 * Source      facts C5 and trap 7; derived
 * Checked by  checks/chains
 */
export function dipolarCoupling({ moment_A_m2, spacing_m }: ChainGeometry, temperature_K: number): number {
  requirePositive(temperature_K, "temperature_K", "300");
  const energy_J = (dipoleField_T(moment_A_m2, spacing_m).onAxis / 2) * moment_A_m2;
  return energy_J / (boltzmannConstant_J_per_K * temperature_K);
}

/**
 * Mean-field coupling of an endless straight chain.
 *   kappa = mu0 m H_chain / (kB T) = 4 zeta(3) lambda
 *
 * Valid for   orders of magnitude only: it ignores nucleation at the ends and fluctuations, and puts thresholds several
 *             times too high (20 nm, 446 kA/m, 4 nm gap: kappa = 29, 41 mT where a few mT are measured). Fit kappa
 *             to a curve instead; the fitted value is an effective parameter, not a geometry.
 * Source      facts C5, C11; derived
 * Checked by  checks/chains
 */
export function geometricCoupling(geometry: ChainGeometry, temperature_K: number): number {
  return 4 * zetaOfThree * dipolarCoupling(geometry, temperature_K);
}
