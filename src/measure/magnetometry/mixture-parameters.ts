import type { LeastSquaresResult } from "../../numerics/index.js";
import type { FittedParameters } from "./fit-report.js";
import { outerNames } from "./mixture-model.js";

/**
 * From the inner parameters [S_1, d_1, s_1, S_2, ..., chi] to the reported ones [S, d_1, s_1, w_2, d_2, s_2, ..., chi],
 * populations in order of their medians:
 *   S = sum_k S_k,  w_k = S_k / S,  C' = T C T'
 * The covariance of parameters without one (NaN) stays NaN; a share at its bound is exact for the others.
 *
 * Source      JCGM 100:2008 (facts Q1), for the covariance
 * Checked by  mixture-fit.test.ts
 */
export function orderedParameters(fit: LeastSquaresResult, unit: string): FittedParameters {
  const populations = (fit.parameters.length - 1) / 3;
  const order = Array.from({ length: populations }, (_, k) => k).sort(
    (a, b) => fit.parameters[3 * a + 1] - fit.parameters[3 * b + 1],
  );
  const p = fit.parameters.length;
  const amplitudes = order.map((k) => fit.parameters[3 * k]);
  const total = amplitudes.reduce((sum, value) => sum + value, 0);
  // rows of T over the inner parameters
  const rows: { value: number; unit: string; atBound: boolean; row: Float64Array }[] = [];
  const add = (value: number, unitOf: string, atBound: boolean, entries: readonly (readonly [number, number])[]) => {
    const row = new Float64Array(p);
    for (const [j, derivative] of entries) row[j] = derivative;
    rows.push({ value, unit: unitOf, atBound, row });
  };
  add(
    total,
    unit,
    total === 0,
    order.map((k) => [3 * k, 1]),
  );
  for (const [place, k] of order.entries()) {
    const share = amplitudes[place] / total;
    if (place > 0) {
      const isOut = fit.atBound[3 * k] || order.every((other) => other === k || fit.atBound[3 * other]);
      add(
        share,
        "1",
        isOut,
        order.map((other) => [3 * other, ((other === k ? 1 : 0) - share) / total]),
      );
    }
    add(fit.parameters[3 * k + 1], "m", fit.atBound[3 * k + 1], [[3 * k + 1, 1]]);
    add(fit.parameters[3 * k + 2], "1", fit.atBound[3 * k + 2], [[3 * k + 2, 1]]);
  }
  add(fit.parameters[p - 1], `${unit}/T`, fit.atBound[p - 1], [[p - 1, 1]]);
  return {
    names: outerNames(populations),
    values: rows.map(({ value }) => value),
    units: rows.map((each) => each.unit),
    atBound: rows.map(({ atBound }) => atBound),
    covariance: transformed(fit, rows),
  };
}

function transformed(
  { covariance, atBound }: LeastSquaresResult,
  rows: readonly { readonly row: Float64Array; readonly atBound: boolean }[],
): Float64Array {
  const p = rows.length;
  const out = new Float64Array(p * p);
  // An amplitude at 0 is held: it adds nothing to the variance of the total.
  const entry = (i: number, j: number) =>
    (i % 3 === 0 && i < p - 1 && atBound[i]) || (j % 3 === 0 && j < p - 1 && atBound[j]) ? 0 : covariance[i * p + j];
  for (let a = 0; a < p; a++)
    for (let b = 0; b < p; b++) {
      let sum = rows[a].atBound || rows[b].atBound ? Number.NaN : 0;
      for (let i = 0; i < p; i++)
        for (let j = 0; j < p; j++)
          if (rows[a].row[i] !== 0 && rows[b].row[j] !== 0) sum += rows[a].row[i] * rows[b].row[j] * entry(i, j);
      out[a * p + b] = sum;
    }
  return out;
}
