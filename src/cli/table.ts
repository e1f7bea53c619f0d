/** Rows of text as aligned columns; `right` names the columns (by index) that hold numbers. */
export function alignedTable(
  rows: readonly (readonly string[])[],
  { right = [] as readonly number[], indent = "  " } = {},
): string[] {
  const columns = Math.max(0, ...rows.map((row) => row.length));
  const widths = Array.from({ length: columns }, (_, column) =>
    Math.max(...rows.map((row) => displayWidth(row[column] ?? ""))),
  );
  return rows.map((row) => {
    const cells = row.map((cell, column) => {
      const fill = " ".repeat(widths[column] - displayWidth(cell));
      return right.includes(column) ? fill + cell : cell + fill;
    });
    return (indent + cells.join("  ")).trimEnd();
  });
}

/** Columns that a text takes on a terminal: escape sequences take none. */
function displayWidth(text: string): number {
  // biome-ignore lint/suspicious/noControlCharactersInRegex: the escape character is what we look for
  return [...text.replace(/\u001b\[[0-9;]*m/g, "")].length;
}

/** Breaks text at blanks so that no line is longer than `width`. */
export function wrapText(text: string, { width = 100, indent = "  " } = {}): string[] {
  const lines: string[] = [];
  let line = "";
  for (const word of text.split(/\s+/)) {
    if (line !== "" && indent.length + line.length + 1 + word.length > width) {
      lines.push(indent + line);
      line = word;
    } else line = line === "" ? word : `${line} ${word}`;
  }
  if (line !== "") lines.push(indent + line);
  return lines;
}
