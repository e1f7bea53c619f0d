import { FerruleError } from "../../errors.js";

/**
 * Long work in small steps: a generator that yields the fraction done and returns the result. The same code runs to the
 * end at once, or in slices that let a page draw and Ctrl-C be heard.
 */
export type Steps<Result> = Generator<number, Result, void>;

/** Runs to the end at once. */
export function finishSteps<Result>(steps: Steps<Result>): Result {
  for (;;) {
    const { done, value } = steps.next();
    if (done) return value as Result;
  }
}

/**
 * Runs to the end, giving way to other work at least every `slice_s` (or after one step, if that takes longer).
 *
 * @throws FerruleError Cancelled once the signal is aborted
 */
export async function finishInSlices<Result>(
  steps: Steps<Result>,
  {
    signal,
    onProgress,
    slice_s = 0.05,
  }: { signal?: AbortSignal; onProgress?: (fraction: number) => void; slice_s?: number } = {},
): Promise<Result> {
  for (;;) {
    const end = performance.now() + 1000 * slice_s;
    do {
      const { done, value } = steps.next();
      if (done) return value as Result;
      onProgress?.(value as number);
    } while (performance.now() < end);
    await new Promise((resolve) => setTimeout(resolve, 0));
    if (signal?.aborted)
      throw new FerruleError("Cancelled", { found: "a request to stop", accepted: "running to the end" });
  }
}

/** Passes on the steps of an inner part, mapped onto a share of the whole. */
export function* partOf<Result>(steps: Steps<Result>, from: number, to: number): Steps<Result> {
  for (;;) {
    const { done, value } = steps.next();
    if (done) return value as Result;
    yield from + (to - from) * (value as number);
  }
}
