import { vacuumPermeability_T_m_per_A } from "../../units/index.js";
import type { Emitter, PointsAdder } from "./emitter.js";
import { type MeridianPoint, potentialAbout } from "./meridian.js";
import type { LoopSource } from "./source.js";

/**
 * Field of a circular filament of radius a, per mu0·I, 1/m.
 *   B_ρ = a·z/(π·β³)·cel(kc, kc², −1, 1),   B_z = a/(π·β³)·cel(kc, kc², a + ρ, a − ρ)
 *   α² = (a − ρ)² + z²,  β² = (a + ρ)² + z²,  kc = α/β
 *
 * @param radius_m  a
 * @param point  ρ and z; ρ >= 0
 * @param out  [B_ρ/ρ, B_z] per mu0·I: 1/m², 1/m
 *
 * Valid for   everywhere but on the filament, where it gives NaN (the potential: Infinity). Total error a few 1e-16 of |B|, on the
 *             axis, beside the wire and far away alike.
 *             The textbook form (K and E) loses all digits there: facts L3, trap 8. Here the first step of cel is done by
 *             hand, so that what cancels does so in algebra: −1 + 1/kc² = 4aρ/α², and a − ρ + (a + ρ)·kc through
 *             (αβ)² − s² = (2ρz)² with s = a² − ρ² + z². After that step p = kc² and the mean run together;
 *             the last step of the mean is taken by its series.
 * Source      integrals of Biot and Savart over the angle, derived; equals Simpson, Lane, Immer & Youngquist, NASA 2001
 *             (facts L2); cel of Bulirsch 1969
 * Checked by  checks/coil-fields (40-digit Biot-Savart sums, facts W34-W36), loop-field.test.ts
 */
export function loopInMeridian(radius_m: number, { rho_m: rho, z_m: z }: MeridianPoint, out: Float64Array): void {
  const a = radius_m;
  const alpha2 = (a - rho) * (a - rho) + z * z;
  const beta2 = (a + rho) * (a + rho) + z * z;
  const beta = Math.sqrt(beta2);
  let k = Math.sqrt(alpha2) / beta;
  let gap = 1 - k;
  let mean = 1 + k;
  let axialC = (a - rho) * (a + rho) + z * z;
  let radialC = 1;
  let radialS = (2 * k) / mean;
  let axialS = radialS * sumOfRoots(axialC, k * beta2, z * rho);
  while (gap > 4e-4 * mean && k > 0) {
    k = 2 * Math.sqrt(k * (mean - k));
    const axialBefore = axialC;
    const radialBefore = radialC;
    axialC += axialS / mean;
    radialC += radialS / mean;
    axialS = 2 * (axialS + axialBefore * k);
    radialS = 2 * (radialS + radialBefore * k);
    gap = mean - k;
    mean += k;
  }
  // The last step by its series: k = mean·(1 − q), q = ε²/2 + ε⁴/8, ε = gap/mean; what is left out is ε⁴/32 < 1e-15.
  const square = (gap * gap) / (mean * mean);
  const q = square * (0.5 + 0.125 * square);
  const inverse = a / (mean * (2 - q));
  const factor = (inverse * inverse) / (beta2 * beta * alpha2);
  out[0] = factor * z * lastStep(radialS, radialC * mean, q);
  out[1] = 0.5 * factor * lastStep(axialS, axialC * mean, q);
}

/** αβ + s, where s may be near −αβ: by (αβ)² − s² = (2ρz)². */
function sumOfRoots(s: number, alphaBeta: number, product: number): number {
  return s >= 0 ? alphaBeta + s : (4 * product * product) / (alphaBeta - s);
}

function lastStep(s: number, cMean: number, q: number): number {
  return s * (4 - q) + cMean * (4 - 3 * q);
}

/**
 * Vector potential of a circular filament, per mu0·I.
 *   A_φ = a/(π·β)·cel(kc, 1, −1, 1), the first step by hand: 1 − kc = 4aρ/(β²·(1 + kc))
 *
 * @param out  [A_φ/ρ] per mu0·I, 1/m
 *
 * Valid for, Source, Checked by   as `loopInMeridian`
 */
export function loopPotentialInMeridian(
  radius_m: number,
  { rho_m: rho, z_m: z }: MeridianPoint,
  out: Float64Array,
): void {
  const a = radius_m;
  const beta2 = (a + rho) * (a + rho) + z * z;
  const beta = Math.sqrt(beta2);
  const kc = Math.hypot(a - rho, z) / beta;
  if (kc === 0) {
    out[0] = Number.POSITIVE_INFINITY;
    return;
  }
  let c = 0;
  let s = 2;
  let mean = 1 + kc;
  let former = 1;
  let k = kc;
  let product = kc;
  while (Math.abs(former - k) > 2e-8 * former) {
    k = 2 * Math.sqrt(product);
    product = k * mean;
    const before = c;
    c += s / mean;
    s = 2 * (s + before * k);
    former = mean;
    mean += k;
  }
  out[0] = ((a * a) / (beta2 * beta * (1 + kc))) * ((s + c * mean) / (mean * mean));
}

export function loopEmitter(source: LoopSource): Emitter {
  const add = loopAdder(source);
  return (x, y, z, sum) => add([x, y, z], sum);
}

/**
 * Adds a loop's field at many points to `sum`, both [n, 3]: as `fieldAbout`, in one loop so that a map of a scanner with
 * hundreds of loops is fast (bench, loop-field-slice).
 */
export function loopAdder({ center_m, normal, radius_m, current_A }: LoopSource): PointsAdder {
  const strength = vacuumPermeability_T_m_per_A * current_A;
  const [cx, cy, cz] = center_m;
  const [nx, ny, nz] = normal;
  const at = { rho_m: 0, z_m: 0 };
  const out = new Float64Array(2);
  return (points_m, sum) => {
    for (let i = 0; i < points_m.length; i += 3) {
      const dx = points_m[i] - cx;
      const dy = points_m[i + 1] - cy;
      const dz = points_m[i + 2] - cz;
      const height = dx * nx + dy * ny + dz * nz;
      const px = dx - height * nx;
      const py = dy - height * ny;
      const pz = dz - height * nz;
      at.rho_m = Math.sqrt(px * px + py * py + pz * pz);
      at.z_m = height;
      loopInMeridian(radius_m, at, out);
      const across = strength * out[0];
      const axial = strength * out[1];
      sum[i] += across * px + axial * nx;
      sum[i + 1] += across * py + axial * ny;
      sum[i + 2] += across * pz + axial * nz;
    }
  };
}

export function loopPotentialEmitter(source: LoopSource): Emitter {
  const strength = vacuumPermeability_T_m_per_A * source.current_A;
  return potentialAbout(source, (point, out) => {
    loopPotentialInMeridian(source.radius_m, point, out);
    out[0] *= strength;
  });
}
