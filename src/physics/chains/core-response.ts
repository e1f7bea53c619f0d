import { FerruleError } from "../../errors.js";
import { ratioSeries } from "../particle/langevin-series.js";

/**
 * Cores of one or several sizes in one common local field. `ratio` is the moment of a size over the moment-weighted mean
 * moment, `weight` its share of the total moment: sum weight = 1, sum weight ratio = 1.
 */
export interface CoreSizesInChain {
  readonly ratio: Float64Array;
  readonly weight: Float64Array;
}

/** What the cores do in a local field x; the deficits keep the digits that a difference from 1/3 would lose. */
export interface CoreResponse {
  /** F(x) = sum w L(r x). */
  value: number;
  /** F'(x) = sum w r L'(r x), 1/3 at 0. */
  slope: number;
  /** 1/3 - F(x)/x. */
  ratioDeficit: number;
  /** 1/3 - F'(x). */
  slopeDeficit: number;
}

/** All cores equal: x is then the u of M = L(u). */
export const equalCores: CoreSizesInChain = { ratio: Float64Array.of(1), weight: Float64Array.of(1) };

/**
 * Quadrature nodes of a size distribution as shares and ratios.
 *
 * @param nodes.xiPerTesla  m/(kB T) of each size, 1/T, shape [k]
 * @param nodes.weight  share of the total moment, any common factor, shape [k]
 * @returns the sizes, and the mean m/(kB T) by which a field is turned into xi, 1/T
 */
export function coresFromNodes({
  xiPerTesla,
  weight,
}: {
  readonly xiPerTesla: Float64Array;
  readonly weight: Float64Array;
}): { cores: CoreSizesInChain; meanXiPerTesla: number } {
  if (xiPerTesla.length !== weight.length || weight.length === 0)
    throw new FerruleError("ShapeMismatch", {
      path: "weight",
      found: `${weight.length} weights for ${xiPerTesla.length} sizes`,
      accepted: "one weight for each size, at least one, e.g. those of sizeNodes(sizes, { order: 3 })",
    });
  let total = 0;
  let sum = 0;
  for (let j = 0; j < weight.length; j++) {
    total += weight[j];
    sum += weight[j] * xiPerTesla[j];
  }
  const mean = sum / total;
  if (!(total > 0 && mean > 0 && Number.isFinite(mean) && weight.every((w) => w >= 0)))
    throw new FerruleError("InvalidValue", {
      path: "weight",
      found: `weights of sum ${total}, mean xi per tesla ${mean}`,
      accepted: "weights from 0 up with a positive sum, and xi per tesla above 0, e.g. 880 per T for 25 nm",
    });
  return {
    cores: { ratio: xiPerTesla.map((k) => k / mean), weight: weight.map((w) => w / total) },
    meanXiPerTesla: mean,
  };
}

/**
 * Alignment of the cores in a local field, with its slope, from one exponential or one series per size.
 *   below |u| = 1   D = 1/3 - L/u by its series, L = u (1/3 - D), 1/3 - L' = L^2 - 2 D   (from L' = 1 - 2 L/u - L^2)
 *   above           q = exp(-2|u|), L = 1 - 1/|u| + 2q/(1-q), L' = 1/u^2 - 4q/(1-q)^2
 *
 * @param x  local field as xi of the mean moment
 * @param out  overwritten and returned: one object serves a whole curve
 *
 * Valid for   every finite x; relative error below 1e-14 (deficits between |u| = 1 and 2 lose 1.5 digits to 1/3 - ...)
 * Source      as `langevin`; the identity for L' derived
 * Checked by  checks/chains (30-digit tables)
 */
export function respond(x: number, { ratio, weight }: CoreSizesInChain, out: CoreResponse): CoreResponse {
  let value = 0;
  let slope = 0;
  let ratioDeficit = 0;
  let slopeDeficit = 0;
  for (let j = 0; j < weight.length; j++) {
    const w = weight[j];
    const wr = w * ratio[j];
    const u = ratio[j] * x;
    const size = u < 0 ? -u : u;
    if (size < 1) {
      const deficit = smallRatioDeficit(u * u);
      const aligned = u * (third - deficit);
      const lost = aligned * aligned - 2 * deficit;
      value += w * aligned;
      slope += wr * (third - lost);
      ratioDeficit += wr * deficit;
      slopeDeficit += wr * lost;
    } else {
      const q = Math.exp(-2 * size);
      const gap = 1 - q;
      const inverse = 1 / size;
      const aligned = 1 - inverse + (2 * q) / gap;
      const steep = inverse * inverse - (4 * q) / (gap * gap);
      value += u < 0 ? -w * aligned : w * aligned;
      slope += wr * steep;
      ratioDeficit += wr * (third - aligned * inverse);
      slopeDeficit += wr * (third - steep);
    }
  }
  out.value = value;
  out.slope = slope;
  out.ratioDeficit = ratioDeficit;
  out.slopeDeficit = slopeDeficit;
  return out;
}

/** A fresh object for `respond`. */
export function emptyResponse(): CoreResponse {
  return { value: 0, slope: 0, ratioDeficit: 0, slopeDeficit: 0 };
}

const third = 1 / 3;

/** 1/3 - L(u)/u in u^2 <= 1; the first term left out is below 1e-17 of the sum at each of the three ends. */
function smallRatioDeficit(square: number): number {
  const last = square < 0.09 ? 9 : square < 0.36 ? 12 : 19;
  let sum = 0;
  for (let k = last; k >= 1; k--) sum = sum * square + ratioSeries[k];
  return -square * sum;
}
