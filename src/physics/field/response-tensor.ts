import { langevinRatio, langevinSlope } from "../particle/langevin.js";
import { average, ensembleNodes, initialSlope_per_T, type ParticleEnsemble } from "../particle/magnetisation.js";

/**
 * Static response tensor of an ensemble: how the magnetisation vector answers a small change of the field vector.
 *   dM_i/dB_j / Ms = D b_i b_j + f (delta_ij - b_i b_j),  b = B/|B|
 *   D = <d^3 x L'(xi)>/<d^3>,  f = <d^3 L(xi)>/(|B| <d^3>),  x = xi/|B|
 * For an ideal gradient, the field at the distance r from the field-free point is B = G r and the tensor is the 3-D point
 * spread function: its long axis follows the *field* G r, not r.
 *
 * @param field_T  mu0H vector, T
 * @returns 1/T, row-major [3, 3], symmetric; multiply by the moment per iron for A.m2/(kg T)
 * Valid for   equilibrium, independent cores
 * Source      Goodwill et al., IEEE TMI 30:1581 (2011), N-D response; from memory (facts M17)
 * Checked by  response-tensor.test.ts (finite differences of M(|B|) B/|B|; widths 4.161 and 9.467)
 */
export function responseTensor_per_T(
  field_T: readonly [number, number, number],
  ensemble: ParticleEnsemble,
): Float64Array {
  const magnitude_T = Math.hypot(...field_T);
  const { xiPerTesla: k, weight } = ensembleNodes(ensemble, 6);
  const scale = 3 * initialSlope_per_T(ensemble);
  const along = scale * average(langevinSlope, magnitude_T, { k, weight });
  const across = scale * average(langevinRatio, magnitude_T, { k, weight });
  const unit = magnitude_T === 0 ? [0, 0, 0] : field_T.map((component) => component / magnitude_T);
  return Float64Array.from({ length: 9 }, (_, index) => {
    const [i, j] = [Math.floor(index / 3), index % 3];
    return (i === j ? across : 0) + (along - across) * unit[i] * unit[j];
  });
}
