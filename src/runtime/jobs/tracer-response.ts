import {
  combineResponses,
  type DrivenTracer,
  type PeriodicMagnetisation,
  type ResponsePart,
  responseParts,
} from "../../physics/index.js";
import { type Drive, isOfDrive } from "./drive.js";
import type { Job } from "./job.js";

/** The response of a tracer to a drive, by the relaxation that it states. */
export interface TracerResponse {
  readonly drive: Drive;
  readonly tracer: DrivenTracer;
  readonly samples?: number;
}

export interface TracerResponseShare {
  readonly drive: Drive;
  readonly part: ResponsePart;
  readonly samples?: number;
}

/** `periodicResponse` for the pool: the same bits. Its chunks are the parts of the tracer, `responseParts`. */
export const tracerResponse: Job<TracerResponse, TracerResponseShare, PeriodicMagnetisation, PeriodicMagnetisation> = {
  name: "tracer-response",
  chunks: ({ tracer }) => partsOf(tracer).length,
  share: ({ drive, tracer, samples }, chunk) => ({
    drive,
    part: partsOf(tracer)[chunk],
    ...(samples === undefined ? {} : { samples }),
  }),
  combine: (parts, { tracer }) => combineResponses(partsOf(tracer), parts),
  relocate: (path) => (isOfDrive(path) ? `drive.${path}` : path),
};

/** Cutting a tracer takes a root search for each size, and the pool asks chunk by chunk: cut once while it is at work. */
const cut = new WeakMap<DrivenTracer, readonly ResponsePart[]>();

function partsOf(tracer: DrivenTracer): readonly ResponsePart[] {
  const known = cut.get(tracer);
  if (known !== undefined) return known;
  const parts = responseParts(tracer);
  cut.set(tracer, parts);
  return parts;
}
