import { heldRgbOfOklab, hexOf } from "./oklab.js";

/**
 * Colours for signed maps: white is zero, more is darker. Linear in the lightness of Oklab, so that equal steps of the
 * value are equal steps to the eye, and so in print without colour. Negative values go to orange and stay lighter than
 * 0.6: a grey print can't mistake them for the strong positive ones (the map marks them with a dash as well).
 *
 * Source  `oklab.ts`; the test compares lightness with CIE L* of 1976 and the white and grey points
 */
export type RampName = "iron" | "signal";

interface Arm {
  readonly endLightness: number;
  readonly chroma: number;
  /** Degrees in Oklab: 255 is blue, 55 orange. */
  readonly hue: number;
}

const zeroLightness = 0.985;
const negative: Arm = { endLightness: 0.62, chroma: 0.15, hue: 55 };
const positive: Readonly<Record<RampName, Arm>> = {
  iron: { endLightness: 0.24, chroma: 0.13, hue: 255 },
  signal: { endLightness: 0.24, chroma: 0, hue: 0 },
};

/** `#rrggbb` for a part of full scale, -1 to 1 (held there beyond). */
export function rampColour(part: number, name: RampName): string {
  const arm = part < 0 ? negative : positive[name];
  const t = Math.min(1, Math.abs(part));
  const lightness = zeroLightness + t * (arm.endLightness - zeroLightness);
  // Chroma rises and, on the long arm, falls again: near black there is none to be had.
  const chroma =
    arm.chroma * (arm.endLightness < 0.5 ? Math.sin(Math.PI * Math.min(1, 0.12 + 0.68 * t)) * Math.min(1, 4 * t) : t);
  return hexOf(heldRgbOfOklab(lightness, chroma, arm.hue));
}
