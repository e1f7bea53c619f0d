import { FerruleError } from "../../errors.js";

/** Equilibrium moment per kilogram of iron along the field, and its slope, at field magnitudes in tesla, each [n]. */
export type MomentCurve = (field_T: Float64Array) => {
  moment_A_m2_per_kg: Float64Array;
  slope_A_m2_per_kg_T: Float64Array;
};

/**
 * Static (adiabatic) vector response of a tracer, tabulated so that a forward model can ask for it 1e8 times.
 *
 *   m(B) = f(b) B,  f(b) = M(b)/b,  b = |B|
 *   dm_i/dB_j = f δij + (D(b) − f(b)) B_i B_j / b²,  D = dM/db
 *
 * The tangential part D and the normal part f are the two envelopes of the N-D point spread function (facts M17).
 * Each is a cubic Hermite interpolant on a grid uniform in √b. A broad distribution holds a few large cores whose response
 * bends within 0.1 mT of zero: a grid of as many cells uniform in b would be 1e-4 of the peak off there, for the same time.
 * Cells hold eight coefficients: f0..f3, D0..D3.
 *
 * Units       f, D in A·m²/(kg·T), b in T
 * Valid for   0 ≤ b ≤ maximumField_T; beyond, the saturated tail f = M_max/b, D = 0 (used outside every field of view):
 *             too low, at 1 T by 0.2 % for 25 nm and 1 % for a log-normal 11 nm / 0.4
 * Source      Goodwill et al., IEEE TMI 30:1581 (2011), tensor response (from memory)
 * Checked by  static-response.test.ts (against the curve itself between nodes)
 */
export interface StaticResponse {
  readonly maximumField_T: number;
  readonly cells: number;
  /** cells² / maximumField_T: the position in the table is √(b · this). */
  readonly positionSquared_per_T: number;
  /** [cells × 8] polynomial coefficients in the fraction of the cell, lowest power first. */
  readonly coefficients: Float64Array;
  /** Moment per kg at the end of the table, A·m²/kg. */
  readonly endMoment_A_m2_per_kg: number;
}

/**
 * Tabulates a moment curve. The default 8192 cells to 0.4 T keep the error below 1e-8 of the peak slope: measured 6e-12 for
 * a log-normal 11 nm / 0.4, 2e-10 for 60 nm, 2e-9 for a log-normal 6 nm / 0.6.
 */
export function tabulateResponse(
  curve: MomentCurve,
  { maximumField_T = 0.4, cells = 8192 }: { maximumField_T?: number; cells?: number } = {},
): StaticResponse {
  if (!(maximumField_T > 0 && Number.isFinite(maximumField_T)) || !(Number.isInteger(cells) && cells >= 16))
    throw new FerruleError("InvalidValue", {
      path: "response",
      found: `a table of ${cells} cells to ${maximumField_T} T`,
      accepted: "a whole number of at least 16 cells and a positive field, e.g. 8192 cells to 0.4 T",
    });
  // Two nodes beyond the last cell give its slopes their neighbours.
  const nodes_T = Float64Array.from({ length: cells + 3 }, (_, i) => maximumField_T * (i / cells) ** 2);
  const { moment_A_m2_per_kg: moment, slope_A_m2_per_kg_T: slope } = curve(nodes_T);
  const coefficients = new Float64Array(cells * 8);
  writeHermite(
    nodes_T.map((b, i) => (i === 0 ? slope[0] : moment[i] / b)),
    coefficients,
    0,
  );
  writeHermite(slope, coefficients, 4);
  return {
    maximumField_T,
    cells,
    positionSquared_per_T: cells ** 2 / maximumField_T,
    coefficients,
    endMoment_A_m2_per_kg: moment[cells],
  };
}

/** Fourth-order node slopes from the neighbours; both tables are even in √b, which gives the neighbours below 0. */
function writeHermite(values: Float64Array, out: Float64Array, offset: number): void {
  const at = (i: number) => values[Math.abs(i)];
  const slope = (i: number) => (8 * (at(i + 1) - at(i - 1)) - (at(i + 2) - at(i - 2))) / 12;
  for (let i = 0, k = offset; k < out.length; i++, k += 8) {
    const [y0, y1, s0, s1] = [values[i], values[i + 1], slope(i), slope(i + 1)];
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
  const position = Math.sqrt(b * response.positionSquared_per_T);
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
  const position = Math.sqrt(b * response.positionSquared_per_T);
  if (position >= response.cells) return (response.endMoment_A_m2_per_kg * along_T) / b;
  const cell = Math.floor(position);
  const t = position - cell;
  const c = response.coefficients;
  const k = cell * 8;
  return along_T * (c[k] + t * (c[k + 1] + t * (c[k + 2] + t * c[k + 3])));
}
