import { stream } from "../random/stream.js";
import { type LinearOperator, sizeOf } from "./operator.js";

/** What `operatorBattery` measured. Gaps are relative; all should be within rounding, a few 1e-14. */
export interface BatteryResult {
  /** ‖A(αx + βz) − αAx − βAz‖ against the norms of its parts, worst of forward and adjoint. */
  readonly linearityGap: number;
  /** |⟨Ax, y⟩ − ⟨x, Aᵀy⟩| / (‖Ax‖‖y‖ + ‖x‖‖Aᵀy‖)·2. */
  readonly adjointGap: number;
  /** Largest |A_ij − (Aᵀ)_ji| over the largest element, each built from unit vectors; absent above `denseLimit`. */
  readonly denseGap: number | undefined;
  /** Difference between results in a dirty `out`, in a new array and after other calls; must be exactly 0. */
  readonly repeatGap: number;
  /** With `out` given, `out` itself is returned. */
  readonly returnsOut: boolean;
  /** Inputs are left as they were, and new results share no memory with inputs or earlier results. */
  readonly keepsInputs: boolean;
}

/**
 * The shared examination of a linear operator, for our tests and for operators that users write.
 * It measures; the caller judges (a sound double-precision operator has an adjoint gap well below 1e-12).
 *
 * @param options.seed  of the random vectors
 * @param options.denseLimit  largest number of matrix elements for the dense comparison
 * @param options.magnitude  typical size of domain and range values, where 1 would over- or underflow
 *
 * Checked by  battery.test.ts (each kind of broken operator is caught)
 */
export function operatorBattery(
  a: LinearOperator,
  { seed = 1, denseLimit = 20_000, magnitude = 1 }: { seed?: number; denseLimit?: number; magnitude?: number } = {},
): BatteryResult {
  const draw = (size: number, chunk: number) =>
    stream(seed, 0, chunk)
      .fillNormal(new Float64Array(size))
      .map((value) => magnitude * value);
  const [n, m] = [sizeOf(a.domain), sizeOf(a.range)];
  const [x, z, y, w] = [draw(n, 0), draw(n, 1), draw(m, 2), draw(m, 3)];
  const forward = examine((v, out) => a.forward(v, out), [x, z], m);
  const adjoint = examine((v, out) => a.adjoint(v, out), [y, w], n);
  const [ax, aty] = [a.forward(x), a.adjoint(y)];
  const scale = norm(ax) * norm(y) + norm(x) * norm(aty);
  return {
    linearityGap: Math.max(forward.linearityGap, adjoint.linearityGap),
    adjointGap: scale === 0 ? 0 : (2 * Math.abs(dot(ax, y) - dot(x, aty))) / scale,
    denseGap: n * m <= denseLimit ? denseGap(a, n, m) : undefined,
    repeatGap: Math.max(forward.repeatGap, adjoint.repeatGap),
    returnsOut: forward.returnsOut && adjoint.returnsOut,
    keepsInputs: forward.keepsInputs && adjoint.keepsInputs,
  };
}

type Apply = (v: Float64Array, out?: Float64Array) => Float64Array;

function examine(apply: Apply, [x, z]: readonly [Float64Array, Float64Array], size: number) {
  const before = Float64Array.from(x);
  const fx = apply(x);
  const copy = Float64Array.from(fx);
  const fz = apply(z);
  const dirty = new Float64Array(size).fill(Number.NaN);
  const returned = apply(x, dirty);
  const [alpha, beta] = [0.7, -1.3];
  const combined = apply(x.map((value, i) => alpha * value + beta * z[i]));
  const gap = combined.map((value, i) => value - alpha * fx[i] - beta * fz[i]);
  const scale = Math.abs(alpha) * norm(fx) + Math.abs(beta) * norm(fz);
  const arrays = [x, z, fx, fz, dirty, combined].map(({ buffer }) => buffer);
  return {
    linearityGap: scale === 0 ? norm(gap) : norm(gap) / scale,
    repeatGap: largest(size, (i) => Math.max(Math.abs(fx[i] - copy[i]), Math.abs(dirty[i] - copy[i]))),
    returnsOut: returned === dirty,
    keepsInputs: before.every((value, i) => value === x[i]) && new Set(arrays).size === arrays.length,
  };
}

function denseGap(a: LinearOperator, n: number, m: number): number {
  const columns = Array.from({ length: n }, (_, j) => a.forward(unit(n, j)));
  const rows = Array.from({ length: m }, (_, i) => a.adjoint(unit(m, i)));
  const size = Math.max(...columns.map((column) => largest(m, (i) => Math.abs(column[i]))), 0);
  const gap = Math.max(...columns.map((column, j) => largest(m, (i) => Math.abs(column[i] - rows[i][j]))), 0);
  return gap === 0 ? 0 : gap / size;
}

function unit(size: number, j: number): Float64Array {
  const vector = new Float64Array(size);
  vector[j] = 1;
  return vector;
}

/** Largest term; NaN if any term is NaN (Math.max keeps NaN). */
function largest(count: number, term: (i: number) => number): number {
  let value = 0;
  for (let i = 0; i < count; i++) value = Math.max(value, term(i));
  return value;
}

function dot(a: Float64Array, b: Float64Array): number {
  return a.reduce((sum, value, i) => sum + value * b[i], 0);
}

function norm(a: Float64Array): number {
  return Math.sqrt(dot(a, a));
}
