import { cel } from "../../numerics/index.js";
import { vacuumPermeability_T_m_per_A as mu0 } from "../../units/index.js";

/**
 * Mutual inductance of two coaxial filament loops, H.
 *   M = μ0·r1·r2·∫₀^π cos φ/√(R² + z²) dφ,  R² = r1² + r2² − 2·r1·r2·cos φ
 *     = 2·μ0·√(r1·r2)·k^(3/2)·∫₀^{π/2} sin²θ/√(1 − k²·sin²θ) dθ,  k = (1 − k')/(1 + k'),
 *   k'² = ((r1 − r2)² + z²)/((r1 + r2)² + z²)
 * The second form (Landen's transformation of Maxwell's) loses no figures at any distance.
 *
 * @param z_m  distance along the axis, of either sign
 *
 * Valid for   r1, r2 > 0, not both z = 0 and r1 = r2 (infinite there); relative error 1e-14
 * Source      Maxwell, Treatise, art. 701 (from memory); form derived
 * Checked by  checks/coil-engineering (mpmath elliptic integrals, 30 digits)
 */
export function loopFlux_H(r1_m: number, r2_m: number, z_m: number): number {
  const far2 = (r1_m + r2_m) ** 2 + z_m * z_m;
  const kc = Math.sqrt(((r1_m - r2_m) ** 2 + z_m * z_m) / far2);
  const k = (4 * r1_m * r2_m) / (far2 * (1 + kc) ** 2);
  const integral = cel((2 * Math.sqrt(kc)) / (1 + kc), 1, [0, 1]);
  return 2 * mu0 * Math.sqrt(r1_m * r2_m) * k ** 1.5 * integral;
}

/**
 * First integral of `loopFlux_H` over z from 0, H m: flux of a sheet through a loop.
 *   ∫₀^z M = μ0·r1²·r2²·z·∫₀^π sin²φ/(R²·√(R² + z²)) dφ
 *
 * Valid for   r1, r2 > 0, r1 = r2 included; relative error 1e-13 for radii within a factor of 10
 * Source      derived (by parts over φ); Π by Bulirsch's cel
 * Checked by  checks/coil-engineering
 */
export function loopFluxOverLength_H_m(r1_m: number, r2_m: number, z_m: number): number {
  const { sum2, far, kc, p } = anglesOf(r1_m, r2_m, z_m);
  return (8 * mu0 * (r1_m * r2_m) ** 2 * z_m * sineCosineOverGap(kc, p)) / (sum2 * far);
}

/**
 * Second integral of `loopFlux_H` over z, even in z, H m²: differences of it are the flux between two sheets.
 *   W(z) = μ0·r1²·r2²·∫₀^π sin²φ·√(R² + z²)/R² dφ,  W'' = M
 *
 * Valid for   r1, r2 > 0, r1 = r2 and z = 0 included; relative error 1e-13 for radii within a factor of 10
 * Source      derived (by parts over φ); Π by Bulirsch's cel
 * Checked by  checks/coil-engineering
 */
export function loopFluxTwiceOverLength_H_m2(r1_m: number, r2_m: number, z_m: number): number {
  const { sum2, far, kc, p } = anglesOf(r1_m, r2_m, z_m);
  // kc = 0, equal radii in one plane: ∫ cos θ dθ = 1.
  const plain = kc === 0 ? 1 / 3 : cel(kc, 1, [1, -kc * kc]) / (3 * (1 - kc * kc));
  const overGap = z_m === 0 ? 0 : ((z_m * z_m) / sum2) * sineCosineOverGap(kc, p);
  return ((8 * mu0 * (r1_m * r2_m) ** 2) / far) * (plain + overGap);
}

/** With φ = π − 2θ: R² = (r1 + r2)²·(cos²θ + p·sin²θ), R² + z² = far²·(cos²θ + kc²·sin²θ). */
function anglesOf(r1: number, r2: number, z: number) {
  const sum2 = (r1 + r2) ** 2;
  const gap2 = (r1 - r2) ** 2;
  const far2 = sum2 + z * z;
  return { sum2, far: Math.sqrt(far2), kc: Math.sqrt((gap2 + z * z) / far2), p: gap2 / sum2 };
}

/** ∫₀^{π/2} sin²·cos²/((cos² + p·sin²)·√(cos² + kc²·sin²)) dθ, by partial fractions in cos² + p·sin². */
function sineCosineOverGap(kc: number, p: number): number {
  const gapPart = p > 0 ? p * cel(kc, p, [1, 1]) : 0;
  return (cel(kc, 1, [p, 1]) - gapPart) / (1 - p) ** 2;
}
