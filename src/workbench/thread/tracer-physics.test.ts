import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { parseDocument } from "../../documents/index.js";
import { responseOf } from "./tracer-physics.js";

const shipped = (name: string) => {
  const text = readFileSync(new URL(`../../../shipped/tracers/${name}.json`, import.meta.url), "utf8");
  return parseDocument(text, { family: "tracer" }).model;
};

describe("the response that scans and maps use", () => {
  it("refuses what it would get wrong: relaxation, and chains", () => {
    expect(() => responseOf(shipped("clustered-two-sizes"))).toThrow(/relaxation of kind "debye"/);
    const chained = shipped("chained-cores-20-nm");
    expect(() => responseOf({ ...chained, relaxation: { kind: "none" } })).toThrow(/a coupling of 2\.2/);
  });

  it("takes a mixture as it is", () => {
    const mixture = { ...shipped("clustered-two-sizes"), relaxation: { kind: "none" } } as const;
    const share = responseOf(mixture).endMoment_A_m2_per_kg / mixture.core.momentPerIron_A_m2_per_kg;
    // At 0.4 T cores of 7 nm (70 % of the volume) have xi about 6, L = 0.83; those of 24 nm are saturated within 1 %.
    expect(share).toBeCloseTo(0.7 * 0.83 + 0.3 * 0.99, 1);
  });
});
