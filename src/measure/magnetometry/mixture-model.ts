import type { FieldGrid } from "./field-grid.js";
import { logNormalAverage } from "./log-normal-average.js";
import { type CoreConditions, diameterBounds_m, logSdBounds } from "./log-normal-model.js";

/**
 * Magnetisation of several independent log-normal populations with a linear background, and its derivatives.
 *   M(B) = sum_k S_k m_k(B) + chi B,  m_k as `logNormalAverage`
 *
 * Inside the fit the amplitudes S_k are the parameters (a population that is not there sits at its bound S_k = 0):
 * [S_1, d_1, s_1, S_2, d_2, s_2, ..., chi]. Outside they are reported as one saturation and volume shares S_k / S.
 *
 * Source      sum of independent cores; derived
 * Checked by  checks/tracer-fit (scipy)
 */
export function mixtureProblem(field_T: Float64Array, conditions: CoreConditions & { readonly grid?: FieldGrid }) {
  const populationsAt = (parameters: Float64Array) =>
    Array.from({ length: (parameters.length - 1) / 3 }, (_, k) => ({
      amplitude: parameters[3 * k],
      medianDiameter_m: parameters[3 * k + 1],
      logSd: parameters[3 * k + 2],
    }));
  // The solver asks for the derivatives at the point whose value it has just asked for: one pass serves both.
  let last: { key: Float64Array; curves: ReturnType<typeof logNormalAverage>[] } | undefined;
  const curvesAt = (parameters: Float64Array) => {
    if (last?.key.length === parameters.length && last.key.every((value, j) => value === parameters[j]))
      return last.curves;
    const curves = populationsAt(parameters).map((population) => logNormalAverage(field_T, population, conditions));
    last = { key: Float64Array.from(parameters), curves };
    return curves;
  };
  return {
    model(parameters: Float64Array, out: Float64Array): Float64Array {
      const chi = parameters[parameters.length - 1];
      for (let i = 0; i < out.length; i++) out[i] = chi * field_T[i];
      for (const [k, { value }] of curvesAt(parameters).entries())
        for (let i = 0; i < out.length; i++) out[i] += parameters[3 * k] * value[i];
      return out;
    },
    jacobian(parameters: Float64Array, out: Float64Array): void {
      const p = parameters.length;
      for (let i = 0; i < field_T.length; i++) out[i * p + p - 1] = field_T[i];
      for (const [k, curve] of curvesAt(parameters).entries()) {
        const [amplitude, median] = [parameters[3 * k], parameters[3 * k + 1]];
        for (let i = 0; i < field_T.length; i++) {
          const row = i * p + 3 * k;
          out[row] = curve.value[i];
          out[row + 1] = (amplitude / median) * curve.perLogMedian[i];
          out[row + 2] = amplitude * curve.perLogSd[i];
        }
      }
    },
  };
}

/** Bounds of the inner parameters for so many populations. */
export function mixtureBounds(populations: number, slope: { readonly minimum: number; readonly maximum: number }) {
  const each = (values: readonly number[]) => Array.from({ length: populations }, () => values).flat();
  return {
    lower: [...each([0, diameterBounds_m.lower, logSdBounds.lower]), slope.minimum],
    upper: [...each([Number.POSITIVE_INFINITY, diameterBounds_m.upper, logSdBounds.upper]), slope.maximum],
  };
}

const suffix = (k: number): string => (k === 0 ? "" : `-${k + 1}`);

/** Names of the inner parameters. */
export function innerNames(populations: number): string[] {
  const each = Array.from({ length: populations }, (_, k) =>
    ["saturation", "median-diameter", "log-sd"].map((name) => `${name}${suffix(k)}`),
  );
  return [...each.flat(), "background-slope"];
}

/** Names of the reported parameters: one saturation, then each population, with the share of all but the first. */
export function outerNames(populations: number): string[] {
  const each = Array.from({ length: populations }, (_, k) => [
    ...(k === 0 ? [] : [`share${suffix(k)}`]),
    `median-diameter${suffix(k)}`,
    `log-sd${suffix(k)}`,
  ]);
  return ["saturation", ...each.flat(), "background-slope"];
}
