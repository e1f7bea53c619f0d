import type { JobName } from "./jobs/job.js";
import type { KernelKind } from "./kernels/kernel-set.js";
import type { PostedError } from "./posted-error.js";

/** What the pool posts to a worker: one chunk of a job. */
export interface Task {
  readonly job: JobName;
  readonly share: unknown;
  readonly kernels: KernelKind;
  /** Shared between pool and workers: millionths done of every chunk, Int32 [chunks]. */
  readonly progress: SharedArrayBuffer;
  readonly chunk: number;
}

/** What comes back. */
export type TaskResult = { readonly part: unknown } | { readonly error: PostedError };

/** The unit in which progress is written down. */
export const wholeChunk = 1_000_000;
