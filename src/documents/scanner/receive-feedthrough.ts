import {
  areaTurns_m2,
  feedthroughVoltage_V,
  fieldOfSources,
  fluxLinkage_Wb,
  uniformFeedthroughVoltage_V,
} from "../../physics/index.js";
import { type Axis, axisIndex } from "../fields/axis-field.js";
import type { CoilModel } from "./coil-field.js";
import { fieldPerAmpere_T_per_A } from "./coil-needs.js";
import type { ReceiveModel } from "./receive-model.js";
import { coilSources } from "./selection-field.js";

export interface FeedthroughDrive {
  readonly axis: Axis;
  readonly amplitude_T: number;
  readonly frequency_Hz: number;
  readonly coil?: CoilModel | undefined;
}

/**
 * Voltage that the drive induces directly in a receive channel, peak; null where the channel states no windings.
 *   u = 2 pi f |flux of the drive through the windings of one sense| x imbalance
 * With a drive coil the flux is the mutual inductance times its current; without one the drive is taken as uniform.
 * Paths of segments are taken in a uniform drive. `imbalance` is the document's: what a real gradiometer leaves.
 */
export function directFeedthrough_V(
  { windings, chain }: ReceiveModel,
  { axis, amplitude_T, frequency_Hz, coil }: FeedthroughDrive,
): number | null {
  if (windings === undefined) return null;
  const one = windings.flatMap(({ sources }) => sources).filter(({ current_A }) => current_A > 0);
  const side = one.length === 0 ? windings.flatMap(({ sources }) => sources) : one;
  const options = { frequency_Hz, imbalance: chain.imbalance };
  if (coil === undefined || side.some(({ kind }) => kind === "segment"))
    return uniformFeedthroughVoltage_V(amplitude_T, areaTurns_m2(side)[axisIndex(axis)], options);
  const current_A = amplitude_T / Math.abs(fieldPerAmpere_T_per_A(coil, axis));
  return feedthroughVoltage_V(fluxLinkage_Wb(side, fieldOfSources(coilSources(coil, 1))), current_A, options);
}

/** The same behind filter and gain: what the digitiser sees of the fundamental. */
export function feedthroughAtDigitiser_V(receive: ReceiveModel, drive: FeedthroughDrive): number | null {
  const direct_V = directFeedthrough_V(receive, drive);
  const { digitiser, fundamentalLeft } = receive.chain;
  return direct_V === null ? null : direct_V * fundamentalLeft * (digitiser?.gain ?? 1);
}
