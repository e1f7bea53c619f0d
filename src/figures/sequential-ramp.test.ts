import { describe, expect, it } from "vitest";
import { rgbOfOklab } from "./oklab.js";
import { sequentialColour, sequentialRgb } from "./sequential-ramp.js";

/** CIE 1976 lightness L* (IEC 61966-2-1 decoding, D65 luminance weights): another scale than Oklab's. */
function lightness(rgb: readonly number[]): number {
  const [r, g, b] = rgb.map((byte) => {
    const c = byte / 255;
    return c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4;
  });
  const y = 0.2126 * r + 0.7152 * g + 0.0722 * b;
  return y > (6 / 29) ** 3 ? 116 * Math.cbrt(y) - 16 : (y * 24389) / 27;
}

describe("rgbOfOklab", () => {
  it("gives white, black and greys, and keeps lightness where sRGB lacks the colour", () => {
    expect(rgbOfOklab(1, 0, 0)).toEqual([255, 255, 255]);
    expect(rgbOfOklab(0, 0, 0)).toEqual([0, 0, 0]);
    const [r, g, b] = rgbOfOklab(0.5, 0, 77);
    expect([g, b]).toEqual([r, r]);
    // Oklab's grey of lightness L has the luminance L^3.
    expect(lightness([r, g, b])).toBeCloseTo(116 * 0.5 - 16, 0); // a byte is 0.4 of L*
    // No such yellow exists; the nearest in chroma is as light as its grey within the hue term of L*.
    expect(Math.abs(lightness(rgbOfOklab(0.9, 0.4, 110)) - lightness(rgbOfOklab(0.9, 0, 0)))).toBeLessThan(4);
  });
});

describe("sequentialColour", () => {
  it.each(["field", "error", "receive", "neutral"] as const)("%s: 20 equal steps darken by like amounts", (name) => {
    const L = Array.from({ length: 21 }, (_, i) => lightness(sequentialRgb(i / 20, name)));
    const steps = L.slice(1).map((each, i) => L[i] - each);
    expect(Math.min(...steps)).toBeGreaterThan(0);
    // Oklab's lightness and CIE's differ by their hue terms: a factor of 2.5 between steps is still no false edge.
    expect(Math.max(...steps) / Math.min(...steps)).toBeLessThan(2.5);
    expect(L[0]).toBeGreaterThan(94);
    expect(L[20]).toBeLessThan(32);
  });
  it("holds the end colours outside full scale", () => {
    expect(sequentialColour(3, "field")).toBe(sequentialColour(1, "field"));
    expect(sequentialColour(-3, "field")).toBe(sequentialColour(0, "field"));
    expect(sequentialColour(0.5, "field")).toMatch(/^#[0-9a-f]{6}$/);
  });
});
