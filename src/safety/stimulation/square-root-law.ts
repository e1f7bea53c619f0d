/**
 * Early alternative to the hyperbola, shape only: our sources give no absolute value.
 *   dB/dt as t^-0.5, so the peak-to-peak change as t^0.5: it falls without end as the rise gets shorter
 *
 * @returns threshold change at `duration_s` over that at `reference_s`
 * Valid for   the gradient pulses of its 20 volunteers; at drive frequencies an extrapolation
 * Source      Ham et al., J. Magn. Reson. Imaging 7:933 (1997), abstract; read
 */
export function squareRootChangeRatio(duration_s: number, reference_s: number): number {
  return Math.sqrt(duration_s / reference_s);
}
