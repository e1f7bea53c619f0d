import type { Piscina } from "piscina";
import { FerruleError } from "../errors.js";
import type { Job } from "./jobs/job.js";
import type { KernelKind } from "./kernels/kernel-set.js";
import { receivedError } from "./posted-error.js";
import { type Task, type TaskResult, wholeChunk } from "./task.js";

export interface JobOptions {
  /** Stops the work; a busy worker is ended in the middle of what it does. */
  readonly signal?: AbortSignal;
  /** Told the fraction done, from 0 to 1, never falling. */
  readonly onProgress?: (fraction: number) => void;
  /** Hot loops to work with; both kinds give the same bits. Default: the WebAssembly twins. */
  readonly kernels?: KernelKind;
}

/** How often progress is looked at. */
const look_ms = 100;

/**
 * Worker threads that share out the chunks of jobs. Threads start when they are needed; `close` ends them.
 * The number of workers decides how long a result takes, and nothing else about it.
 */
export class WorkerPool {
  readonly workers: number;
  readonly #piscina: Piscina;

  private constructor(piscina: Piscina, workers: number) {
    this.#piscina = piscina;
    this.workers = workers;
  }

  /** @param options.workers  threads, at least 1. Default: one for each processor that this process may use. */
  static async open({ workers }: { workers?: number } = {}): Promise<WorkerPool> {
    const { availableParallelism } = await import("node:os");
    const threads = requireWorkers(workers ?? availableParallelism());
    const { Piscina } = await import("piscina");
    const options = {
      ...(await workerFile()),
      minThreads: 0,
      maxThreads: threads,
      idleTimeout: Number.POSITIVE_INFINITY,
    };
    return new WorkerPool(new Piscina(options), threads);
  }

  /**
   * Runs a job: chunks in parallel, their parts combined in index order.
   *
   * @throws FerruleError Cancelled once the signal is aborted; the refusal of the first chunk in order that has one
   */
  async run<Argument, Share, Part, Result>(
    job: Job<Argument, Share, Part, Result>,
    argument: Argument,
    { signal, onProgress, kernels = "wasm" }: JobOptions = {},
  ): Promise<Result> {
    refuseAborted(signal);
    const chunks = job.chunks(argument);
    const progress = new SharedArrayBuffer(4 * chunks);
    const parts: Part[] = new Array(chunks);
    const failures: (Error | undefined)[] = [];
    let next = 0;
    const lane = async () => {
      while (next < chunks && failures.length === 0) {
        const chunk = next++;
        const task: Task = { job: job.name, share: job.share(argument, chunk), kernels, progress, chunk };
        const result: TaskResult = await this.#piscina.run(task, signal === undefined ? {} : { signal });
        if ("error" in result)
          failures[chunk] = receivedError(result.error, (path) => job.relocate?.(path, chunk) ?? path);
        else parts[chunk] = result.part as Part;
        Atomics.store(new Int32Array(progress), chunk, wholeChunk);
      }
    };
    const watch = watched(progress, onProgress);
    try {
      await Promise.all(Array.from({ length: Math.min(this.workers, chunks) }, lane));
    } catch (error) {
      // A worker that was ended or died: the other lanes take no further chunk.
      next = chunks;
      refuseAborted(signal);
      throw error;
    } finally {
      watch.end();
    }
    const failure = failures.find((error) => error !== undefined);
    if (failure) throw failure;
    onProgress?.(1);
    return job.combine(parts, argument);
  }

  /** Ends the threads, also those that are at work. */
  async close(): Promise<void> {
    await this.#piscina.destroy();
  }
}

/** Runs one job in a pool of its own. */
export async function runJob<Argument, Share, Part, Result>(
  job: Job<Argument, Share, Part, Result>,
  argument: Argument,
  { workers, ...options }: JobOptions & { readonly workers?: number } = {},
): Promise<Result> {
  refuseAborted(options.signal);
  const pool = await WorkerPool.open(workers === undefined ? {} : { workers });
  try {
    return await pool.run(job, argument, options);
  } finally {
    await pool.close();
  }
}

/** Tells the fraction that the workers have written down, whenever it has grown. */
function watched(progress: SharedArrayBuffer, onProgress: JobOptions["onProgress"]): { end: () => void } {
  if (onProgress === undefined) return { end: () => {} };
  const done = new Int32Array(progress);
  let told = 0;
  const timer = setInterval(() => {
    let sum = 0;
    for (let i = 0; i < done.length; i++) sum += Atomics.load(done, i);
    const fraction = sum / (wholeChunk * done.length);
    if (fraction > told && fraction < 1) {
      told = fraction;
      onProgress(fraction);
    }
  }, look_ms);
  timer.unref();
  return { end: () => clearInterval(timer) };
}

/** The compiled worker beside this file; in a clone its source, with the loader that the clone's own tools use. */
async function workerFile(): Promise<{ filename: string; execArgv?: string[] }> {
  if (!import.meta.url.endsWith(".ts")) return { filename: new URL("./worker.js", import.meta.url).href };
  const { createRequire } = await import("node:module");
  const { pathToFileURL } = await import("node:url");
  const loader = pathToFileURL(createRequire(import.meta.url).resolve("tsx")).href;
  return { filename: new URL("./worker.ts", import.meta.url).href, execArgv: ["--import", loader] };
}

function refuseAborted(signal: AbortSignal | undefined): void {
  if (signal?.aborted)
    throw new FerruleError("Cancelled", { found: "a request to stop", accepted: "running to the end" });
}

function requireWorkers(workers: number): number {
  if (Number.isInteger(workers) && workers >= 1 && workers <= 1024) return workers;
  throw new FerruleError("InvalidValue", {
    path: "workers",
    found: String(workers),
    accepted: "a whole number of workers from 1 to 1024, e.g. 2",
  });
}
