import { type CoreSizes, sizeNodes, xiPerTesla } from "../../physics/index.js";
import type { PreparedResponse } from "./response-table.js";

/** Lowest ln xi that is looked up: below, a core's moment follows the field linearly and its share is nothing. */
const lowestLogXi = Math.log(1e-3);

/**
 * Harmonics of an ensemble, relative to its saturated moment.
 *   h_k = sum_j w_j m_k(xi_j, w tau),  xi_j = k(d_j) A, w_j by core volume
 *   with one Debye time: each h_k divided by 1 + i k w tau
 *
 * @param response  of one size; prepared here for the sizes that occur
 * @param options.logOmegaTau  of the Brownian time common to all cores; ignored by a response without relaxation
 * @param options.debyeOmegaTau  0 for none
 * @returns interleaved re, im, [2K]
 *
 * Valid for   independent cores; a Debye time is a linear filter of the equilibrium signal, which at large drive is not what
 *             rotating particles do (21 % low in the fundamental at xi 5, w tau 1)
 * Source      facts R3, R15; derived
 * Checked by  checks/tracer-fit (scipy), harmonic-response.test.ts
 */
export function ensembleHarmonics(
  { sizes, saturation_A_per_m, temperature_K }: { sizes: CoreSizes; saturation_A_per_m: number; temperature_K: number },
  response: PreparedResponse,
  {
    driveAmplitude_T,
    harmonic,
    logOmegaTau = 0,
    debyeOmegaTau = 0,
    out = new Float64Array(2 * harmonic.length),
  }: {
    readonly driveAmplitude_T: number;
    readonly harmonic: ArrayLike<number>;
    readonly logOmegaTau?: number;
    readonly debyeOmegaTau?: number;
    readonly out?: Float64Array;
  },
): Float64Array {
  const { diameter_m, weight } = sizeNodes(sizes, { order: 3 });
  const logXi = diameter_m.map((d) =>
    Math.min(
      Math.log(response.largestXi),
      Math.max(lowestLogXi, Math.log(driveAmplitude_T * xiPerTesla(d, saturation_A_per_m, temperature_K))),
    ),
  );
  // Sizes in the far tails weigh less than rounding, but the last ones would need the dearest solutions.
  const heaviest = weight.reduce((a, b) => Math.max(a, b));
  const matters = (j: number) => weight[j] > 1e-9 * heaviest;
  const used = Array.from(weight.keys()).filter(matters);
  response.prepare(Math.min(...used.map((j) => logXi[j])), Math.max(...used.map((j) => logXi[j])), logOmegaTau);
  const single = new Float64Array(out.length);
  out.fill(0);
  for (const j of used) {
    response.at(logXi[j], logOmegaTau, single);
    for (let k = 0; k < out.length; k++) out[k] += weight[j] * single[k];
  }
  if (debyeOmegaTau > 0) applyDebye(out, harmonic, debyeOmegaTau);
  return out;
}

/** Divides harmonic k by 1 + i k w tau, in place. */
function applyDebye(spectrum: Float64Array, harmonic: ArrayLike<number>, omegaTau: number): void {
  for (let k = 0; k < harmonic.length; k++) {
    const x = harmonic[k] * omegaTau;
    const inPhase = 1 / (1 + x * x);
    const [re, im] = [spectrum[2 * k], spectrum[2 * k + 1]];
    spectrum[2 * k] = inPhase * (re + x * im);
    spectrum[2 * k + 1] = inPhase * (im - x * re);
  }
}
