import { describe, expect, it } from "vitest";
import { finishInSlices, finishSteps, partOf, type Steps } from "./steps.js";

function* count(n: number): Steps<number> {
  let sum = 0;
  for (let i = 0; i < n; i++) {
    sum += i;
    yield (i + 1) / n;
  }
  return sum;
}

describe("work in steps", () => {
  it("gives the same result at once and in slices", async () => {
    expect(finishSteps(count(100))).toBe(4950);
    const seen: number[] = [];
    expect(await finishInSlices(count(100), { slice_s: 0, onProgress: (fraction) => seen.push(fraction) })).toBe(4950);
    expect(seen).toHaveLength(100);
    expect(seen.at(-1)).toBe(1);
  });

  it("stops between slices when asked, without finishing", async () => {
    const stop = new AbortController();
    let steps = 0;
    const work = finishInSlices(count(1e9), {
      slice_s: 0,
      signal: stop.signal,
      onProgress: () => {
        steps++;
        if (steps === 10) stop.abort();
      },
    });
    await expect(work).rejects.toMatchObject({ code: "Cancelled" });
    expect(steps).toBe(10);
  });

  it("maps an inner part onto its share", () => {
    expect([...partOf(count(2), 0.5, 1)]).toEqual([0.75, 1]);
  });
});
