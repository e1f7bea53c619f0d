/**
 * One problem of a fixed size; `run` does it once (a promise is awaited). Problems that are compared stand side by side in
 * one list.
 */
export interface Problem {
  readonly name: string;
  readonly size: string;
  readonly run: () => unknown;
  /** How often `run` is called per sample, so that a sample lasts some milliseconds. */
  readonly repeats?: number;
  /** Name of the problem that this one's time is divided by. */
  readonly ratioTo?: string;
}

export interface Timing {
  readonly name: string;
  readonly size: string;
  readonly median_s: number;
  readonly minimum_s: number;
  readonly maximum_s: number;
  /** Median over samples of the ratio within one round: drifts of the machine's speed drop out. */
  readonly ratio?: { readonly to: string; readonly median: number };
}

/**
 * Times every problem in interleaved rounds, after `warmUp` rounds that are thrown away. Absolute times drift on a shared
 * machine; the ratio of two problems within one round does not.
 */
export async function measure(problems: readonly Problem[], { rounds = 15, warmUp = 3 } = {}): Promise<Timing[]> {
  const samples = new Map<string, number[]>(problems.map(({ name }) => [name, []]));
  for (let round = -warmUp; round < rounds; round++)
    for (const { name, run, repeats = 1 } of problems) {
      const began = performance.now();
      for (let i = 0; i < repeats; i++) {
        const running = run();
        if (running instanceof Promise) await running;
      }
      if (round >= 0) samples.get(name)!.push((performance.now() - began) / 1000 / repeats);
    }
  return problems.map(({ name, size, ratioTo }) => {
    const own = samples.get(name)!;
    const other = ratioTo === undefined ? undefined : samples.get(ratioTo);
    return {
      name,
      size,
      median_s: median(own),
      minimum_s: Math.min(...own),
      maximum_s: Math.max(...own),
      ...(other === undefined
        ? {}
        : { ratio: { to: ratioTo!, median: median(own.map((time, i) => time / other[i])) } }),
    };
  });
}

export function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  const middle = sorted.length >> 1;
  return sorted.length % 2 === 1 ? sorted[middle] : (sorted[middle - 1] + sorted[middle]) / 2;
}
