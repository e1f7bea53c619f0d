import { type LinearOperator, requireFits, type Space, sizeOf } from "./operator.js";

/**
 * A matrix as an operator: y = A·x.
 *
 * @param matrix  row-major, shape [size of range, size of domain]; kept, not copied
 */
export function denseOperator(
  matrix: Float64Array,
  { name = "matrix", domain, range }: { name?: string; domain: Space; range: Space },
): LinearOperator {
  const rows = sizeOf(range);
  const columns = sizeOf(domain);
  requireFits(matrix, { shape: [rows, columns], unit: "matrix elements" }, name);
  return {
    name,
    domain,
    range,
    forward(x, out = new Float64Array(rows)) {
      requireFits(x, domain, name);
      for (let i = 0, k = 0; i < rows; i++) {
        let sum = 0;
        for (let j = 0; j < columns; j++, k++) sum += matrix[k] * x[j];
        out[i] = sum;
      }
      return out;
    },
    adjoint(y, out = new Float64Array(columns)) {
      requireFits(y, range, name);
      out.fill(0);
      for (let i = 0, k = 0; i < rows; i++) {
        const value = y[i];
        for (let j = 0; j < columns; j++, k++) out[j] = out[j] + matrix[k] * value;
      }
      return out;
    },
  };
}
