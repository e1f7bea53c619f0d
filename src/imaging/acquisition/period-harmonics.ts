import { FerruleError } from "../../errors.js";
import { drivePhase } from "./line-raster.js";

/** Harmonics of one averaged period in and out of phase with the velocity of a cosine drive. */
export interface PeriodBasis {
  readonly samplesPerPeriod: number;
  readonly first: number;
  readonly last: number;
  /** [(last − first + 1) × samples] rows (2/N) sin nθ_j */
  readonly sine: Float64Array;
  /** [(last − first + 1) × samples] rows (2/N) cos nθ_j */
  readonly cosine: Float64Array;
}

export function periodBasis(samplesPerPeriod: number, first: number, last: number): PeriodBasis {
  const n = samplesPerPeriod;
  if (first < 1 || last < first || last > n / 2 - 1)
    throw new FerruleError("InvalidValue", {
      found: `harmonics ${first} to ${last} from ${n} samples`,
      accepted: `1 to ${n / 2 - 1}`,
    });
  const kept = last - first + 1;
  const sine = new Float64Array(kept * n);
  const cosine = new Float64Array(kept * n);
  for (let h = 0; h < kept; h++)
    for (let j = 0; j < n; j++) {
      const angle = (first + h) * drivePhase(j, n);
      sine[h * n + j] = (2 / n) * Math.sin(angle);
      cosine[h * n + j] = (2 / n) * Math.cos(angle);
    }
  return { samplesPerPeriod, first, last, sine, cosine };
}

/**
 * Projects frames of one period each onto a set of rows.
 * White noise of sd σ per sample becomes white noise of sd σ √(2/N) per harmonic, because the rows are orthogonal.
 *
 * @param frames  [n × samples], V
 * @returns [n × rows], V
 */
export function projectFrames(frames: Float64Array, rows: Float64Array, samplesPerPeriod: number): Float64Array {
  const kept = rows.length / samplesPerPeriod;
  const count = frames.length / samplesPerPeriod;
  if (!Number.isInteger(count))
    throw new FerruleError("ShapeMismatch", {
      found: `${frames.length} samples`,
      accepted: `whole frames of ${samplesPerPeriod} samples`,
    });
  const out = new Float64Array(count * kept);
  for (let f = 0; f < count; f++)
    for (let h = 0; h < kept; h++) {
      let sum = 0;
      for (let j = 0; j < samplesPerPeriod; j++)
        sum += frames[f * samplesPerPeriod + j] * rows[h * samplesPerPeriod + j];
      out[f * kept + h] = sum;
    }
  return out;
}

/** Removes the mean and the fundamental (both phases) of every frame in place: the ideal receive filter. */
export function removeFundamental(frames: Float64Array, samplesPerPeriod: number): Float64Array {
  const n = samplesPerPeriod;
  const { sine, cosine } = periodBasis(n, 1, 1);
  for (let start = 0; start < frames.length; start += n) {
    let mean = 0;
    let s = 0;
    let c = 0;
    for (let j = 0; j < n; j++) {
      mean += frames[start + j] / n;
      s += frames[start + j] * sine[j];
      c += frames[start + j] * cosine[j];
    }
    // sine and cosine carry 2/N; multiplied by N/2 they are the waves themselves.
    for (let j = 0; j < n; j++) frames[start + j] -= mean + (s * sine[j] + c * cosine[j]) * (n / 2);
  }
  return frames;
}
