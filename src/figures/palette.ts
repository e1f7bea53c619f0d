/**
 * Colours that stay apart for the common kinds of colour vision, and in grey by their lightness.
 *
 * Source  Okabe & Ito, "Color universal design" (2008); from memory.
 */
export const palette = {
  ink: "#1a1a1a",
  quiet: "#6b6b6b",
  rule: "#bdbdbd",
  data: "#0072b2", // blue
  model: "#d55e00", // vermilion
  paper: "#ffffff",
} as const;
