import { requireBetween } from "../particle/ranges.js";
import { type CoreResponse, type CoreSizesInChain, emptyResponse, respond } from "./core-response.js";

/** The largest coupling that is accepted; touching 100 nm spheres of magnetite have about 1e4. */
const largestCoupling = 1e8;

/** Refuses anything but a coupling from 0 up: side-by-side (negative) coupling is no chain. */
export function requireCoupling(kappa: number): number {
  return requireBetween(kappa, [0, largestCoupling], { path: "coupling", example: "2 (hysteresis only above 3)" });
}

/**
 * Field xi at which the local field is x: x - kappa F(x).
 * Below x = 1 the difference is taken between 1/3 and F/x, whose digits survive at kappa = 3.
 */
export function appliedXi(x: number, kappa: number, { value, ratioDeficit }: CoreResponse): number {
  return Math.abs(x) < 1 ? x * ((3 - kappa) / 3 + kappa * ratioDeficit) : x - kappa * value;
}

/** d xi / d x = 1 - kappa F'(x): 0 at the ends of the branches. */
export function appliedSlope(kappa: number, { slope, slopeDeficit }: CoreResponse): number {
  return slope > 0.2 ? (3 - kappa) / 3 + kappa * slopeDeficit : 1 - kappa * slope;
}

/**
 * The upper branch as a function of the applied field: returns the local field and leaves the cores' response in `out`.
 * The function remembers its last point: along a curve two Newton steps are enough.
 */
export type UpperBranch = (xi: number, out: CoreResponse) => number;

/**
 * Solver of x - kappa F(x) = xi on the upper branch (for kappa <= 3 the only one, with xi >= 0).
 * The left side is convex there, so that Newton steps from above never pass the root, and the tangent at a neighbouring
 * root is again a point above: no bracket is needed.
 *
 * @param options.least  the spinodal u*, below which no upper state lies; 0 when kappa <= 3
 * Valid for   xi >= 0 when kappa <= 3, xi >= -xi_c otherwise. Within rounding of the spinodal, and of xi = 0 at
 *             kappa = 3, x is as uncertain as the root is flat: sqrt(eps), cube root of xi.
 */
export function upperBranch(kappa: number, { cores, least }: { cores: CoreSizesInChain; least: number }): UpperBranch {
  const response = emptyResponse();
  let [lastXi, lastX, lastSlope] = [0, 0, 0];
  const firstAbove = (xi: number) => {
    const saturated = xi + kappa; // F < 1
    const linear = kappa < 3 ? (3 * xi) / (3 - kappa) : saturated; // F < x/3
    const tangent = lastSlope > 0 ? lastX + (xi - lastXi) / lastSlope : saturated;
    return Math.max(least, Math.min(saturated, linear, tangent));
  };
  return (xi, out) => {
    const x = xi === Number.POSITIVE_INFINITY ? xi : descend(xi, firstAbove(xi), { kappa, cores, least, response });
    respond(x, cores, out);
    [lastXi, lastX, lastSlope] = Number.isFinite(x) ? [xi, x, appliedSlope(kappa, out)] : [0, 0, 0];
    return x;
  };
}

/** Newton steps from a point above the root. */
function descend(
  xi: number,
  first: number,
  { kappa, cores, least, response }: { kappa: number; cores: CoreSizesInChain; least: number; response: CoreResponse },
): number {
  let x = first;
  let before = 0;
  // Steps shrink quadratically, but by halves at the spinodal itself and by thirds at kappa = 3, xi = 0: the limit is
  // for those two (at kappa = 3 it leaves x = 1e-35 instead of 0).
  for (let count = 0; count < 200; count++) {
    respond(x, cores, response);
    const slope = appliedSlope(kappa, response);
    const excess = appliedXi(x, kappa, response) - xi;
    if (!(excess > 0 && slope > 0)) return x;
    const step = Math.min(excess / slope, x - least);
    x -= step;
    // The next step would be this one times its ratio to the one before, or less.
    if (step * (step < before ? step / before : 1) <= Number.EPSILON * x) return x;
    before = step;
  }
  return x;
}
