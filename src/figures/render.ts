import type { PlotOptions } from "@observablehq/plot";
import type { FigureDocument } from "./figure-document.js";
import { palette } from "./palette.js";

/** As much of an svg element as is used here. */
export interface SvgPanel {
  getAttribute(name: string): string | null;
  setAttribute(name: string, value: string): void;
  readonly outerHTML: string;
}

/** The plot library and a document to draw in; loaded at the first figure, because it costs a third of a second. */
export interface Canvas {
  readonly Plot: typeof import("@observablehq/plot");
  readonly document: FigureDocument;
}

/**
 * Loads the plot library, and a document of our own where there is no page.
 *
 * @param document  the page's document, when figures are drawn in a page
 */
export async function openCanvas(document?: FigureDocument): Promise<Canvas> {
  const Plot = await import("@observablehq/plot");
  if (document !== undefined) return { Plot, document };
  const { parseHTML } = await import("linkedom");
  return { Plot, document: parseHTML("<!doctype html><html><body></body></html>").document };
}

/** House look: readable at column width (85 mm) and on a slide; the page's fonts are not relied on. */
const look = { fontFamily: "Helvetica, Arial, 'DejaVu Sans', sans-serif", fontSize: "13px" } as const;

/** One panel as an `svg` element; `spec` is the plot library's own. */
export function renderPlot(spec: PlotOptions, { Plot, document }: Canvas): SvgPanel {
  const style = { ...look, color: palette.ink, background: palette.paper };
  const options = { ...spec, document, style } as unknown as PlotOptions;
  return Plot.plot(options) as unknown as SvgPanel;
}

export interface SvgOptions {
  /** Printed on top, and read out by screen readers. */
  readonly title: string;
  /** A second, smaller line. */
  readonly subtitle?: string;
  /** What the picture shows, in words, for those who cannot see it. */
  readonly description?: string;
}

const escapeXml = (text: string): string =>
  text.replaceAll("&", "&amp;").replaceAll("<", "&lt;").replaceAll(">", "&gt;").replaceAll('"', "&quot;");

const sizeOf = (panel: SvgPanel, side: "width" | "height"): number => Number(panel.getAttribute(side));

/** Panel as nested svg at a height; nested elements need no namespace of their own. */
function placed(panel: SvgPanel, top: number): string {
  panel.setAttribute("y", String(top));
  return panel.outerHTML;
}

/**
 * Panels set one below the other in one SVG document: namespace declared, white background (a figure pasted on a dark
 * page stays legible), title and description as elements that assistive software reads.
 */
export function toSvg(panels: readonly SvgPanel[], { title, subtitle, description }: SvgOptions): string {
  const width = Math.max(...panels.map((panel) => sizeOf(panel, "width")));
  const headHeight = subtitle === undefined ? 38 : 58;
  const tops = panels.map((_, i) =>
    panels.slice(0, i).reduce((sum, panel) => sum + sizeOf(panel, "height"), headHeight),
  );
  const height = tops.at(-1)! + sizeOf(panels.at(-1)!, "height");
  const font = escapeXml(look.fontFamily);
  const text = (words: string, y: number, rest: string) =>
    `<text x="16" y="${y}" font-family="${font}" ${rest}>${escapeXml(words)}</text>`;
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${width} ${height}" width="${width}" height="${height}" role="img">`,
    `<title>${escapeXml(title)}</title>`,
    description === undefined ? "" : `<desc>${escapeXml(description)}</desc>`,
    `<rect width="${width}" height="${height}" fill="${palette.paper}"/>`,
    text(title, 27, `font-size="17" font-weight="bold" fill="${palette.ink}"`),
    subtitle === undefined ? "" : text(subtitle, 48, `font-size="13" fill="${palette.quiet}"`),
    ...panels.map((panel, i) => placed(panel, tops[i])),
    "</svg>",
    "",
  ]
    .filter((line, i, all) => line !== "" || i === all.length - 1)
    .join("\n");
}
