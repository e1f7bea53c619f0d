import { describe, expect, it } from "vitest";
import { type CoverageModel, tracerReplica } from "./replicas.js";

/**
 * A smoke test of forty; the campaign of thousands is campaigns/tracer-parameter-coverage. A right 95 % method covers fewer
 * than 32 of 40 with a probability of 0.0001 (binomial), so that a failure is a fault.
 */
describe("coverage of 95 % intervals, forty replicas", () => {
  it.each(["log-normal", "harmonics", "susceptibility"] satisfies CoverageModel[])("%s", (model) => {
    const replicas = Array.from({ length: 40 }, (_, index) => tracerReplica(model, index));
    const names = replicas[0].readings.map(({ name }) => name);
    for (const [k, name] of names.entries()) {
      const hits = replicas.filter(({ readings }) => {
        const { truth, interval } = readings[k];
        return interval[0] <= truth && truth <= interval[1];
      });
      expect(hits.length, name).toBeGreaterThanOrEqual(32);
    }
  });
});
