import { findRoot } from "../../numerics/index.js";
import { relativeMagnetisation } from "../particle/magnetisation.js";
import { staticWidth_T } from "../particle/point-spread.js";
import { parallelAxesEquilibrium, randomAxesEquilibrium } from "../relaxation/fixed-axes-equilibrium.js";
import { barrierRatio } from "../relaxation/relaxation-times.js";
import { coreNodes, type DrivenTracer, type NeelRelaxation } from "./response-parts.js";

/**
 * Equilibrium curve of a tracer without coupling: the Langevin average, or that of axes that cannot turn.
 *   fixed axes: M/Ms = sum_j w_j m(k_j B, sigma_j), sigma = K V/(kB T); not the Langevin curve (definitions, surprise 7)
 *
 * @param field_T  mu0H along the drive, T, [n]
 * @returns M/Ms, [n]
 * Source      fixed-axes-equilibrium.ts. Checked by tracer-equilibrium.test.ts
 */
export function equilibriumMagnetisation(
  field_T: Float64Array,
  { ensemble, relaxation }: Pick<DrivenTracer, "ensemble" | "relaxation">,
): Float64Array {
  if (relaxation.kind !== "neel") return relativeMagnetisation(field_T, ensemble);
  const at = fixedAxesCurve(ensemble, relaxation);
  return field_T.map(at);
}

/**
 * Width of the static point spread function, T: full width at half maximum of the slope of the equilibrium curve.
 * Fixed axes along the field make it narrower than that of free ones, random ones also; it is a lower bound only for the axes
 * that the tracer states.
 *
 * Source      as `staticWidth_T`; fixed axes: slope by central differences of the curve
 * Checked by  tracer-equilibrium.test.ts (two states far apart: tanh; no anisotropy: 4.161048 kB T/m)
 */
export function equilibriumWidth_T({ ensemble, relaxation }: Pick<DrivenTracer, "ensemble" | "relaxation">): number {
  if (relaxation.kind !== "neel") return staticWidth_T(ensemble);
  const at = fixedAxesCurve(ensemble, relaxation);
  const scale_T = staticWidth_T(ensemble);
  const h = 1e-3 * scale_T;
  const slope = (field: number) => at(field + h) - at(field - h);
  const half = slope(0) / 2;
  let high = scale_T / 4;
  while (slope(high) > half) high *= 2;
  return 2 * findRoot((field) => slope(field) - half, [0, high]).root;
}

function fixedAxesCurve(ensemble: DrivenTracer["ensemble"], { anisotropy_J_per_m3, easyAxes }: NeelRelaxation) {
  const curve = easyAxes === "parallel" ? parallelAxesEquilibrium : randomAxesEquilibrium;
  const nodes = coreNodes(ensemble, 12).map((node) => ({
    ...node,
    barrier: barrierRatio(node.diameter_m, anisotropy_J_per_m3, ensemble.temperature_K),
  }));
  return (field_T: number): number =>
    nodes.reduce((sum, { weight, xiPerTesla, barrier }) => sum + weight * curve(xiPerTesla * field_T, barrier), 0);
}
