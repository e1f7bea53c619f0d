import { palette } from "./palette.js";
import { flowText, groundOf, shortened } from "./panel-layout.js";
import { type Canvas, renderPlot, type SvgOptions, type SvgPanel, toSvg } from "./render.js";

export interface PanelSize {
  readonly width: number;
  readonly canvas: Canvas;
}

/** Axis titles in the middle, without arrows. */
export const centred = { labelArrow: "none", labelAnchor: "center" } as const;

/** Room for a letter of 13 px: ten of our sentences took 6.1 to 7.3 px a letter in the widest font asked for. */
export const letter_px = 7.6;

/** Marks that measured values are drawn with. */
export const openMark = { r: 3.4, strokeWidth: 1.5, fill: palette.paper } as const;

/** A sample of what is drawn, and its name. */
export interface KeyEntry {
  readonly words: string;
  readonly colour: string;
  readonly line?: { readonly dash?: string; readonly width?: number };
  readonly isFilled?: boolean;
  readonly symbol?: "circle" | "square" | "times" | "triangle" | "diamond";
  readonly band?: boolean;
}

/** The entries one beside the other, in as many rows as the width asks for; entries without words are left out. */
export function keyPanel(entries: readonly KeyEntry[], { width, canvas }: PanelSize): SvgPanel {
  const { Plot } = canvas;
  let [x, row] = [16, 0];
  const places = entries
    .filter(({ words }) => words !== "")
    .map((entry) => {
      const hasSample = entry.line !== undefined || entry.symbol !== undefined || entry.band === true;
      const sample = hasSample ? 34 : 0;
      const words = shortened(entry.words, Math.floor((width - 32 - sample) / letter_px));
      const length = sample + words.length * letter_px;
      if (x > 16 && x + length > width - 16) [x, row] = [16, row + 1];
      const place = { ...entry, words, x, sample, y: 12 + 19 * row };
      x += length + 22;
      return place;
    });
  const height = 19 * (row + 1) + 8;
  type Place = (typeof places)[number];
  const samples = places.flatMap((place: Place) => {
    const { colour: stroke, line, symbol, isFilled, band, x: left, y } = place;
    const area = { x1: () => left, x2: () => left + 28, y1: () => y - 6, y2: () => y + 6 };
    const mark = { stroke, ...openMark, fill: isFilled ? stroke : openMark.fill };
    const ends = { x1: () => left, x2: () => left + 28, y: () => y };
    return [
      ...(band ? [Plot.rect([0], { ...area, fill: stroke, fillOpacity: 0.22 })] : []),
      ...(line ? [Plot.link([0], { ...ends, stroke, strokeWidth: line.width ?? 2, strokeDasharray: line.dash })] : []),
      ...(symbol ? [Plot.dot([0], { x: () => left + 14, y: () => y, symbol, ...mark })] : []),
    ];
  });
  const words = Plot.text(places, {
    x: ({ x: left, sample }: Place) => left + sample,
    y: "y",
    text: "words",
    textAnchor: "start",
    fill: "colour",
  });
  const flat = { type: "identity", axis: null } as const;
  return renderPlot({ width, height, margin: 0, x: flat, y: flat, color: flat, marks: [...samples, words] }, canvas);
}

/** The panels under a title and a subtitle that fit the width: what is too long goes on in more lines, or is cut. */
export function headedSvg(panels: readonly SvgPanel[], head: SvgOptions, size: PanelSize): string {
  const title = shortened(head.title, Math.floor((size.width - 32) / 11)); // bold letters of 17 px
  const letters = Math.floor((size.width - 32) / letter_px);
  const [subtitle, ...more] = flowText((head.subtitle ?? "").split(" "), letters, " ");
  const rest = more.map((words) => {
    const panel = keyPanel([{ words, colour: palette.quiet }], size);
    return groundOf([{ panel, x: 0, y: -7 }], size); // closer than panels are to each other
  });
  const description = title === head.title ? head.description : `${head.title}. ${head.description ?? ""}`;
  return toSvg([...rest, ...panels], { title, subtitle: subtitle || undefined, description });
}
