import { describe, expect, it } from "vitest";
import { normalQuantile } from "../../numerics/index.js";
import {
  currieLimitsFormula,
  exactKnownBlankLimits,
  exactPairedLimits,
  knownBlankLimits,
  pairedLimits,
} from "./currie.js";

describe("Currie limits", () => {
  it("solve their own definitions (no rounding): both error rates are 5 % in the normal approximation", () => {
    const k = normalQuantile(0.95);
    for (const blank of [0, 1, 100, 1e6]) {
      for (const [limits, blanks] of [
        [exactPairedLimits(blank), 2],
        [exactKnownBlankLimits(blank), 1],
      ] as const) {
        expect(limits.critical).toBeCloseTo(k * Math.sqrt(blanks * blank), 8);
        // At the detection limit the net count has variance L_D + blanks B and must exceed L_C 95 times in 100.
        const spread = Math.sqrt(limits.detection + blanks * blank);
        expect((limits.detection - limits.critical) / spread).toBeCloseTo(k, 10);
        const tenth = Math.sqrt(limits.quantification + blanks * blank) / limits.quantification;
        expect(tenth).toBeCloseTo(0.1, 12);
      }
    }
  });

  it("published coefficients are the exact ones to their printed digits: 0.3 % (2.33 against 2.326)", () => {
    for (const blank of [70, 1e3, 1e6]) {
      const pairs = [
        [pairedLimits(blank), exactPairedLimits(blank)],
        [knownBlankLimits(blank), exactKnownBlankLimits(blank)],
      ] as const;
      for (const [published, exact] of pairs) {
        expect(Math.abs(published.critical / exact.critical - 1)).toBeLessThan(3e-3);
        expect(Math.abs(published.detection / exact.detection - 1)).toBeLessThan(3e-3);
      }
    }
  });

  it("cautions when the blank is too small for the approximation", () => {
    expect(currieLimitsFormula.advise?.({ blank: 9 })).toHaveLength(1);
    expect(currieLimitsFormula.advise?.({ blank: 100 })).toEqual([]);
  });
});
