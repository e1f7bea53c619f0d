import { palette } from "./palette.js";
import type { SvgPanel } from "./render.js";

/** A panel at its place inside another one. */
export interface PlacedPanel {
  readonly panel: SvgPanel;
  readonly x: number;
  readonly y: number;
}

const sizeOf = (panel: SvgPanel, side: "width" | "height"): number => Number(panel.getAttribute(side));

/** A nested svg from ready markup. */
function panelOf(width: number, height: number, body: string): SvgPanel {
  const attributes = new Map([
    ["width", String(width)],
    ["height", String(height)],
  ]);
  return {
    getAttribute: (name) => attributes.get(name) ?? null,
    setAttribute: (name, value) => void attributes.set(name, value),
    get outerHTML() {
      const written = [...attributes].map(([name, value]) => `${name}="${value}"`).join(" ");
      return `<svg ${written} overflow="visible">${body}</svg>`;
    },
  };
}

/** Several panels on one ground, as one panel. */
export function groundOf(children: readonly PlacedPanel[], { width }: { width: number }): SvgPanel {
  const height = Math.max(0, ...children.map(({ panel, y }) => y + sizeOf(panel, "height")));
  const body = children.map(({ panel, x, y }) => {
    panel.setAttribute("x", String(x));
    panel.setAttribute("y", String(y));
    return panel.outerHTML;
  });
  return panelOf(width, height, body.join("\n"));
}

const escapeXml = (text: string): string =>
  text.replaceAll("&", "&amp;").replaceAll("<", "&lt;").replaceAll(">", "&gt;").replaceAll('"', "&quot;");

const font = "Helvetica, Arial, 'DejaVu Sans', sans-serif";

/** Lines of text as a panel: a key below a picture. */
export function textPanel(lines: readonly string[], { width, left = 16 }: { width: number; left?: number }): SvgPanel {
  const rows = lines.map(
    (line, i) =>
      `<text x="${left}" y="${16 + 17 * i}" font-family="${font}" font-size="12.5" fill="${palette.quiet}">${escapeXml(line)}</text>`,
  );
  return panelOf(width, 17 * lines.length + 10, rows.join(""));
}

/** Parts joined by a separator into lines of at most `length` signs; a part that is longer is cut with an ellipsis. */
export function flowText(parts: readonly string[], length: number, separator = "  \u00b7  "): string[] {
  const lines: string[] = [];
  for (const part of parts.map((each) => shortened(each, length))) {
    const last = lines.at(-1);
    if (last !== undefined && last.length + separator.length + part.length <= length)
      lines[lines.length - 1] = last + separator + part;
    else lines.push(part);
  }
  return lines;
}

/** At most `length` signs; what is cut is shown as cut. */
export const shortened = (text: string, length: number): string =>
  [...text].length <= length
    ? text
    : `${[...text]
        .slice(0, length - 1)
        .join("")
        .trimEnd()}\u2026`;
