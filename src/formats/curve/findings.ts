import { lineList } from "../table/row-findings.js";

/** The rows in file order, with the line of each. */
export interface CurveRows {
  readonly field: Float64Array;
  readonly magnetisation: Float64Array;
  readonly line: Int32Array;
}

/** Lines where a value is exactly that of the row before: digits of a measurement hardly repeat by chance. */
function repeats(values: Float64Array, line: Int32Array): number[] {
  const lines: number[] = [];
  for (let i = 1; i < values.length; i++) if (values[i] === values[i - 1]) lines.push(line[i]);
  return lines;
}

/** Lines where the field turns round. Repeated fields do not count as turns. */
function turns(field: Float64Array, line: Int32Array): number[] {
  const lines: number[] = [];
  let direction = 0;
  for (let i = 1; i < field.length; i++) {
    const step = Math.sign(field[i] - field[i - 1]);
    if (step !== 0 && direction !== 0 && step !== direction) lines.push(line[i]);
    if (step !== 0) direction = step;
  }
  return lines;
}

/** What a careful reader would remark about the rows, in words with line numbers. Nothing is mended. */
export function findOddities({ field, magnetisation, line }: CurveRows): string[] {
  const findings: string[] = [];
  const sameField = repeats(field, line);
  if (sameField.length > 0) findings.push(`field equal to that of the row before: ${lineList(sameField)}`);
  const sameMoment = repeats(magnetisation, line);
  if (sameMoment.length > 0) {
    findings.push(
      `magnetisation exactly equal to that of the row before (processed or clipped values?): ${lineList(sameMoment)}`,
    );
  }
  const turning = turns(field, line);
  if (turning.length > 0) findings.push(`the field turns round at ${lineList(turning)}: a loop, or several branches`);
  return findings;
}
