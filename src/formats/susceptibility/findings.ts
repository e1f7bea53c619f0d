import { lineList } from "../table/row-findings.js";

/** Frequencies that come again or go back, by line. */
export function orderFindings(frequency_Hz: Float64Array, line: Int32Array): string[] {
  const seen = new Set<number>();
  const [again, back]: [number[], number[]] = [[], []];
  for (let i = 0; i < frequency_Hz.length; i++) {
    if (seen.has(frequency_Hz[i])) again.push(line[i]);
    else if (i > 0 && frequency_Hz[i] < frequency_Hz[i - 1]) back.push(line[i]);
    seen.add(frequency_Hz[i]);
  }
  return [
    ...(again.length === 0 ? [] : [`a frequency that stands further up already: ${lineList(again)}`]),
    ...(back.length === 0 ? [] : [`frequencies not in rising order: ${lineList(back)}`]),
  ];
}

/** A passive sample has no negative chi''; noise and a badly set phase have. */
export function lossFindings(imaginary: Float64Array, line: Int32Array): string[] {
  const negative = Array.from(line).filter((_, i) => imaginary[i] < 0);
  if (negative.length === 0) return [];
  return [`negative chi'', which no passive sample has (noise, or the zero of the phase?): ${lineList(negative)}`];
}
