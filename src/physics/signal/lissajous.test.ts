import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { lissajousPeriod_s } from "./lissajous.js";

describe("Lissajous period", () => {
  it("is the first time at which every axis has made whole turns", () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 1, max: 150 }), { minLength: 1, maxLength: 3 }), (dividers) => {
        const ticks = Math.round(lissajousPeriod_s(1, dividers));
        expect(dividers.every((n) => ticks % n === 0)).toBe(true);
        // No proper fraction of it does: dividing by any prime factor breaks some axis.
        for (let p = 2; p <= ticks && p < 150; p++) {
          if (ticks % p === 0) expect(dividers.every((n) => (ticks / p) % n === 0)).toBe(false);
        }
      }),
    );
  });

  it.each([
    [[102, 95.5], /divider: found 95.5/],
    [[0], /divider: found 0/],
    [[Number.NaN], /divider: found NaN/],
    [[94906267, 94906249, 94906247], /least common multiple beyond/],
  ])("refuses %j", (dividers, message) => {
    expect(() => lissajousPeriod_s(2.5e6, dividers)).toThrow(message);
  });
});
