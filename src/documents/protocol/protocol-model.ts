import type { Axis } from "../fields/axis-field.js";
import { type AxisPositions, toAxisPositions } from "./axis-positions.js";
import { type ParsedProtocol, samplesPerPeriod } from "./protocol-schema.js";

/** A protocol in SI. */
export interface ProtocolModel {
  readonly name: string;
  readonly drive: {
    readonly axis: Axis;
    /** Peak of mu0*H. */
    readonly amplitude_T: number;
    readonly frequency_Hz: number;
    readonly waveform: "sine" | "cosine";
    readonly phase_rad: number;
  };
  readonly sampling: { readonly rate_per_s: number; readonly samplesPerPeriod: number };
  /** Positions of the field-free centre; in time the drive axis runs fastest, then the others in the order x, y, z. */
  readonly raster: {
    readonly axes: Readonly<Record<Axis, AxisPositions>>;
    readonly patchCount: number;
    /** Moved by the bed; every other axis by shift fields. */
    readonly bedAxis?: Axis | undefined;
  };
  readonly periodsPerPatch: number;
  readonly settleTime_s: number;
  readonly empties?: { readonly everyPatches: number; readonly periods: number } | undefined;
}

export function toProtocolModel(parsed: ParsedProtocol): ProtocolModel {
  const { name, drive, sampling, raster, periodsPerPatch, settleTime = 0, empties } = parsed;
  const axes = {
    x: toAxisPositions(raster.axes.x),
    y: toAxisPositions(raster.axes.y),
    z: toAxisPositions(raster.axes.z),
  };
  return {
    name,
    drive: {
      axis: drive.axis,
      amplitude_T: drive.amplitude,
      frequency_Hz: drive.frequency,
      waveform: drive.waveform,
      phase_rad: drive.phase ?? 0,
    },
    sampling: {
      rate_per_s: sampling.rate,
      samplesPerPeriod: Math.round(samplesPerPeriod(drive.frequency, sampling.rate)),
    },
    raster: { axes, patchCount: axes.x.count * axes.y.count * axes.z.count, bedAxis: raster.bed },
    periodsPerPatch,
    settleTime_s: settleTime,
    empties: empties === undefined ? undefined : { everyPatches: empties.every, periods: empties.periods },
  };
}
