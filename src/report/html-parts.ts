/** Text for HTML, attribute values included. */
export const escapeHtml = (text: string): string =>
  text
    .replaceAll("&", "&amp;")
    .replaceAll("<", "&lt;")
    .replaceAll(">", "&gt;")
    .replaceAll('"', "&quot;")
    .replaceAll("'", "&#39;");

export interface Table {
  readonly caption: string;
  /** First column is the row's head. */
  readonly columns: readonly string[];
  readonly rows: readonly (readonly string[])[];
  /** Columns (from 0) whose cells are numbers: set to the right. */
  readonly numeric?: readonly number[];
  /** Cells, as "row,column", that stand out. */
  readonly strong?: ReadonlySet<string>;
  readonly className?: string;
}

/** A table whose heads name their row or column to assistive software. All cells are text and are escaped here. */
export function tableHtml({ caption, columns, rows, numeric = [], strong, className = "" }: Table): string {
  const isNumeric = new Set(numeric);
  const set = (column: number) => (isNumeric.has(column) ? ' class="n"' : "");
  const head = columns.map((text, i) => `<th scope="col"${set(i)}>${escapeHtml(text)}</th>`).join("");
  const body = rows.map((row, r) => {
    const cells = row.map((text, c) => {
      if (c === 0) return `<th scope="row">${escapeHtml(text)}</th>`;
      const inner = strong?.has(`${r},${c}`) ? `<strong>${escapeHtml(text)}</strong>` : escapeHtml(text);
      return `<td${set(c)}>${inner}</td>`;
    });
    return `<tr>${cells.join("")}</tr>`;
  });
  const kind = className === "" ? "" : ` class="${className}"`;
  return `<table${kind}>\n<caption>${escapeHtml(caption)}</caption>\n<thead><tr>${head}</tr></thead>\n<tbody>\n${body.join("\n")}\n</tbody>\n</table>`;
}

/** A section with its heading; `body` is markup. */
export const section = (id: string, heading: string, body: readonly string[]): string =>
  `<section aria-labelledby="${id}">\n<h2 id="${id}">${escapeHtml(heading)}</h2>\n${body.filter((part) => part !== "").join("\n")}\n</section>`;

export const paragraph = (text: string): string => `<p>${escapeHtml(text)}</p>`;

export const list = (items: readonly string[]): string =>
  items.length === 0 ? "" : `<ul>\n${items.map((item) => `<li>${escapeHtml(item)}</li>`).join("\n")}\n</ul>`;

/** A drawing in the page; `alt` says what it shows to those who cannot see it. */
export function figureHtml(svg: string, { alt, caption }: { alt: string; caption: string }): string {
  const labelled = svg.replace(/^<svg /, `<svg aria-label="${escapeHtml(alt)}" `);
  return `<figure>\n${labelled.trimEnd()}\n<figcaption>${escapeHtml(caption)}</figcaption>\n</figure>`;
}
