import { hexOf, type Rgb, rgbOfOklab } from "./oklab.js";

/**
 * Colours for values from a least to a largest: more is darker, and the lightness of Oklab falls in proportion, so that
 * equal steps of the value are equal steps to the eye, and in print without colour. The hue turns with it and helps to
 * find the same value again; it carries nothing of its own.
 */
export type SequentialRampName = "field" | "error" | "receive" | "neutral";

interface Course {
  readonly fromHue_deg: number;
  readonly toHue_deg: number;
  readonly chroma: number;
}

const courses: Readonly<Record<SequentialRampName, Course>> = {
  field: { fromHue_deg: 112, toHue_deg: 282, chroma: 0.13 },
  error: { fromHue_deg: 92, toHue_deg: 28, chroma: 0.14 },
  receive: { fromHue_deg: 350, toHue_deg: 288, chroma: 0.14 },
  neutral: { fromHue_deg: 250, toHue_deg: 250, chroma: 0.02 },
};

const lightest = 0.975;
/** Lines in ink on a white rim stay readable on it. */
const darkest = 0.33;

/** Colour of a part of full scale, 0 to 1 (held there beyond). */
export function sequentialRgb(part: number, name: SequentialRampName): Rgb {
  const t = Math.min(1, Math.max(0, part));
  const { fromHue_deg, toHue_deg, chroma } = courses[name];
  const lightness = lightest + t * (darkest - lightest);
  return rgbOfOklab(lightness, chroma * Math.min(1, 0.25 + 2.5 * t), fromHue_deg + t * (toHue_deg - fromHue_deg));
}

/** `#rrggbb` for a part of full scale. */
export const sequentialColour = (part: number, name: SequentialRampName): string => hexOf(sequentialRgb(part, name));
