import { FerruleError } from "../../errors.js";

/** What is fitted: the model, the data and their standard deviations. */
export interface LeastSquaresProblem {
  /**
   * Predicted values at these parameters, shape [n]. May write into `out` and return it (no allocation per call), or
   * return an array of its own. Must not keep or change `parameters`.
   */
  readonly model: (parameters: Float64Array, out: Float64Array) => ArrayLike<number>;
  /** Measured values, shape [n]. */
  readonly observed: ArrayLike<number>;
  /** Standard deviation of each measured value, shape [n], or one for all. Absent: all equal and unknown. */
  readonly sigma?: ArrayLike<number> | number;
  /**
   * Derivatives of the model, row-major, shape [n, p]; written into `out`. Absent: central differences.
   */
  readonly jacobian?: (parameters: Float64Array, out: Float64Array) => void;
}

export interface LeastSquaresOptions {
  /** Inclusive bounds, shape [p]; -Infinity / Infinity where there is none. Equal bounds hold a parameter fixed. */
  readonly lower?: ArrayLike<number>;
  readonly upper?: ArrayLike<number>;
  /** Names used in messages and in `floating`; default `p0`, `p1`, ... */
  readonly names?: readonly string[];
  /** Typical size of each parameter, for the difference step; needed only where the start is 0 (else it is probed). */
  readonly typical?: ArrayLike<number>;
  /**
   * "absolute": sigma is in the units of the data and believed; "reduced-chi-squared": only the ratios of the sigmas
   * are believed and the covariance is multiplied by chi2/dof. Default: absolute when sigma is given.
   */
  readonly covarianceScale?: "absolute" | "reduced-chi-squared";
  readonly maxIterations?: number;
  /** Ends when the residual is orthogonal to every free direction within this cosine. */
  readonly orthogonality?: number;
  /** A direction of the column-scaled Jacobian below this share of the largest counts as not determined by the data. */
  readonly degeneracy?: number;
}

/** The problem with every default filled in and every shape checked. */
export interface PreparedProblem {
  readonly model: LeastSquaresProblem["model"];
  readonly jacobian: LeastSquaresProblem["jacobian"];
  readonly observed: Float64Array;
  readonly sigma: Float64Array;
  readonly start: Float64Array;
  readonly lower: Float64Array;
  readonly upper: Float64Array;
  readonly names: readonly string[];
  readonly typical: Float64Array | undefined;
}

export function prepareProblem(
  { model, observed, sigma, jacobian }: LeastSquaresProblem,
  start: ArrayLike<number>,
  { lower, upper, names, typical }: LeastSquaresOptions,
): PreparedProblem {
  const n = observed.length;
  const p = start.length;
  if (p === 0 || n < p)
    throw new FerruleError("NotIdentifiable", {
      path: "observed",
      found: `${n} values for ${p} parameters`,
      accepted: "at least one parameter and at least as many values as parameters, e.g. 20 values for 4 parameters",
    });
  return {
    model,
    jacobian,
    observed: finiteArray(observed, n, "observed"),
    sigma: positiveArray(typeof sigma === "object" ? sigma : new Float64Array(n).fill(sigma ?? 1), n, "sigma"),
    typical: typical === undefined ? undefined : positiveArray(typical, p, "typical"),
    names: checkedNames(names, p),
    ...checkedBox(finiteArray(start, p, "start"), lower, upper),
  };
}

function checkedBox(start: Float64Array, lower?: ArrayLike<number>, upper?: ArrayLike<number>) {
  const low = boundArray(lower, start.length, { path: "lower", fill: Number.NEGATIVE_INFINITY });
  const high = boundArray(upper, start.length, { path: "upper", fill: Number.POSITIVE_INFINITY });
  for (const [j, value] of start.entries()) {
    if (value >= low[j] && value <= high[j]) continue;
    throw new FerruleError("InvalidValue", {
      path: `start[${j}]`,
      found: `${value}, with bounds ${low[j]} to ${high[j]}`,
      accepted: "a start within its bounds, the lower bound not above the upper, e.g. 1 with bounds 0 to 10",
    });
  }
  return { start, lower: low, upper: high };
}

function boundArray(
  values: ArrayLike<number> | undefined,
  length: number,
  { path, fill }: { path: string; fill: number },
): Float64Array {
  if (values === undefined) return new Float64Array(length).fill(fill);
  requireLength(values, length, path);
  const bounds = Float64Array.from(values);
  const bad = bounds.findIndex((value) => Number.isNaN(value));
  if (bad >= 0) throw notANumber(`${path}[${bad}]`, "NaN", "a number, or Infinity where there is no bound, e.g. 0");
  return bounds;
}

export function finiteArray(values: ArrayLike<number>, length: number, path: string): Float64Array {
  requireLength(values, length, path);
  const copy = Float64Array.from(values);
  const bad = copy.findIndex((value) => !Number.isFinite(value));
  if (bad >= 0) throw notANumber(`${path}[${bad}]`, String(copy[bad]), "a finite number, e.g. 0.5");
  return copy;
}

export function positiveArray(values: ArrayLike<number>, length: number, path: string): Float64Array {
  const copy = finiteArray(values, length, path);
  const bad = copy.findIndex((value) => value <= 0);
  if (bad >= 0) throw notANumber(`${path}[${bad}]`, String(copy[bad]), "a finite number above 0, e.g. 0.02");
  return copy;
}

function checkedNames(names: readonly string[] | undefined, p: number): readonly string[] {
  if (names === undefined) return Array.from({ length: p }, (_, j) => `p${j}`);
  requireLength(names, p, "names");
  return [...names];
}

function requireLength(values: ArrayLike<unknown>, length: number, path: string): void {
  if (values.length === length) return;
  throw new FerruleError("ShapeMismatch", {
    path,
    found: `${values.length} entries`,
    accepted: `${length} entries, one for each ${path === "sigma" || path === "observed" ? "value" : "parameter"}`,
  });
}

function notANumber(path: string, found: string, accepted: string): FerruleError {
  return new FerruleError("InvalidValue", { path, found, accepted });
}
