import { describe, expect, it } from "vitest";
import { apparentPowerText, massText, ratioText } from "./engineering-text.js";

describe("figures of hardware as text", () => {
  it.each([
    [0.103, "0.103 kg"],
    [109.4, "109 kg"],
    [1612, "1610 kg"],
    [2.5e-3, "2.50 g"],
    [null, "not known"],
    [Number.NaN, "not known"],
  ])("mass %s is %s", (mass, text) => expect(massText(mass)).toBe(text));

  it.each([
    [36.2, "36.2 VA"],
    [2319, "2.32 kVA"],
    [66_000, "66.0 kVA"],
    [4.61e6, "4.61 MVA"],
    [null, "not known"],
  ])("apparent power %s is %s", (power, text) => expect(apparentPowerText(power)).toBe(text));

  it.each([
    [0, "0"],
    [0.000861, "0.00086"],
    [0.0638, "0.064"],
    [0.724, "0.72"],
    [3.1, "3.10"],
    [94.54, "94.5"],
    [594.89, "595"],
  ])("ratio %s is %s", (ratio, text) => expect(ratioText(ratio)).toBe(text));
});
