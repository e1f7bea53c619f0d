import { describe, expect, it } from "vitest";
import { isKnownError } from "../../errors.js";
import { type CurveDescriptor, curveDescriptorUrn } from "./descriptor.js";
import { readCurve } from "./read.js";

const bytesOf = (text: string): Uint8Array => new TextEncoder().encode(text);
const stated = <T extends string>(value: T) => ({ value, status: "stated" as const, note: "test" });
const descriptor = (rest: Partial<CurveDescriptor> = {}): CurveDescriptor => ({
  schema: curveDescriptorUrn,
  name: "test",
  columns: ["field", "magnetisation", "sigma"],
  facts: { fieldUnit: stated("Oe"), magnetisationUnit: stated("emu/g"), basis: stated("per-iron-mass") },
  ...rest,
});
const read = (text: string | Uint8Array, said: CurveDescriptor | undefined = descriptor()) =>
  readCurve(typeof text === "string" ? bytesOf(text) : text, said, { file: "a.txt" });

function refusal(text: string | Uint8Array, said?: CurveDescriptor | "none") {
  try {
    const bytes = typeof text === "string" ? bytesOf(text) : text;
    readCurve(bytes, said === "none" ? undefined : (said ?? descriptor()), { file: "a.txt" });
  } catch (error) {
    if (isKnownError(error)) return error;
    throw error;
  }
  throw new Error("not refused");
}

const comma = descriptor({ decimalMark: "comma" });

describe("read right", () => {
  it.each<[string, string, CurveDescriptor?]>([
    ["decimal commas between ;", "100;1,5;0,1\n200;2,5;0,2\n"],
    ["decimal commas between ; and said so", "100;1,5;0,1\n200;2,5;0,2\n", comma],
    ["decimal commas between tabs, said", "100\t1,5\t0,1\n200\t2,5\t0,2\n", comma],
    ["decimal commas between blanks, said", "100 1,5 0,1\n200 2,5 0,2\n", comma],
    ["quoted decimal commas between commas, said", '100,"1,5","0,1"\n200,"2,5","0,2"\n', comma],
    ["decimal points between ; and said so", "100;1.5;0.1\n200;2.5;0.2\n", descriptor({ decimalMark: "point" })],
    ["CR line ends", "100 1.5 0.1\r200 2.5 0.2\r"],
    ["line ends of all kinds", "100 1.5 0.1\r\n\r# c\n\n200 2.5 0.2"],
    ["quoted cells with blanks inside", '" 100 ","1.5" , "0.1"\n200,2.5,0.2\n'],
    ["Fortran exponents", "1d2 15D-1 1.0d-01\n2.0D+02 2.5d0 2d-1\n"],
    ["a row of units", "H,M,sd\nOe,emu/g,emu/g\n100,1.5,0.1\n200,2.5,0.2\n"],
    ["a row of units in brackets", "H,M,sd\n(Oe),[emu/g],(emu/g)\n100,1.5,0.1\n200,2.5,0.2\n"],
    ["long lines of comments", `# ${"x".repeat(200_000)}\n100 1.5 0.1\n200 2.5 0.2\n`],
    ["more than 15 digits", "100.000000000000000 1.5000000000000000 0.1\n2.0000000000000000e2 2.5 0.2\n"],
  ])("%s", (_, text, said) => {
    const curve = read(text, said);
    // 1 Oe is 1e-4 T of mu0*H to the digits of mu0 (10 significant).
    expect(curve.field_T[0] / 0.01).toBeCloseTo(1, 8);
    expect(curve.field_T[1] / 0.02).toBeCloseTo(1, 8);
    expect([...curve.magnetisation]).toEqual([1.5, 2.5]);
    expect([...(curve.sigma ?? [])]).toEqual([0.1, 0.2]);
    expect(curve.findings).toEqual([]);
  });

  it("words in a column called ignore", () => {
    const said = descriptor({ columns: ["ignore", "field", "magnetisation"] });
    const curve = read("12:30:01,1,2\n12:30:02,2,3\n", said);
    expect([...curve.magnetisation]).toEqual([2, 3]);
  });

  it.each(["NaN", "nan", "-nan(ind)", "1.#QNAN", "n/a", "", "--", "null"])(
    "a row with %j is left out by line",
    (cell) => {
      const curve = read(`1,1,1\n2,${cell},1\n3,3,1\n`);
      expect([...curve.magnetisation]).toEqual([1, 3]);
      expect(curve.findings).toEqual(["left out for blank or NaN cells: line 2"]);
    },
  );

  it("fields in any order, and the same field again: kept as they came, and told", () => {
    const curve = read("3 3 1\n1 1 1\n2 2 1\n2 2.1 1\n3 2.9 1\n");
    expect([...curve.magnetisation]).toEqual([3, 1, 2, 2.1, 2.9]);
    expect(curve.findings).toEqual([
      "field equal to that of the row before: line 4",
      "the field turns round at line 3: a loop, or several branches",
    ]);
  });

  it("a last number that may be cut: read as it stands, and told", () => {
    expect(read("1 1.234 0.123\n2 2.345 0.123\n3 3.456 0.123\n4 4.567 0.1").findings).toEqual([
      "no line end after the last number, which is shorter than all above it (a cut file?): line 4",
    ]);
    expect(read("1 1.234 0.123\n2 2.345 0.123\n3 3.456 0.123\n4 4.567 0.1\n").findings).toEqual([]);
  });
});

describe("headers in other languages", () => {
  const tables: [string, string][] = [
    ["German", "Feld (Oe);Moment der Probe (emu)\n100;1,5\n"],
    ["French", "Champ (Oe);Aimantation (emu)\n100;1,5\n"],
    ["Spanish", "Campo (Oe);Momento (emu)\n100;1,5\n"],
    ["Japanese", "\u78c1\u5834\uff08Oe\uff09;\u78c1\u6c17\u30e2\u30fc\u30e1\u30f3\u30c8\uff08emu\uff09\n100;1,5\n"],
  ];
  it.each(tables)("%s: the columns are asked for in the header's own words, and its units are kept", (_, text) => {
    const error = refusal(text, "none");
    expect(error).toMatchObject({ code: "MissingFact", place: { file: "a.txt", path: "columns" } });
    const first = text.split(/[;(\uff08]/)[0].trim();
    expect(error.found).toContain(`no column known to be the field among "${first}"`);
    expect(error.accepted).toContain('"columns": ["field", "magnetisation"]');
    const said = descriptor({ columns: ["field", "magnetisation"], facts: {} });
    expect(read(text, said).magnetisation[0]).toBe(1.5e-3); // 1 emu is 1e-3 A.m2
  });
});

describe("refused with line, column and what fits", () => {
  it.each<[string, string, (number | undefined)[], string, CurveDescriptor?]>([
    ["an empty file", "", [undefined, undefined], "an empty file"],
    ["a header alone", "field (Oe),moment (emu)\n", [undefined, undefined], "no row of numbers, only words"],
    ["a binary file", "1 2 3\n\u0001\u0002", [2, 1], "a control byte 0x01: a binary file"],
    ["NUL bytes", "1 2 3\n4 5 \u0000", [2, 5], "a control byte 0x00: a binary file"],
    ["a cut last line", "1 2 3\n4 5", [2, 3], "2 cells where the first row has 3: the file looks truncated"],
    ["a cut last number", "1 2 3\n4 5 1.2e-", [2, 5], '"1.2e-" (no number: the file looks truncated)'],
    ["a decimal comma between tabs", "100\t1,5\t0,1\n", [1, 5], '"1,5" (a decimal comma, which is read only where `;`'],
    ["a decimal comma in quotes", '100,"1,5",1\n', [1, 5], "a decimal comma"],
    ["decimal commas between blanks", "1 1 1\n100 1,5 0,1\n", [2, 5], '"1,5" (a decimal comma'],
    ["both decimal marks", "1.5;2;3\n1;1,234;3\n", [2, 3], "a decimal comma where the table has decimal points"],
    ["both decimal marks", "1,5;2;3\n1;1.234;3\n", [2, 3], "a decimal point where the table has decimal commas"],
    ["a point where commas are said", "1.5;2;3\n", [1, 1], "a decimal point where the table has decimal commas", comma],
    ["thousands, English", "1;2;3\n4;1,234,567;3\n", [2, 3], "thousands separators"],
    ["thousands, German", "1;2;3\n4;1.234,5;3\n", [2, 3], "thousands separators"],
    ["thousands, German, twice", "1;2;3\n4;1.234.567;3\n", [2, 3], "thousands separators"],
    ["thousands, French", "1;2;3\n4;1\u202f234,5;3\n", [2, 3], "thousands separators"],
    ["thousands, Swiss", "1;2;3\n4;1'234.5;3\n", [2, 3], "thousands separators"],
    ["other separators further down", "1\t2\t3\n4;5;6\n", [2, 1], '"4;5;6" (several numbers in one cell'],
    ["other separators further down", "1,2,3\n4 5 6\n", [2, 1], '"4 5 6" (several numbers in one cell'],
    ["an infinite value", "1 2 3\n4 -Inf 6\n", [2, 3], '"-Inf" (an infinite value'],
    ["an infinite value as C prints it", "1 2 3\n4 1.#INF 6\n", [2, 3], "an infinite value"],
    ["a number too large", "1 2 3\n4 1e400 6\n", [2, 3], '"1e400" (a number too large to hold)'],
    ["a number too small", "1 2 3\n4 1e-400 6\n", [2, 3], '"1e-400" (a number too small to hold)'],
    ["hexadecimal", "1 2 3\n4 0x10 6\n", [2, 3], '"0x10" (no number: hexadecimal)'],
    ["a spreadsheet's error", "1;2;3\n4;#DIV/0!;6\n", [2, 3], '"#DIV/0!" (no number)'],
    ["the header again", "H M sd\n1 2 3\nH M sd\n4 5 6\n", [3, 1], 'the header again: "H M sd"'],
    ["another header in the middle", "H M sd\n1 2 3\nfield moment sd\n", [3, 1], '"field" (no number)'],
    ["a row too short", "1 2 3\n4 5\n6 7 8\n", [2, 3], "2 cells where the first row has 3"],
    ["a row too long", "1 2 3\n4 5 6 7\n", [2, 7], "4 cells where the first row has 3"],
    [
      "a column counted behind an umlaut",
      "\u00c4 M sd\n1 2 3\n4 \u00e4\u00f6 x\n",
      [3, 3],
      '"\u00e4\u00f6" (no number)',
    ],
    ["a line without end", `1 2 3\n${"1 2 3 ".repeat(20_000)}`, [2, undefined], "a line of 120000 bytes"],
    ["a first line without end", "1 2 3 ".repeat(20_000), [1, undefined], "a line of 120000 bytes"],
    ["a quote left open", '1,2,3\n4,"5,6\n', [2, 3], '""5" (no number)'],
  ])("%s", (_, text, [line, column], words, said) => {
    const error = refusal(text, said);
    expect(error.code).toBe("InvalidFile");
    expect(error.found).toContain(words);
    expect(error.accepted).not.toBe("");
    expect(error.place).toEqual({ file: "a.txt", ...(line && { line }), ...(column && { column }) });
  });

  it("tells how to read decimal commas", () => {
    expect(refusal("100\t1,5\t0,1\n").accepted).toContain('"decimalMark": "comma" in the descriptor');
    const between = refusal("100 1,5 0,1\n"); // here the comma separates
    expect(between.found).toContain("or decimal commas?");
    expect(between.accepted).toContain('"decimalMark": "comma" in the descriptor');
  });

  it("refuses UTF-16 without a byte order mark and reads it with one", () => {
    const units = (text: string) => new Uint8Array(Uint16Array.from(text, (letter) => letter.charCodeAt(0)).buffer);
    expect(refusal(units("100 1.5 0.1\n")).found).toContain("UTF-16 text without a byte order mark");
    expect([...read(units("\ufeff100 1.5 0.1\n")).magnetisation]).toEqual([1.5]);
    expect(refusal(units("\ufeff100 1.5 0.1\n200 x 0.1\n")).place).toMatchObject({ line: 2, column: 5 });
  });

  it("refuses two columns of a kind, a wrong count, and a descriptor against the header", () => {
    expect(refusal("field (Oe),field (Oe),moment (emu)\n1,1,2\n", "none").found).toBe(
      "2 columns called field (columns 1, 2)",
    );
    expect(refusal("1 2\n").found).toBe("3 columns described, but 2 in the file's first row of numbers");
    const swapped = descriptor({ columns: ["magnetisation", "field", "sigma"] });
    expect(refusal("H,M,sd\n1,2,3\n", swapped)).toMatchObject({
      code: "Conflict",
      found: '"magnetisation" in the descriptor but "H" in the file\'s header',
      place: { path: "columns[0]" },
    });
  });

  it("asks for the columns of a table without a header, whatever its width", () => {
    const wide = Array.from({ length: 3000 }, (_, i) => i).join(" ");
    const error = refusal(`${wide}\n`, "none");
    expect(error.code).toBe("MissingFact");
    expect(error.accepted.length).toBeLessThan(200);
    expect(refusal("my sample of May\n1 2 3\n", "none").found).toBe("3 columns under a header that does not fit");
  });
});
