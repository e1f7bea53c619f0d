/**
 * Colours of a given Oklab lightness in sRGB.
 *
 * Source  Ottosson, "A perceptual color space for image processing" (2020); sRGB: IEC 61966-2-1 (both from memory; the
 *         test compares lightness with CIE L* of 1976, and white, grey and black points)
 */
export type Rgb = readonly [number, number, number];

/** Linear sRGB, 0 to 1 inside the gamut. */
function linearRgb(lightness: number, chroma: number, hue_rad: number): Rgb {
  const [a, b] = [chroma * Math.cos(hue_rad), chroma * Math.sin(hue_rad)];
  const l = (lightness + 0.3963377774 * a + 0.2158037573 * b) ** 3;
  const m = (lightness - 0.1055613458 * a - 0.0638541728 * b) ** 3;
  const s = (lightness - 0.0894841775 * a - 1.291485548 * b) ** 3;
  return [
    4.0767416621 * l - 3.3077115913 * m + 0.2309699292 * s,
    -1.2684380046 * l + 2.6097574011 * m - 0.3413193965 * s,
    -0.0041960863 * l - 0.7034186147 * m + 1.707614701 * s,
  ];
}

const isInside = (rgb: Rgb): boolean => rgb.every((part) => part >= -1e-6 && part <= 1 + 1e-6);

function byteOf(linear: number): number {
  const held = Math.min(1, Math.max(0, linear));
  const encoded = held <= 0.0031308 ? 12.92 * held : 1.055 * held ** (1 / 2.4) - 0.055;
  return Math.round(255 * encoded);
}

/** Bytes of the colour; a part that sRGB does not reach is held at its end. */
export function heldRgbOfOklab(lightness: number, chroma: number, hue_deg: number): Rgb {
  const [r, g, b] = linearRgb(lightness, chroma, (hue_deg * Math.PI) / 180);
  return [byteOf(r), byteOf(g), byteOf(b)];
}

export const hexOf = (rgb: Rgb): string => `#${rgb.map((part) => part.toString(16).padStart(2, "0")).join("")}`;

/**
 * Bytes of the colour; where sRGB has no such colour the chroma falls until it has, and lightness and hue stay.
 *
 * @param hue_deg  20 is red, 110 yellow, 145 green, 255 blue
 */
export function rgbOfOklab(lightness: number, chroma: number, hue_deg: number): Rgb {
  const hue_rad = (hue_deg * Math.PI) / 180;
  let [low, high] = [0, chroma];
  if (isInside(linearRgb(lightness, chroma, hue_rad))) low = chroma;
  // Twenty halvings: far below one step of a byte.
  for (let i = 0; i < 20 && low < chroma; i++) {
    const middle = (low + high) / 2;
    if (isInside(linearRgb(lightness, middle, hue_rad))) low = middle;
    else high = middle;
  }
  const [r, g, b] = linearRgb(lightness, low, hue_rad);
  return [byteOf(r), byteOf(g), byteOf(b)];
}
