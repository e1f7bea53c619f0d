/**
 * Work for the pool, declared once and imported by both sides. Everything that is posted is plain data.
 * How it is cut is a matter of the argument alone, and parts are combined in index order: the number of workers cannot
 * change a result.
 */
export interface Job<Argument, Share, Part, Result> {
  /** Key of the handler on the worker's side. */
  readonly name: JobName;
  /** How many chunks the argument has. Refuses what no chunk could be made of. */
  readonly chunks: (argument: Argument) => number;
  /** What one chunk needs. */
  readonly share: (argument: Argument, chunk: number) => Share;
  /** The whole from its parts, in index order. */
  readonly combine: (parts: readonly Part[], argument: Argument) => Result;
  /** The path of a refusal in the argument, from its path in a chunk's share. Default: the same. */
  readonly relocate?: (path: string, chunk: number) => string;
}

export type JobName = "fokker-planck-ensemble" | "macrospin-chains" | "tracer-response";
