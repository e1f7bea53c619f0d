import { describe, expect, it } from "vitest";
import { rampColour } from "./colour-ramp.js";

/** CIE 1976 lightness L* of an sRGB colour (IEC 61966-2-1 decoding, D65 luminance weights): another scale than Oklab's. */
function lightness(hex: string): number {
  const [r, g, b] = [1, 3, 5].map((at) => {
    const c = Number.parseInt(hex.slice(at, at + 2), 16) / 255;
    return c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4;
  });
  const y = 0.2126 * r + 0.7152 * g + 0.0722 * b;
  return y > (6 / 29) ** 3 ? 116 * Math.cbrt(y) - 16 : (y * 24389) / 27;
}

const parts = Array.from({ length: 21 }, (_, i) => i / 20);

describe("rampColour", () => {
  it.each(["iron", "signal"] as const)("%s: each of 20 equal steps darkens by a like amount, up and down", (name) => {
    for (const sign of [1, -1]) {
      const L = parts.map((part) => lightness(rampColour(sign * part, name)));
      const steps = L.slice(1).map((each, i) => L[i] - each);
      // Oklab's lightness and CIE's differ by their hue terms: a factor of 2.5 between steps is still no false edge.
      expect(Math.max(...steps) / Math.min(...steps)).toBeLessThan(2.5);
      expect(Math.min(...steps)).toBeGreaterThan(0);
    }
  });
  it("starts at near white and keeps negative colours lighter than the middle of the positive ones", () => {
    expect(lightness(rampColour(0, "iron"))).toBeGreaterThan(97);
    expect(lightness(rampColour(-1, "iron"))).toBeGreaterThan(lightness(rampColour(0.6, "iron")));
    expect(lightness(rampColour(1, "iron"))).toBeLessThan(20);
  });
  it("a signal map's positive colours are greys, and beyond full scale the end colour holds", () => {
    const grey = rampColour(0.5, "signal");
    expect(grey.slice(1, 3)).toBe(grey.slice(3, 5));
    expect(grey.slice(1, 3)).toBe(grey.slice(5, 7));
    expect(rampColour(7, "iron")).toBe(rampColour(1, "iron"));
  });
});
