import { type CurveRow, lineList } from "./rows.js";

/** Lines where a value is exactly that of the row before: digits of a measurement hardly repeat by chance. */
function repeats(rows: readonly CurveRow[], key: "field" | "magnetisation"): number[] {
  return rows.flatMap((row, i) => (i > 0 && row[key] === rows[i - 1][key] ? [row.line] : []));
}

/** Lines where the field turns round. Repeated fields do not count as turns. */
function turns(rows: readonly CurveRow[]): number[] {
  const lines: number[] = [];
  let direction = 0;
  for (let i = 1; i < rows.length; i++) {
    const step = Math.sign(rows[i].field - rows[i - 1].field);
    if (step !== 0 && direction !== 0 && step !== direction) lines.push(rows[i].line);
    if (step !== 0) direction = step;
  }
  return lines;
}

/** What a careful reader would remark about the rows, in words with line numbers. Nothing is mended. */
export function findOddities(rows: readonly CurveRow[]): string[] {
  const findings: string[] = [];
  const sameField = repeats(rows, "field");
  if (sameField.length > 0) findings.push(`field equal to that of the row before: ${lineList(sameField)}`);
  const sameMoment = repeats(rows, "magnetisation");
  if (sameMoment.length > 0) {
    findings.push(
      `magnetisation exactly equal to that of the row before (processed or clipped values?): ${lineList(sameMoment)}`,
    );
  }
  const turning = turns(rows);
  if (turning.length > 0) findings.push(`the field turns round at ${lineList(turning)}: a loop, or several branches`);
  return findings;
}
