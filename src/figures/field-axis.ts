import type { ScaleOptions } from "@observablehq/plot";

/** Powers of ten between two sizes; with fewer than three of these, also their doubles and fivefolds. */
function roundSizes(from: number, to: number): number[] {
  const first = Math.floor(Math.log10(from));
  const exponents = Array.from({ length: Math.floor(Math.log10(to)) - first + 1 }, (_, i) => first + i);
  // Number("2e-1"), not 2 * 10 ** -1: the tick's own digits are printed.
  const within = (sizes: number[]) => sizes.filter((size) => size >= from * 0.999 && size <= to * 1.001);
  const decades = within(exponents.map((n) => Number(`1e${n}`)));
  return decades.length >= 3
    ? decades
    : within(exponents.flatMap((n) => [1, 2, 5].map((digit) => Number(`${digit}e${n}`))));
}

/** The size that a tenth of all fields stays below: below it the axis may be linear without hiding the curve. */
function lowTenth(sizes: readonly number[]): number {
  return [...sizes].sort((a, b) => a - b)[Math.floor(sizes.length / 10)];
}

/**
 * The axis for applied fields, which span many decades: logarithmic where all are above 0, else symmetric-logarithmic
 * (near zero linear, so that both branches of a loop and zero itself can be shown).
 */
export function fieldAxis(field_mT: ArrayLike<number>): ScaleOptions & { readonly ticks: number[] } {
  const values = Array.from(field_mT);
  const sizes = values.map(Math.abs).filter((size) => size > 0);
  if (sizes.length === 0) return { type: "linear", domain: [-1, 1], ticks: [-1, 0, 1] };
  const largest = sizes.reduce((a, b) => Math.max(a, b));
  const smallest = sizes.reduce((a, b) => Math.min(a, b));
  if (values.every((value) => value > 0)) {
    return { type: "log", domain: [smallest / 1.3, largest * 1.3], ticks: roundSizes(smallest / 1.3, largest * 1.3) };
  }
  const constant = Math.max(lowTenth(sizes), largest * 1e-4);
  const [low, high] = values.reduce(([a, b], value) => [Math.min(a, value), Math.max(b, value)], [0, 0]);
  const domain = [low * 1.3, high * 1.3];
  const steps = roundSizes(constant, largest * 1.3);
  const ticks = [...steps.map((size) => -size).reverse(), 0, ...steps];
  return { type: "symlog", constant, domain, ticks: ticks.filter((tick) => tick >= domain[0] && tick <= domain[1]) };
}

/** Plain digits from 0.001 to 100 000, powers beyond; a true minus sign. */
export function fieldTick(value: number): string {
  const size = Math.abs(value);
  const text = size === 0 || (size >= 1e-3 && size < 1e5) ? String(size) : size.toExponential(0).replace("e+", "e");
  return value < 0 ? `\u2212${text}` : text;
}
