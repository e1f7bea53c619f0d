import { gaussLegendre } from "../../numerics/index.js";
import { requireBetween } from "../particle/ranges.js";
import { legendreMoments } from "./legendre-moments.js";

/**
 * Equilibrium magnetisation along the field of cores whose easy axes are fixed at one angle to it.
 *   M/Ms = <u.h> under exp(sigma (u.n)^2 + xi u.h)
 *
 * @param xi  m mu0H/(kB T)
 * @param options.barrier  sigma = K V/(kB T); negative: an easy plane
 * @param options.cosAngle  n.h, 1 for axes along the field (the default)
 *
 * Valid for   |xi| up to 500, sigma from -200 to 200; absolute error below 1e-12
 * Source      Boltzmann average; derived
 * Checked by  checks/relaxation (adaptive quadrature with Bessel functions)
 */
export function fixedAxisEquilibrium(
  xi: number,
  { barrier, cosAngle = 1 }: { barrier: number; cosAngle?: number },
): number {
  requireBetween(xi, [-500, 500], { path: "xi", example: "5" });
  requireBetween(barrier, [-200, 200], { path: "barrier", example: "10" });
  requireBetween(cosAngle, [-1, 1], { path: "cosAngle", example: "0.5" });
  const size = Math.abs(xi);
  const sinAngle = Math.sqrt(1 - cosAngle * cosAngle);
  // The integrand is a polynomial of about this degree, to rounding, in both angles.
  const degree = legendreMoments(size + 2 * Math.abs(barrier));
  const { nodes, weights } = gaussLegendre(degree + 16);
  const turns = sinAngle === 0 ? 1 : legendreMoments(size * sinAngle) + 8;
  let sum = 0;
  let along = 0;
  for (let i = 0; i < nodes.length; i++) {
    const x = nodes[i];
    const radius = Math.sqrt(1 - x * x);
    for (let k = 0; k < turns; k++) {
      // Half turn by midpoints: the other half mirrors it.
      const alignment = cosAngle * x + sinAngle * radius * Math.cos((Math.PI * (k + 0.5)) / turns);
      const density = weights[i] * Math.exp(barrier * x * x - Math.max(0, barrier) + size * (alignment - 1));
      sum += density;
      along += density * alignment;
    }
  }
  return xi < 0 ? -along / sum : along / sum;
}

/** The same for axes along the field: the steepest curve that a barrier allows. */
export function parallelAxesEquilibrium(xi: number, barrier: number): number {
  return fixedAxisEquilibrium(xi, { barrier });
}

/**
 * The same, averaged over easy axes in every direction: what an immobilised tracer follows, not the Langevin function.
 *   M/Ms = int_0^1 M_psi/Ms d(cos psi)
 *
 * Valid for   as `fixedAxisEquilibrium`; L(xi) at sigma = 0; at sigma 10, xi 5 it is 0.614 where L is 0.800
 * Source      derived. Checked by checks/relaxation.
 */
export function randomAxesEquilibrium(xi: number, barrier: number): number {
  let before = Number.NaN;
  for (let count = 8; count <= 512; count *= 2) {
    const { nodes, weights } = gaussLegendre(count, { interval: [0, 1] });
    const mean = nodes.reduce(
      (sum, cosAngle, a) => sum + weights[a] * fixedAxisEquilibrium(xi, { barrier, cosAngle }),
      0,
    );
    if (Math.abs(mean - before) <= 1e-12) return mean;
    before = mean;
  }
  return before;
}
