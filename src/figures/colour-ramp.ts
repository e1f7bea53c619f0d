/**
 * Colours for signed maps: white is zero, more is darker. Linear in the lightness of Oklab, so that equal steps of the
 * value are equal steps to the eye, and so in print without colour. Negative values go to orange and stay lighter than
 * 0.6: a grey print can't mistake them for the strong positive ones (the map marks them with a dash as well).
 *
 * Source  Oklab and its matrices: Ottosson, "A perceptual color space for image processing" (2020); sRGB: IEC 61966-2-1
 *         (both from memory; the test compares lightness with CIE L* of 1976 and the white and grey points)
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
  return oklabToHex(lightness, chroma, (arm.hue * Math.PI) / 180);
}

function oklabToHex(lightness: number, chroma: number, hue: number): string {
  const [a, b] = [chroma * Math.cos(hue), chroma * Math.sin(hue)];
  const l = (lightness + 0.3963377774 * a + 0.2158037573 * b) ** 3;
  const m = (lightness - 0.1055613458 * a - 0.0638541728 * b) ** 3;
  const s = (lightness - 0.0894841775 * a - 1.291485548 * b) ** 3;
  const linear = [
    4.0767416621 * l - 3.3077115913 * m + 0.2309699292 * s,
    -1.2684380046 * l + 2.6097574011 * m - 0.3413193965 * s,
    -0.0041960863 * l - 0.7034186147 * m + 1.707614701 * s,
  ];
  return `#${linear.map((part) => byteOf(part).toString(16).padStart(2, "0")).join("")}`;
}

function byteOf(linear: number): number {
  const held = Math.min(1, Math.max(0, linear));
  const encoded = held <= 0.0031308 ? 12.92 * held : 1.055 * held ** (1 / 2.4) - 0.055;
  return Math.round(255 * encoded);
}
