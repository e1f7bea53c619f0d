import { vacuumPermeability_T_m_per_A as mu0 } from "../../units/index.js";
import { loopFluxTwiceOverLength_H_m2 } from "./loop-flux.js";

/**
 * Self inductance of a ring of round section, one turn, H; times turns² for a bundle.
 *   L = μ0·a·[(1 + r²/8a²)·ln(8a/r) + r²/24a² − 2 + Y/2],  Y = 1/2 for a uniform current
 *
 * @param options.internalRatio  inductance inside the wire over its direct-current value: 1 for a bundle of turns and
 *   for direct current, see `skinEffect` for a single solid wire; 0 is a current on the skin
 *
 * Valid for   r well below a: the next term is of the order (r/a)⁴. Relative error against the exact ring of uniform
 *             current density 3e-10 at r/a = 0.02, 2e-7 at 0.1, 3e-6 at 0.2. A solid turn carries more current inside,
 *             which is of the order (r/a)².
 * Source      Rayleigh & Niven (1881) as quoted by Rosa & Grover (from memory)
 * Checked by  checks/coil-engineering (double area integral of Maxwell's loops)
 */
export function ringInductance_H(
  radius_m: number,
  wireRadius_m: number,
  { internalRatio = 1 }: { internalRatio?: number } = {},
): number {
  const q2 = (wireRadius_m / radius_m) ** 2;
  const ln = Math.log((8 * radius_m) / wireRadius_m);
  return mu0 * radius_m * ((1 + q2 / 8) * ln + q2 / 24 - 2 + internalRatio / 4);
}

/**
 * Self inductance of a rectangle of round wire, one turn, H; times turns² for a bundle.
 *   L = (μ0/π)·[a·ln(2a/r) + b·ln(2b/r) − a·asinh(a/b) − b·asinh(b/a) + 2·√(a² + b²) − (a + b)·(2 − Y/2)]
 *
 * @param size_m  the two edges a and b, between wire middles
 * @param options.internalRatio  see `ringInductance_H`
 *
 * Valid for   r well below the edges: exact as r goes to 0; bends of finite width leave a relative error of the order
 *             r/edge (1e-4 at 1e-3, from straight wires that meet at their middles)
 * Source      Grover, Inductance Calculations, ch. 8 (from memory); rederived from Neumann's integral
 * Checked by  checks/coil-engineering (Neumann's integral with the mean distance of a round section)
 */
export function rectangleInductance_H(
  [a, b]: readonly [number, number],
  wireRadius_m: number,
  { internalRatio = 1 }: { internalRatio?: number } = {},
): number {
  const logs = a * Math.log((2 * a) / wireRadius_m) + b * Math.log((2 * b) / wireRadius_m);
  const across = a * Math.asinh(a / b) + b * Math.asinh(b / a);
  return (mu0 / Math.PI) * (logs - across + 2 * Math.hypot(a, b) - (a + b) * (2 - internalRatio / 4));
}

/**
 * Self inductance of a thin cylindrical sheet, one turn spread over its length, H (Lorenz).
 *   L = 2·(W(l) − W(0))/l²,  W the second integral of Maxwell's loops;  l below 1e-3 of the radius:
 *   L = μ0·a·[ln(8a/l) − 1/2 + (l²/32a²)·(ln(8a/l) + 1/4)]
 *
 * Valid for   every length; relative error 1e-10
 * Source      Lorenz (1879), Rayleigh & Niven (1881) for short sheets; from memory
 * Checked by  checks/coil-engineering (Lorenz's form in mpmath; Nagaoka's table)
 */
export function sheetInductance_H(radius_m: number, length_m: number): number {
  if (length_m < 1e-3 * radius_m) {
    const ln = Math.log((8 * radius_m) / length_m);
    return mu0 * radius_m * (ln - 0.5 + (length_m ** 2 / (32 * radius_m ** 2)) * (ln + 0.25));
  }
  const w = (z_m: number) => loopFluxTwiceOverLength_H_m2(radius_m, radius_m, z_m);
  return (2 * (w(length_m) - w(0))) / length_m ** 2;
}

/**
 * Nagaoka's coefficient: inductance of a sheet over that of an endless one of equal turns per length.
 *   K = L·l/(μ0·π·a²)
 *
 * Checked by  checks/coil-engineering (published table, from memory)
 */
export function nagaokaCoefficient(radius_m: number, length_m: number): number {
  return (sheetInductance_H(radius_m, length_m) * length_m) / (mu0 * Math.PI * radius_m ** 2);
}
