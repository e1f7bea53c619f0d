import { type LinearOperator, requireFits, type Space } from "./operator.js";

/**
 * Multiplication by a weight for each element. Here `out` may be the input.
 *
 * @param weights  fills the space
 * @param space  domain
 * @param options.unit  unit of the range; default that of the domain
 */
export function diagonal(
  weights: Float64Array,
  space: Space,
  { unit = space.unit }: { unit?: string } = {},
): LinearOperator {
  requireFits(weights, space, "weights");
  const range = { shape: space.shape, unit };
  const apply = (from: Space) => (x: Float64Array, out?: Float64Array) => {
    requireFits(x, from, "diagonal");
    const result = out ?? new Float64Array(x.length);
    for (let i = 0; i < x.length; i++) result[i] = weights[i] * x[i];
    return result;
  };
  return { name: "diagonal", domain: space, range, forward: apply(space), adjoint: apply(range) };
}
