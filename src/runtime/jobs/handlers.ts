import type { Steps } from "../../numerics/index.js";
import {
  type BrownianResponses,
  brownianResponsesSteps,
  macrospinChunk,
  type PeriodicMagnetisation,
  respondPartSteps,
} from "../../physics/index.js";
import type { KernelSet } from "../kernels/kernel-set.js";
import { periodicField } from "./drive.js";
import type { FokkerPlanckShare } from "./fokker-planck-ensemble.js";
import type { JobName } from "./job.js";
import type { ChainField, MacrospinShare, MacrospinSums } from "./macrospin-chains.js";
import type { TracerResponseShare } from "./tracer-response.js";

/** What a worker does with one chunk of a job. */
export interface Handler<Share, Part> {
  readonly steps: (share: Share, kernels: KernelSet) => Promise<Steps<Part>>;
  /** Buffers of the part that are handed over instead of copied. */
  readonly transferables: (part: Part) => readonly ArrayBufferLike[];
}

const fokkerPlanckEnsemble: Handler<FokkerPlanckShare, BrownianResponses> = {
  async steps({ drive, particles, ...options }, kernels) {
    const kernel = await kernels.brownian();
    return brownianResponsesSteps(periodicField(drive), particles, { ...options, kernel });
  },
  transferables: ({ responses }) => [responses.buffer],
};

const macrospinChains: Handler<MacrospinShare, MacrospinSums> = {
  async steps({ chain, run, chunk }, kernels) {
    const [kernel, normals] = [await kernels.macrospin(), await kernels.normals()];
    const options = { chunk, kernel, ...(normals === undefined ? {} : { normals }) };
    return macrospinChunk(chain, { ...run, field_T: fieldOf(run.field) }, options);
  },
  transferables: ({ perSpin, squares, timeMeans }) => [perSpin.buffer, squares.buffer, timeMeans.buffer],
};

const tracerResponse: Handler<TracerResponseShare, PeriodicMagnetisation> = {
  async steps({ drive, part, ...options }, kernels) {
    const kernel = part.kind === "brownian" ? await kernels.brownian() : undefined;
    return respondPartSteps(periodicField(drive), part, { ...options, kernel });
  },
  transferables: ({ magnetisation }) => [magnetisation.buffer],
};

function fieldOf(field: ChainField): (time_s: number) => number {
  return field.kind === "constant" ? () => field.field_T : periodicField(field).field_T;
}

/** The handler of every job. A share comes from the job of the same name, so its type is the handler's. */
export const handlers: Readonly<Record<JobName, Handler<never, unknown>>> = {
  "fokker-planck-ensemble": erased(fokkerPlanckEnsemble),
  "macrospin-chains": erased(macrospinChains),
  "tracer-response": erased(tracerResponse),
};

/** Forgets the part's type: the worker only passes it on, with the buffers named by the handler itself. */
function erased<Share, Part>({ steps, transferables }: Handler<Share, Part>): Handler<Share, unknown> {
  return { steps, transferables: (part) => transferables(part as Part) };
}
