import {
  areaTurns_m2,
  type CurrentSource,
  type FieldFunction,
  fieldOfSources,
  fluxLinkage_Wb,
} from "../../physics/index.js";
import { type Axis, axisIndex } from "../fields/axis-field.js";
import type { CoilModel } from "./coil-field.js";
import { fieldPerAmpere_T_per_A } from "./coil-needs.js";
import { coilSources } from "./coil-sources.js";
import type { ReceiveModel } from "./receive-model.js";

export interface FeedthroughDrive {
  readonly axis: Axis;
  readonly amplitude_T: number;
  readonly frequency_Hz: number;
  readonly coil?: CoilModel | undefined;
}

/** What a drive induces in the windings of a channel, peak, before any filter. */
export interface Feedthrough {
  /** In all windings that add, or all that oppose, whichever is more. */
  readonly oneSide_V: number;
  /** In all together, as drawn. */
  readonly asDrawn_V: number;
  /** Some windings oppose others: a gradiometer. */
  readonly isOpposed: boolean;
  /** With what building tolerances or a compensation leave. */
  readonly direct_V: number;
}

/** Gauss points per direction of the flux through a winding: far below a per mille for coils a few millimetres apart. */
const nodes = 12;

/**
 * Direct feedthrough of a drive; null where the channel states no windings.
 *   u = 2 pi f (|sum of the windings' flux| + e x flux of one side)   opposed windings, e: `imbalance`, 0 when not stated
 *   u = 2 pi f |flux| e                                               windings of one sense, e: 1 when not stated
 * With a drive coil the flux is mutual inductance times current; without one the drive is taken as uniform. A winding
 * that is a path of segments is always taken in a uniform drive.
 *
 * Checked by receive-feedthrough.test.ts (balanced pair; facts, surprise 11)
 */
export function feedthroughOf({ windings, chain }: ReceiveModel, drive: FeedthroughDrive): Feedthrough | null {
  if (windings === undefined) return null;
  const flux = fluxPerWinding(drive);
  const omega = 2 * Math.PI * drive.frequency_Hz;
  const parts_V = windings.map(({ sources }) => omega * flux(sources));
  const adding = parts_V.reduce((sum, part) => sum + Math.max(part, 0), 0);
  const opposing = parts_V.reduce((sum, part) => sum + Math.max(-part, 0), 0);
  const isOpposed = adding > 0 && opposing > 0;
  const [oneSide_V, asDrawn_V] = [Math.max(adding, opposing), Math.abs(adding - opposing)];
  const direct_V = isOpposed ? asDrawn_V + (chain.imbalance ?? 0) * oneSide_V : asDrawn_V * (chain.imbalance ?? 1);
  return { oneSide_V, asDrawn_V, isOpposed, direct_V };
}

/** Flux of a drive at its amplitude through the sources of one winding, Wb. */
function fluxPerWinding({ axis, amplitude_T, coil }: FeedthroughDrive): (sources: readonly CurrentSource[]) => number {
  const uniform = (sources: readonly CurrentSource[]) => amplitude_T * areaTurns_m2(sources)[axisIndex(axis)];
  if (coil === undefined) return uniform;
  const current_A = amplitude_T / Math.abs(fieldPerAmpere_T_per_A(coil, axis));
  const field: FieldFunction = fieldOfSources(coilSources(coil, current_A));
  return (sources) =>
    sources.some(({ kind }) => kind === "segment") ? uniform(sources) : fluxLinkage_Wb(sources, field, { nodes });
}

export function directFeedthrough_V(receive: ReceiveModel, drive: FeedthroughDrive): number | null {
  return feedthroughOf(receive, drive)?.direct_V ?? null;
}

/** The same behind filter and gain: what the digitiser sees of the fundamental. */
export function feedthroughAtDigitiser_V(receive: ReceiveModel, drive: FeedthroughDrive): number | null {
  const direct_V = directFeedthrough_V(receive, drive);
  const { digitiser, fundamentalLeft } = receive.chain;
  return direct_V === null ? null : direct_V * fundamentalLeft * (digitiser?.gain ?? 1);
}
