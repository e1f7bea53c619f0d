import { ellipseThrough, ruleFor, visitNodes } from "./graded-nodes.js";
import { loopInMeridian, loopPotentialInMeridian } from "./loop-field.js";
import type { MeridianPoint } from "./meridian.js";

/** Cylindrical current sheet about its own axis, 1 A/m around it. */
export interface Sheet {
  readonly radius_m: number;
  readonly halfLength_m: number;
}

/**
 * Field of a cylindrical current sheet (thin solenoid), per mu0·(current per length).
 *   B_z = (1/π)·a/(a + ρ)·[z₊/β₊·cel(kc₊, γ², 1, γ) − z₋/β₋·cel(kc₋, γ², 1, γ)],   γ = (a − ρ)/(a + ρ)
 *   B_ρ = (1/π)·[a/β₊·cel(kc₊, 1, 1, −1) − a/β₋·cel(kc₋, 1, 1, −1)],   z± = z ± h,  β±² = (a + ρ)² + z±²
 *
 * @param out  [B_ρ/ρ, B_z] per mu0·K: 1/m, 1
 *
 * Valid for   everywhere but on the two rims (NaN). On the sheet itself the mean of the two sides. Where the two end terms would
 *             cancel (a few half-lengths away and farther) the loops that make up the sheet are summed instead by a
 *             Gauss rule that is exact to rounding there. Total error about 1e-14 of |B| for lengths up to 20 radii; outside
 *             a sheet of length 2h >> a it grows as 1e-16·(h/a)².
 * Source      Derby & Olbert, American Journal of Physics 78:229 (2010), from memory; first step of cel by hand, derived
 * Checked by  checks/coil-fields (quadrature over the loops), coil-stack-field.test.ts
 */
export function sheetInMeridian(sheet: Sheet, point: MeridianPoint, out: Float64Array): void {
  const { radius_m: a, halfLength_m: h } = sheet;
  const pole = { at: point.z_m, off: Math.abs(a - point.rho_m) };
  const rule = ruleFor(ellipseThrough(pole, -h, h));
  if (rule === undefined) {
    const upper = sheetEnd(a, point.rho_m, point.z_m + h, out);
    const radial = out[0];
    const lower = sheetEnd(a, point.rho_m, point.z_m - h, out);
    out[0] = radial - out[0];
    out[1] = upper - lower;
    return;
  }
  const loopAt = { rho_m: point.rho_m, z_m: 0 };
  let radial = 0;
  let axial = 0;
  for (let i = 0; i < rule.nodes.length; i++) {
    loopAt.z_m = point.z_m - h * rule.nodes[i];
    loopInMeridian(a, loopAt, out);
    radial += h * rule.weights[i] * out[0];
    axial += h * rule.weights[i] * out[1];
  }
  out[0] = radial;
  out[1] = axial;
}

/** The term of one end; returns its B_z and leaves its B_ρ/ρ in out[0]. */
function sheetEnd(a: number, rho: number, z: number, out: Float64Array): number {
  const wide = a + rho;
  const beta2 = wide * wide + z * z;
  const beta = Math.sqrt(beta2);
  const kc = Math.sqrt((a - rho) * (a - rho) + z * z) / beta;
  const gamma = Math.abs(a - rho) / wide;
  if (kc === 0) {
    out[0] = Number.NaN;
    return Number.NaN;
  }
  // (c, s) of B_z with its own root; on the cylinder itself (gamma = 0) cel(kc, 0, 1, 0) = K is the mean of both sides.
  const isOn = gamma === 0;
  let root = isOn ? 1 + kc : kc / gamma + gamma;
  let c = isOn ? 2 : ((rho < a ? 2 : -2) * a) / (wide * gamma);
  let s = isOn
    ? 2 * (1 + kc)
    : rho < a
      ? 2 * (1 + kc / gamma)
      : (8 * a * rho * z * z) / (beta2 * wide * wide * (kc + gamma) * gamma);
  let radialC = 0;
  let radialS = 2;
  let mean = 1 + kc;
  let former = 1;
  let k = kc;
  let product = kc;
  while (Math.abs(former - k) > 2e-8 * former) {
    k = 2 * Math.sqrt(product);
    product = k * mean;
    const ratio = product / root;
    const before = c;
    c += s / root;
    s = 2 * (s + before * ratio);
    root += ratio;
    const radialBefore = radialC;
    radialC += radialS / mean;
    radialS = 2 * (radialS + radialBefore * k);
    former = mean;
    mean += k;
  }
  out[0] = (-a * a * (radialS + radialC * mean)) / (beta2 * beta * (1 + kc) * mean * mean);
  return (0.5 * a * z * (s + c * mean)) / (wide * beta * mean * (mean + root));
}

/**
 * Vector potential of the sheet, per mu0·(current per length): its loops summed, nodes drawn toward the point.
 *
 * @param out  [A_φ/ρ] per mu0·K, dimensionless
 * Valid for   everywhere, rims included (the singularity is a logarithm)
 */
export function sheetPotentialInMeridian(sheet: Sheet, point: MeridianPoint, out: Float64Array): void {
  const { radius_m: a, halfLength_m: h } = sheet;
  const { rho_m, z_m: z } = point;
  const pole = { at: z, off: Math.abs(a - rho_m) };
  const at = { rho_m, z_m: 0 };
  let sum = 0;
  const visit = (height: number, weight: number) => {
    at.z_m = z - height;
    loopPotentialInMeridian(a, at, out);
    // A node can fall onto the loop by rounding; its share is weight·log, below rounding.
    if (Number.isFinite(out[0])) sum += weight * out[0];
  };
  const inside = Math.min(h, Math.max(-h, z));
  visitNodes([-h, inside], pole, visit);
  visitNodes([inside, h], pole, visit);
  out[0] = sum;
}
