import type { TracerModel } from "../../documents/index.js";
import { FerruleError } from "../../errors.js";
import { type PeriodicMagnetisation, periodicResponse } from "../../physics/index.js";
import { tracerResponse, WorkerPool } from "../../runtime/index.js";
import type { DriveConditions } from "./drive-conditions.js";
import { drivenTracer } from "./dynamic-prediction.js";

export interface RunOptions {
  readonly signal?: AbortSignal | undefined;
  readonly onProgress?: ((fraction: number) => void) | undefined;
}

/** Workers are started by the first tracer that needs them. */
export function lazyPool() {
  let opened: Promise<WorkerPool> | undefined;
  return {
    open: () => {
      opened ??= WorkerPool.open();
      return opened;
    },
    close: async () => (await opened)?.close(),
  };
}

/** Costly models on the pool, which a request to stop ends at once; the others here and now. */
export async function solveResponse(
  tracer: TracerModel,
  { data, field }: Pick<DriveConditions, "data" | "field">,
  { pool, signal, onProgress }: RunOptions & { readonly pool: ReturnType<typeof lazyPool> },
): Promise<PeriodicMagnetisation> {
  const { driven, samples, isCostly } = drivenTracer(tracer);
  if (!isCostly) {
    if (signal?.aborted)
      throw new FerruleError("Cancelled", { found: "a request to stop", accepted: "running to the end" });
    return periodicResponse(field, driven, { samples });
  }
  const options = { ...(signal === undefined ? {} : { signal }), ...(onProgress === undefined ? {} : { onProgress }) };
  return (await pool.open()).run(tracerResponse, { drive: data, tracer: driven, samples }, options);
}
