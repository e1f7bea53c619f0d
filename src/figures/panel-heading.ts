import { palette } from "./palette.js";
import { flowText, shortened } from "./panel-layout.js";
import type { Canvas } from "./render.js";
import { inUnit } from "./sweep-axis.js";

/** Room for a bold letter of 13 px. */
const boldLetter_px = 8.2;
/** Headings begin this far left of the frame. */
const outdent = 40;

/** A name with its unit in two lines at most; a longer name is cut, its unit never. */
export function headingLines({ name, unit }: { name: string; unit: string }, wide: number): string[] {
  const letters = Math.floor((wide + outdent) / boldLetter_px);
  const end = inUnit(unit);
  const words = name.split(" ");
  const last = `${words.pop()}${end}`;
  const lines = flowText([...words, last], letters, " ");
  if (lines.length <= 2 && lines.every((line) => !line.endsWith("\u2026"))) return lines;
  const [first] = lines;
  const rest = name.slice(first.length).trim();
  return [first, `${shortened(rest, Math.max(1, letters - end.length))}${end}`];
}

export const headingHeight = (rows: number): number => 12 + 16 * rows;

/** The heading on top of a panel's frame, whose top margin is `headingHeight` of the most rows beside it. */
export const headingMark = (lines: readonly string[], Plot: Canvas["Plot"]) =>
  Plot.text([lines.join("\n")], {
    frameAnchor: "top-left",
    lineAnchor: "bottom",
    dx: -outdent,
    dy: -10,
    lineHeight: 16 / 13,
    fontWeight: "bold",
    fill: palette.ink,
  });
