import { FerruleError } from "../../errors.js";
import { type HarmonicChannel, massDetection } from "./mass-detection.js";

/** Allan deviation of the background over itself at one averaging time. */
export interface RelativeInstability {
  readonly time_s: number;
  readonly relativeDeviation: number;
}

/** Detection limits (alpha = beta = 0.05), kg, when scan and empty are both averaged over this time. */
export interface DetectionAtTime {
  readonly time_s: number;
  readonly noiseLimit_kg: number;
  readonly backgroundLimit_kg: number;
  readonly limit_kg: number;
}

export interface DetectionOverTime {
  readonly times: readonly DetectionAtTime[];
  readonly best: DetectionAtTime;
  /** The best time is the longest one asked: a longer one may be better still. */
  readonly isBestAtEnd: boolean;
}

/**
 * How the detection limit falls with averaging time, and where it stops falling.
 * A scan of time t less an empty of the same time beside it: their backgrounds differ by sqrt(2) times the Allan
 * deviation at t (its definition), and the noise counts twice.
 *   white noise 1/sqrt(t);  a flat Allan deviation is a floor;  a rising one makes longer averages worse
 *
 * @param channels  as in `massDetection`
 * @param instability  Allan deviation of the background over its mean, at the times wanted. Where it still holds the white
 *                     noise of the chain, that noise is counted twice: on the safe side.
 * Source      Allan, Proc. IEEE 54:221 (1966), definition; from memory. Checked by detection-over-time.test.ts
 */
export function detectionOverTime(
  channels: readonly HarmonicChannel[],
  instability: readonly RelativeInstability[],
): DetectionOverTime {
  if (instability.length === 0)
    throw new FerruleError("InvalidValue", {
      path: "instability",
      found: "no averaging time",
      accepted: "the Allan deviation at one averaging time or more",
    });
  const times = [...instability]
    .sort((a, b) => a.time_s - b.time_s)
    .map(({ time_s, relativeDeviation }) => {
      const { noise, background, reweighted } = massDetection(channels, {
        time_s,
        emptyTime_s: time_s,
        instability: Math.SQRT2 * relativeDeviation,
      });
      return {
        time_s,
        noiseLimit_kg: noise.limits_kg.detection,
        backgroundLimit_kg: background.limits_kg.detection,
        limit_kg: reweighted.limits_kg.detection,
      };
    });
  const best = times.reduce((least, row) => (row.limit_kg < least.limit_kg ? row : least));
  return { times, best, isBestAtEnd: best === times[times.length - 1] };
}
