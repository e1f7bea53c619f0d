import { expect, it } from "vitest";
import { inducedVoltage_V } from "./reciprocity.js";

it("opposes a growing moment, and turns with the polarity", () => {
  expect(inducedVoltage_V(3e-5, 1e-4)).toBeCloseTo(-3e-9, 20);
  expect(inducedVoltage_V(3e-5, 1e-4, { polarity: -1 })).toBeCloseTo(3e-9, 20);
});
