/** A Halbach ring as its centre sees it. */
export interface HalbachDimensions {
  readonly remanence_T: number;
  readonly innerRadius_m: number;
  readonly outerRadius_m: number;
  /** Infinity (default): a long ring. */
  readonly length_m?: number;
  /** Equal sectors of uniform magnetisation; Infinity (default): magnetisation that turns continuously. */
  readonly segments?: number;
}

/**
 * Field at the centre of a Halbach dipole ring, along its `fieldAngle_rad`.
 *   B = Br·[asinh(h/r) + h/(2·√(r² + h²))] from Ro to Ri,   h = L/2;  Br·ln(Ro/Ri) for h → ∞
 * times sin(x)/x with x = 2π/N for N sectors.
 *
 * @returns B, T
 * Valid for   N >= 4, exact at the centre (relative permeability 1, rigid magnetisation)
 * Source      facts L8 and L10 (public repository texts, secondary), the integral done in closed form; segments: trap 13
 * Checked by  checks/coil-fields (facts W38), halbach.test.ts (sectors, adaptive quadrature of L10)
 */
export function halbachField_T(ring: HalbachDimensions): number {
  const { remanence_T, innerRadius_m: inner, outerRadius_m: outer, length_m = Number.POSITIVE_INFINITY } = ring;
  const segmentation = sinc((2 * Math.PI) / (ring.segments ?? Number.POSITIVE_INFINITY));
  if (length_m === Number.POSITIVE_INFINITY) return remanence_T * Math.log(outer / inner) * segmentation;
  const h = length_m / 2;
  const part = (r: number) => Math.asinh(h / r) + h / (2 * Math.hypot(r, h));
  return remanence_T * (part(inner) - part(outer)) * segmentation;
}

/**
 * Gradient at the centre of a Halbach quadrupole ring: +G along its `fieldAngle_rad`, −G across it, 0 along the axis.
 *   G = (Br/h)·[−2/σ + σ + σ³/4] from Ri to Ro,   σ = r/√(r² + h²), h = L/2;  2·Br·(1/Ri − 1/Ro) for h → ∞
 * times sin(x)/x with x = 3π/N for N sectors.
 *
 * @returns G, T/m
 * Valid for   N >= 5, exact at the centre
 * Source      facts L9 (Halbach, NIM 169:1 (1980), from memory); finite length from G = (15/8)·Br·∫∫ r⁴/R⁷ dr dz, derived
 * Checked by  halbach.test.ts (sectors; adaptive quadrature of the double integral), checks/coil-fields
 */
export function halbachGradient_T_per_m(ring: HalbachDimensions): number {
  const { remanence_T, innerRadius_m: inner, outerRadius_m: outer, length_m = Number.POSITIVE_INFINITY } = ring;
  const segmentation = sinc((3 * Math.PI) / (ring.segments ?? Number.POSITIVE_INFINITY));
  if (length_m === Number.POSITIVE_INFINITY) return 2 * remanence_T * (1 / inner - 1 / outer) * segmentation;
  const h = length_m / 2;
  const part = (r: number) => {
    const sine = r / Math.hypot(r, h);
    return -2 / sine + sine + sine ** 3 / 4;
  };
  return (remanence_T / h) * (part(outer) - part(inner)) * segmentation;
}

function sinc(x: number): number {
  return x === 0 ? 1 : Math.sin(x) / x;
}
