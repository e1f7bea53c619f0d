/** The worker's side of the pool: one chunk in, its part out. */
import { move, transferableSymbol, valueSymbol } from "piscina";
import { handlers } from "./jobs/handlers.js";
import { type KernelKind, type KernelSet, kernelSet } from "./kernels/kernel-set.js";
import { postedError } from "./posted-error.js";
import { type Task, type TaskResult, wholeChunk } from "./task.js";

// A worker owns its kernels and their memory for as long as it lives.
const kernelSets: Readonly<Record<KernelKind, KernelSet>> = {
  reference: kernelSet("reference"),
  wasm: kernelSet("wasm"),
};

export default async function runTask({ job, share, kernels, progress, chunk }: Task): Promise<unknown> {
  const { steps, transferables } = handlers[job];
  const done = new Int32Array(progress);
  try {
    const work = await steps(share as never, kernelSets[kernels]);
    for (;;) {
      const next = work.next();
      if (next.done) return moved({ part: next.value }, transferables(next.value));
      Atomics.store(done, chunk, Math.floor(next.value * wholeChunk));
    }
  } catch (error) {
    return moved({ error: postedError(error) }, []);
  }
}

/** A result whose buffers change hands, in the form that the pool's library knows. */
function moved(result: TaskResult, buffers: readonly ArrayBufferLike[]): unknown {
  return move({ [transferableSymbol]: buffers, [valueSymbol]: result });
}
