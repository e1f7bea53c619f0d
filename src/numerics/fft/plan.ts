/** A discrete Fourier transform of one length. Data are complex, interleaved (re, im), shape [2n]. */
export interface FourierPlan {
  readonly length: number;
  /** X_k = Σ x_j·e^(−i·2π·jk/n), not scaled. In place unless `out` is given (which must not overlap `data` partly). */
  forward(data: Float64Array, out?: Float64Array): Float64Array;
  /** x_j = (1/n)·Σ X_k·e^(+i·2π·jk/n). */
  inverse(data: Float64Array, out?: Float64Array): Float64Array;
}

/** A transform in place of interleaved data, unscaled, in the forward sense. */
export type InPlaceTransform = (data: Float64Array) => void;
