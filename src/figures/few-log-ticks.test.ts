import { describe, expect, it } from "vitest";
import { fewLogTicks } from "./few-log-ticks.js";

describe("fewLogTicks", () => {
  it.each([
    [[0.02, 60], 10, [0.1, 1, 10]],
    [[0.4, 8], 2, [1, 5]],
    [[2e-4, 3e3], 4, [0.01, 1, 100]],
    [[0.5, 7], 5, [0.5, 1, 2, 5]],
  ] as const)("%j, at most %d -> %j", (range, most, ticks) => expect(fewLogTicks(range, most)).toEqual(ticks));
});
