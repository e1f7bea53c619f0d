import { describe, expect, it } from "vitest";
import { idealScanner, shippedScanner, sweepOf } from "../../../test/invented-scanners.js";
import { runSweep } from "./run-sweep.js";
import { sweepColumns } from "./sweep-columns.js";
import { sweepCsv, sweepReport } from "./sweep-report.js";

const over = { gradient: ["1 T/m", "2 T/m", "4 T/m"], driveAmplitude: ["2 mT", "5 mT"] };
const awkward = 'the "bench", first';
const result = await runSweep(
  sweepOf({
    scanners: [shippedScanner("head-concept"), idealScanner({ subject: { part: "mouse" } })],
    over,
    cases: [{}, { name: awkward }],
  }),
);

/** Records of a comma-separated text after RFC 4180. */
function records(text: string): string[][] {
  const rows: string[][] = [[]];
  const cell = /("(?:[^"]|"")*"|[^",\r\n]*)(,|\r\n)/gy;
  for (const [, value, end] of text.matchAll(cell)) {
    rows[rows.length - 1].push(value.startsWith('"') ? value.slice(1, -1).replaceAll('""', '"') : value);
    if (end === "\r\n") rows.push([]);
  }
  return rows.slice(0, -1);
}

describe("the table of a sweep", () => {
  const text = sweepCsv(result);
  const [header, ...rows] = records(text);

  it("has a header with every column and its unit, one record a point and case, each as long", () => {
    expect(header).toEqual([
      "case",
      ...sweepColumns.map(({ name, unit }) => `${name} [${unit}]`),
      "first_limit",
      "verdict",
      "hardware_limit",
    ]);
    expect(rows).toHaveLength(2 * 6);
    for (const row of rows) expect(row).toHaveLength(header.length);
  });

  it("is RFC 4180: lines end in CR LF, quotes doubled, nothing lost", () => {
    expect(text.endsWith("\r\n")).toBe(true);
    expect(text.replaceAll("\r\n", "")).not.toMatch(/[\r\n]/);
    expect(rows[6][0]).toBe(awkward);
    expect(records(text).flat().join("").length).toBeGreaterThan(0);
    expect(text).toContain('"the ""bench"", first"');
  });

  it("holds the numbers to the last bit, and leaves empty what is not known", () => {
    const at = (name: string) => header.findIndex((title) => title.startsWith(`${name} [`));
    rows.forEach((row, i) => {
      const { table } = result.cases[Math.floor(i / 6)];
      for (const { name } of sweepColumns) {
        const value = table[name][i % 6];
        expect(row[at(name)]).toBe(Number.isFinite(value) ? String(value) : "");
      }
    });
    expect(rows[0][at("selection_power")]).not.toBe("");
    expect(rows[6][at("selection_power")]).toBe("");
    expect(text).not.toMatch(/NaN|null|undefined|Infinity/);
  });
});

describe("the machine-readable sweep", () => {
  const report = sweepReport(result);

  it("has null where something is not known, and no value that JSON cannot hold", () => {
    expect(report.cases[1].values.selection_power).toEqual(Array(6).fill(null));
    const walk = (value: unknown): void => {
      if (typeof value === "number") expect(Number.isFinite(value)).toBe(true);
      else if (typeof value === "object" && value !== null) Object.values(value).forEach(walk);
      else expect(value).not.toBeUndefined();
    };
    walk(report);
    expect(JSON.parse(JSON.stringify(report))).toEqual(report);
  });

  it("names its axes, columns and verdicts, and never clears a person", () => {
    expect(report).toMatchObject({ schema: "urn:ferrule:sweep-result:1", shape: [3, 2, 1, 1], currency: null });
    expect(report.columns).toHaveLength(sweepColumns.length);
    for (const { firstLimit } of report.cases) {
      expect(firstLimit.index).toHaveLength(6);
      expect(firstLimit.verdict.every((code) => report.verdicts[code] !== undefined)).toBe(true);
    }
    expect(JSON.stringify(report)).not.toMatch(/\bsafe(ly|ty)?\b/i);
    expect(report.notice).toMatch(/^Research use; not a medical device\./);
  });
});
