import { FerruleError } from "../../errors.js";

/** Equilibrium moment per kilogram of iron along the field, and its slope, at a field magnitude in tesla. */
export type MomentCurve = (field_T: number) => { moment_A_m2_per_kg: number; slope_A_m2_per_kg_T: number };

/**
 * Static (adiabatic) vector response of a tracer, tabulated so that a forward model can ask for it 1e8 times.
 *
 *   m(B) = f(b) B,  f(b) = M(b)/b,  b = |B|
 *   dm_i/dB_j = f δij + (D(b) − f(b)) B_i B_j / b²,  D = dM/db
 *
 * The tangential part D and the normal part f are the two envelopes of the N-D point spread function (facts M17).
 * Each is a cubic Hermite interpolant on a uniform grid of b. Cells hold eight coefficients: f0..f3, D0..D3.
 *
 * Units       f, D in A·m²/(kg·T), b in T
 * Valid for   0 ≤ b ≤ maximumField_T; beyond, the saturated tail f = M_max/b, D = 0 (used outside every field of view)
 * Source      Goodwill et al., IEEE TMI 30:1581 (2011), tensor response (from memory)
 * Checked by  static-response.test.ts (against the curve itself between nodes)
 */
export interface StaticResponse {
  readonly maximumField_T: number;
  readonly cells: number;
  readonly cellsPerTesla: number;
  /** [cells × 8] polynomial coefficients in the fraction of the cell, lowest power first. */
  readonly coefficients: Float64Array;
  /** Moment per kg at the end of the table, A·m²/kg. */
  readonly endMoment_A_m2_per_kg: number;
}

/** Tabulates a moment curve. The default 8192 cells to 0.4 T keep the error below 1e-8 of the peak for cores ≤ 30 nm. */
export function tabulateResponse(
  curve: MomentCurve,
  { maximumField_T = 0.4, cells = 8192 }: { maximumField_T?: number; cells?: number } = {},
): StaticResponse {
  if (!(maximumField_T > 0) || !(cells >= 16))
    throw new FerruleError("InvalidValue", {
      found: `a table of ${cells} cells to ${maximumField_T} T`,
      accepted: "at least 16 cells and a positive field",
    });
  const step = maximumField_T / cells;
  const f = new Float64Array(cells + 1);
  const d = new Float64Array(cells + 1);
  for (let i = 0; i <= cells; i++) {
    const b = i * step;
    const { moment_A_m2_per_kg, slope_A_m2_per_kg_T } = curve(b);
    d[i] = slope_A_m2_per_kg_T;
    f[i] = i === 0 ? slope_A_m2_per_kg_T : moment_A_m2_per_kg / b;
  }
  const coefficients = new Float64Array(cells * 8);
  writeHermite(f, coefficients, 0);
  writeHermite(d, coefficients, 4);
  return {
    maximumField_T,
    cells,
    cellsPerTesla: cells / maximumField_T,
    coefficients,
    endMoment_A_m2_per_kg: f[cells] * maximumField_T,
  };
}

/** Fourth-order node slopes from the neighbours; both tables are even in b, which gives the neighbours below 0. */
function writeHermite(values: Float64Array, out: Float64Array, offset: number): void {
  const last = values.length - 1;
  const at = (i: number) => values[Math.min(Math.abs(i), last)];
  const slope = (i: number) =>
    i + 2 > last ? at(i) - at(i - 1) : (8 * (at(i + 1) - at(i - 1)) - (at(i + 2) - at(i - 2))) / 12;
  for (let i = 0; i < last; i++) {
    const [y0, y1, s0, s1] = [values[i], values[i + 1], slope(i), slope(i + 1)];
    const k = i * 8 + offset;
    out[k] = y0;
    out[k + 1] = s0;
    out[k + 2] = 3 * (y1 - y0) - 2 * s0 - s1;
    out[k + 3] = 2 * (y0 - y1) + s0 + s1;
  }
}

/**
 * Collinear slope dm_z/dB_z for a field with component `along_T` on the axis and squared remainder `across2_T2`.
 * @returns A·m²/(kg·T)
 */
export function collinearSlope(response: StaticResponse, along_T: number, across2_T2: number): number {
  const b2 = along_T * along_T + across2_T2;
  const b = Math.sqrt(b2);
  const position = b * response.cellsPerTesla;
  if (position >= response.cells) {
    const f = response.endMoment_A_m2_per_kg / b;
    return f * (1 - (along_T * along_T) / b2);
  }
  const cell = Math.floor(position);
  const t = position - cell;
  const c = response.coefficients;
  const k = cell * 8;
  const f = c[k] + t * (c[k + 1] + t * (c[k + 2] + t * c[k + 3]));
  const d = c[k + 4] + t * (c[k + 5] + t * (c[k + 6] + t * c[k + 7]));
  // At b = 0 the direction is undefined, but there D = f.
  return b2 === 0 ? f : f + (d - f) * ((along_T * along_T) / b2);
}

/** Moment per kg of iron along an axis for a field of component `along_T` and squared remainder `across2_T2`, A·m²/kg. */
export function momentAlong(response: StaticResponse, along_T: number, across2_T2: number): number {
  const b = Math.sqrt(along_T * along_T + across2_T2);
  const position = b * response.cellsPerTesla;
  if (position >= response.cells) return (response.endMoment_A_m2_per_kg * along_T) / b;
  const cell = Math.floor(position);
  const t = position - cell;
  const c = response.coefficients;
  const k = cell * 8;
  return along_T * (c[k] + t * (c[k + 1] + t * (c[k + 2] + t * c[k + 3])));
}
