import { FerruleError } from "../../errors.js";
import { requirePositive } from "../particle/ranges.js";

/** Chains that share one stream of random numbers: a constant of the method, since it decides which number goes where. */
export const chainsPerChunk = 32;

/** What is done with the chains. */
export interface MacrospinRun {
  /** mu0H at a time, T. */
  readonly field_T: (time_s: number) => number;
  /** Times at which the moments are read, rising from 0 or later, s, shape [n]. The run starts at time 0. */
  readonly times_s: Float64Array;
  /** Longest step; each interval between two times is cut into equal steps not longer than this. */
  readonly step_s: number;
  readonly chains: number;
  /** Of the field in the frame of each chain (chain along z): a vector, or random for each chain. Default along. */
  readonly fieldDirection?: readonly [number, number, number] | "random";
  /** Moments at time 0. Default random. */
  readonly start?: "random" | "along-field" | "against-field" | "along-chain";
  readonly seed: number;
  readonly job?: number;
}

/** How many chunks a run has. */
export function macrospinChunks({ chains }: { chains: number }): number {
  return Math.ceil(chains / chainsPerChunk);
}

/** Refuses a run that cannot be done. */
export function requireRun({ times_s, step_s, chains }: MacrospinRun): void {
  requirePositive(step_s, "step_s", "1e-12 (1 ps)");
  if (!(Number.isSafeInteger(chains) && chains >= 1))
    throw new FerruleError("InvalidValue", {
      path: "chains",
      found: String(chains),
      accepted: "a whole number from 1, e.g. 1000",
    });
  const rises = times_s.every((time, i) => time >= (i === 0 ? 0 : times_s[i - 1]) && Number.isFinite(time));
  if (rises && times_s.length > 0) return;
  throw new FerruleError("InvalidValue", {
    path: "times_s",
    found: times_s.length === 0 ? "no time" : "times that fall, are negative or not finite",
    accepted: "at least one time, rising from 0 or later, e.g. 0, 1e-9, 2e-9",
  });
}
