import { directFeedthrough_V, type ReceiveModel, type ScannerModel, type TracerModel } from "../../documents/index.js";
import {
  constantLimits,
  type DetectionOverTime,
  detectionOverTime,
  type HarmonicChannel,
  type MassDetection,
  massDetection,
  type RelativeInstability,
} from "../../measure/index.js";
import {
  driveBandwidth_Hz,
  langevinSlopeWidth,
  pointHarmonics_V_per_kg,
  responseSpectrum,
} from "../../physics/index.js";
import { staticFieldWidth_T } from "../predict/static-prediction.js";
import { noiseAt } from "./receive-analysis.js";

export interface DetectionRequest {
  readonly axis: "x" | "y" | "z";
  readonly amplitude_T: number;
  readonly frequency_Hz: number;
  readonly waveform: string;
  /** M/Ms of the tracer over one period of that drive. */
  readonly magnetisation: Float64Array;
  readonly time_s: number;
  /** Allan deviation of the background over its mean, from empties; else the channel's stated instability. */
  readonly instability?: readonly RelativeInstability[] | undefined;
}

export interface DetectionAnalysis {
  readonly tracer: string;
  readonly axis: "x" | "y" | "z";
  readonly amplitude_T: number;
  readonly frequency_Hz: number;
  readonly time_s: number;
  /** Peak amplitude per kg Fe of each harmonic that the chain passes, with its noise and background. */
  readonly channels: readonly HarmonicChannel[];
  /** Limits of a point of iron at the field-free point, measured all the time; noise and background apart. */
  readonly limits: MassDetection;
  /**
   * Detection limit by the background when one drifting drive moves all its harmonics together: an upper figure. With
   * harmonics that drift each on its own it is `limits.background`.
   */
  readonly backgroundTogether_kg: number;
  /** Noise and that background. */
  readonly bothTogether_kg: number;
  /** With empties: how the limits go with averaging time. */
  readonly overTime: DetectionOverTime | null;
  /** Frequency at which the spectrum of the static response has fallen to a half, a tenth, a hundredth; null: no width. */
  readonly bandwidth_Hz: readonly [number, number, number] | null;
  readonly advisories: readonly string[];
}

/** Most harmonics that are counted; beyond, signals of real tracers are below any noise. */
const mostHarmonics = 60;

/**
 * Smallest iron mass that a scanner can see with a tracer: at the field-free point, all the time, before any imaging.
 * An image shares its time among its places and inverts: its own limit is higher.
 */
export function detectionAnalysis(
  scanner: ScannerModel,
  tracer: TracerModel,
  request: DetectionRequest,
): DetectionAnalysis | null {
  const receive = scanner.receive.find(({ axis }) => axis === request.axis);
  if (receive === undefined) return null;
  const { time_s, instability, axis, amplitude_T, frequency_Hz } = request;
  const channels = harmonicChannels(scanner, receive, { tracer, ...request });
  if (!channels.some(({ signal_V_per_kg }) => signal_V_per_kg > 0)) return null;
  const limits = massDetection(channels, { time_s, instability: receive.chain.instability ?? 0 });
  const { noise, worstBackground_kg } = limits;
  return {
    tracer: tracer.name,
    axis,
    amplitude_T,
    frequency_Hz,
    time_s,
    channels,
    limits,
    backgroundTogether_kg: constantLimits(worstBackground_kg).detection,
    bothTogether_kg: constantLimits(Math.hypot(noise.standardUncertainty_kg, worstBackground_kg)).detection,
    overTime: instability === undefined ? null : detectionOverTime(channels, instability),
    bandwidth_Hz: bandwidthOf(tracer, request),
    advisories: [
      "detection: a point of iron at the field-free point, measured all the time, known phase; an image's limit is higher",
      ...(request.waveform === "cosine"
        ? []
        : ["feedthrough and background are those of a sine of the same amplitude; the edges of pulses induce more"]),
      ...(receive.windings === undefined
        ? ["detection: without the coil's windings the feedthrough is not known, so no background limit"]
        : receive.chain.distortion === undefined || receive.chain.instability === undefined
          ? [
              "detection: state distortion and instability of the channel for a background limit; it often is the real one",
            ]
          : []),
    ],
  };
}

function harmonicChannels(
  scanner: ScannerModel,
  receive: ReceiveModel,
  { tracer, magnetisation, axis, amplitude_T, frequency_Hz }: DetectionRequest & { readonly tracer: TracerModel },
): HarmonicChannel[] {
  const { chain, bandwidth_Hz, removesFundamental } = receive;
  const highest_Hz = Math.min(bandwidth_Hz ?? Infinity, (chain.digitiser?.rate_per_s ?? Infinity) / 2);
  const count = Math.min(mostHarmonics, Math.floor((highest_Hz / frequency_Hz) * (1 + 1e-9)));
  const { amplitude } = responseSpectrum(magnetisation, count);
  const signal = pointHarmonics_V_per_kg(amplitude.subarray(1), {
    sensitivity_T_per_A: receive.sensitivity_T_per_A,
    momentPerIron_A_m2_per_kg: tracer.core.momentPerIron_A_m2_per_kg,
    frequency_Hz,
  });
  const coil = scanner.driveAxes.find((each) => each.axis === axis)?.coil;
  const feedthrough_V = directFeedthrough_V(receive, { axis, amplitude_T, frequency_Hz, coil }) ?? 0;
  return Array.from(signal, (signal_V_per_kg, i) => ({
    order: i + 1,
    signal_V_per_kg,
    noiseDensity_V_per_sqrtHz: noiseAt(receive, scanner, (i + 1) * frequency_Hz).total,
    background_V: feedthrough_V * (i === 0 ? 1 : (chain.distortion ?? 0)),
  })).filter(
    ({ order, noiseDensity_V_per_sqrtHz }) => noiseDensity_V_per_sqrtHz > 0 && !(removesFundamental && order === 1),
  );
}

function bandwidthOf(tracer: TracerModel, { amplitude_T, frequency_Hz, waveform }: DetectionRequest) {
  // The law holds for the speed of a sine; a pulse passes in an instant.
  if (waveform !== "cosine") return null;
  const width_T = staticFieldWidth_T(tracer);
  if (width_T === null) return null;
  const xi = (amplitude_T * langevinSlopeWidth) / width_T;
  const at = (share: number) => driveBandwidth_Hz(xi, frequency_Hz, share);
  return [at(0.5), at(0.1), at(0.01)] as const;
}
