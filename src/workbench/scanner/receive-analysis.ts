import { type Feedthrough, feedthroughOf, type ReceiveModel, type ScannerModel } from "../../documents/index.js";
import {
  axes,
  axisIndex,
  coilResonance,
  type DynamicRange,
  dynamicRange,
  fieldOfSources,
  gradiometerResponse,
  type NoiseDensity,
  noiseDensity_V_per_sqrtHz,
  sensitivityReach_m,
  thermalNoise_V_per_sqrtHz,
  type Vector3,
} from "../../physics/index.js";
import { receiveChainOf } from "./receive-chain-of.js";

/** One receive channel; null: the document does not say enough. */
export interface ReceiveAnalysis {
  readonly axis: "x" | "y" | "z";
  readonly sensitivity_T_per_A: number;
  readonly from: "stated" | "geometry, at the centre";
  /** Distance along x, y, z within which the sensitivity stays within 10 % of the centre's; null: beyond the bore. */
  readonly reachWithinTenPercent_m: readonly (number | null)[] | null;
  /** Of opposed windings: net over gross area, 0 when balanced. */
  readonly uniformShare: number | null;
  /** Density, by origin, at the drive's third harmonic; only `total` for a stated noise. */
  readonly noise: ChannelNoise;
  readonly resonance: {
    readonly frequency_Hz: number;
    readonly quality: number;
    readonly loadedQuality: number;
  } | null;
  /** Peak that the drive induces directly, before any filter. */
  readonly feedthrough_V: number | null;
  /** Of opposed windings: what their geometry leaves of one side's feedthrough from the scanner's own drive coil. */
  readonly driveImbalance: number | null;
  readonly dynamicRange: DynamicRange | null;
  readonly advisories: readonly string[];
}

export type ChannelNoise = Pick<NoiseDensity, "frequency_Hz" | "total"> & Partial<NoiseDensity>;

export function receiveAnalysis(scanner: ScannerModel): ReceiveAnalysis[] {
  return scanner.receive.map((channel) => channelAnalysis(channel, scanner));
}

function channelAnalysis(channel: ReceiveModel, scanner: ScannerModel): ReceiveAnalysis {
  const { axis, sensitivity_T_per_A, windings } = channel;
  const drive = scanner.driveAxes.find((each) => each.axis === axis) ?? scanner.driveAxes[0];
  const stated = receiveChainOf(channel, scanner);
  const feedthrough = feedthroughOf(channel, { ...drive, amplitude_T: drive.maximumAmplitude_T });
  const feedthrough_V = feedthrough?.direct_V ?? null;
  const sources = windings?.flatMap((winding) => winding.sources);
  return {
    axis,
    sensitivity_T_per_A,
    from: windings === undefined ? "stated" : "geometry, at the centre",
    reachWithinTenPercent_m: sources === undefined ? null : reaches(sources, channel, scanner),
    uniformShare:
      sources === undefined || sources.every(({ current_A }) => current_A > 0)
        ? null
        : gradiometerResponse(sources, fieldOfSources(sources), { point_m: [0, 0, 0], axis: unit(axis) }).uniformShare,
    noise: noiseAt(channel, scanner, thirdHarmonic(channel, scanner)),
    resonance: stated === undefined ? null : (coilResonance(stated.chain.coil) ?? null),
    feedthrough_V,
    driveImbalance: feedthrough?.isOpposed ? feedthrough.asDrawn_V / feedthrough.oneSide_V : null,
    dynamicRange: rangeOf(channel, scanner, feedthrough_V),
    advisories: [...(stated?.unstated ?? []), ...noiseAdvisories(channel), ...balanceAdvisories(channel, feedthrough)],
  };
}

function thirdHarmonic({ axis }: ReceiveModel, { driveAxes }: ScannerModel): number {
  return 3 * (driveAxes.find((each) => each.axis === axis) ?? driveAxes[0]).frequency_Hz;
}

/** Noise density of a channel, referred to the induced voltage. A stated total is white by its own statement. */
export function noiseAt(channel: ReceiveModel, scanner: ScannerModel, frequency_Hz: number): ChannelNoise {
  const stated = receiveChainOf(channel, scanner);
  if (stated === undefined) return { frequency_Hz, total: channel.noise_V_per_sqrtHz };
  return noiseDensity_V_per_sqrtHz(stated.chain, frequency_Hz);
}

function reaches(sources: Parameters<typeof fieldOfSources>[0], { axis }: ReceiveModel, { bore }: ScannerModel) {
  const coil = fieldOfSources(sources);
  return axes.map((direction) => {
    const limit_m = direction === bore.axis ? bore.halfLength_m : bore.radius_m * 0.98;
    const reach = sensitivityReach_m(
      coil,
      { center_m: [0, 0, 0], direction: unit(direction) },
      { axis: unit(axis), limit_m },
    );
    return Number.isFinite(reach) ? reach : null;
  });
}

function unit(axis: "x" | "y" | "z"): Vector3 {
  const at = axisIndex(axis);
  return [at === 0 ? 1 : 0, at === 1 ? 1 : 0, at === 2 ? 1 : 0];
}

/** What the fundamental leaves at the digitiser, against its range and the noise; needs a digitiser and windings. */
function rangeOf(channel: ReceiveModel, scanner: ScannerModel, feedthrough_V: number | null): DynamicRange | null {
  const stated = receiveChainOf(channel, scanner);
  const { digitiser, fundamentalLeft } = channel.chain;
  if (stated === undefined || digitiser === undefined || !feedthrough_V || fundamentalLeft === 0) return null;
  const drive = scanner.driveAxes.find(({ axis }) => axis === channel.axis) ?? scanner.driveAxes[0];
  const band = {
    from_Hz: channel.chain.lowCutoff_Hz ?? 1.5 * drive.frequency_Hz,
    to_Hz: Math.min(channel.bandwidth_Hz ?? Number.POSITIVE_INFINITY, digitiser.rate_per_s / 2),
  };
  const line = { frequency_Hz: drive.frequency_Hz, amplitude_V: feedthrough_V * fundamentalLeft };
  // `fundamentalLeft` is the whole filter's doing at the drive frequency: its edges must not count there twice.
  const flat = { ...stated.chain, filter: { lowPass: stated.chain.filter.lowPass } };
  return band.from_Hz < band.to_Hz ? dynamicRange(flat, [line], band) : null;
}

function noiseAdvisories({ axis, chain, noise_V_per_sqrtHz }: ReceiveModel): string[] {
  const { resistance_Ohm, temperature_K, statedNoise_V_per_sqrtHz } = chain;
  if (resistance_Ohm === undefined || statedNoise_V_per_sqrtHz === undefined) return [];
  const thermal = thermalNoise_V_per_sqrtHz(resistance_Ohm, temperature_K);
  return noise_V_per_sqrtHz >= thermal
    ? []
    : [
        `receive ${axis}: the stated noise is below the thermal noise of its resistance, ${(thermal * 1e9).toPrecision(3)} nV/Hz^0.5`,
      ];
}

/** A gradiometer that is not balanced in the field of its own drive coil, or that nobody could build so well. */
function balanceAdvisories({ axis, chain }: ReceiveModel, feedthrough: Feedthrough | null): string[] {
  if (feedthrough === null || !feedthrough.isOpposed) return [];
  const left = feedthrough.asDrawn_V / feedthrough.oneSide_V;
  return [
    ...(left > 0.01
      ? [
          `receive ${axis}: as drawn its opposed windings leave ${(100 * left).toPrecision(3)} % of one side's feedthrough: they are not balanced in the field of this drive`,
        ]
      : []),
    ...(chain.imbalance === undefined
      ? [`receive ${axis}: no imbalance is stated: its feedthrough is that of a perfectly built gradiometer`]
      : []),
  ];
}
