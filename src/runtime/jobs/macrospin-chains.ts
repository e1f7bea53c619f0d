import {
  combineMacrospins,
  type MacrospinChain,
  type MacrospinCurve,
  type MacrospinRun,
  macrospinChunks,
} from "../../physics/index.js";
import { type Drive, isOfDrive } from "./drive.js";
import type { Job } from "./job.js";

/** A drive, or a field that stays. */
export type ChainField = Drive | { readonly kind: "constant"; readonly field_T: number };

/** Many independent chains of macrospins in one field. */
export interface MacrospinChains {
  readonly chain: MacrospinChain;
  readonly run: Omit<MacrospinRun, "field_T"> & { readonly field: ChainField };
}

export interface MacrospinShare extends MacrospinChains {
  readonly chunk: number;
}

/** What one chunk of chains adds to the whole. */
export type MacrospinSums = Parameters<typeof combineMacrospins>[0][number];

const runPaths = /^(chains|times_s|step_s|fieldDirection|start|seed|job)\b/;

/** `macrospinLoop` for the pool: the same bits. Its chunks and their random streams are those of the method. */
export const macrospinChains: Job<MacrospinChains, MacrospinShare, MacrospinSums, MacrospinCurve> = {
  name: "macrospin-chains",
  // A number of chains that cannot be makes one chunk, which says what is wrong with it.
  chunks: ({ run }) => (Number.isSafeInteger(run.chains) ? Math.max(1, macrospinChunks(run)) : 1),
  share: ({ chain, run }, chunk) => ({ chain, run, chunk }),
  combine: (parts, { chain }) => combineMacrospins(parts, chain),
  relocate(path) {
    if (isOfDrive(path)) return `run.field.${path}`;
    return runPaths.test(path) ? `run.${path}` : `chain.${path}`;
  },
};
