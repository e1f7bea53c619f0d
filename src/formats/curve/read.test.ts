import { describe, expect, it } from "vitest";
import { isKnownError } from "../../errors.js";
import { type CurveDescriptor, curveDescriptorUrn } from "./descriptor.js";
import { readCurve } from "./read.js";

const bytesOf = (text: string): Uint8Array => new TextEncoder().encode(text);

const stated = <T extends string>(value: T) => ({ value, status: "stated" as const, note: "test" });
const descriptor = (
  over: Partial<CurveDescriptor["facts"]> = {},
  rest: Partial<CurveDescriptor> = {},
): CurveDescriptor => ({
  schema: curveDescriptorUrn,
  name: "test",
  columns: ["field", "magnetisation", "sigma"],
  facts: { fieldUnit: stated("Oe"), magnetisationUnit: stated("emu/g"), basis: stated("per-iron-mass"), ...over },
  ...rest,
});

function refusal(text: string | Uint8Array, facts: CurveDescriptor | "none" = descriptor()) {
  try {
    readCurve(typeof text === "string" ? bytesOf(text) : text, facts === "none" ? undefined : facts, { file: "a.txt" });
  } catch (error) {
    if (isKnownError(error)) return error;
    throw error;
  }
  throw new Error("not refused");
}

describe("readCurve: dialects of one and the same table", () => {
  const rows = "100 1 0.1\n200 2 0.2\n-300.5 -3e0 0.3\n";
  const dialects: [string, string][] = [
    ["blanks", rows],
    ["leading and repeated blanks", rows.replace(/^/gm, "  ").replace(/ (?=\S)/g, "   ")],
    ["tab", rows.replaceAll(" ", "\t")],
    ["comma", rows.replaceAll(" ", ",")],
    ["comma and blank", rows.replaceAll(" ", ", ")],
    ["semicolon", rows.replaceAll(" ", ";")],
    ["semicolon with decimal comma", rows.replaceAll(" ", ";").replaceAll(".", ",")],
    ["CRLF", rows.replaceAll("\n", "\r\n")],
    ["CR only", rows.replaceAll("\n", "\r")],
    ["byte order mark", `\ufeff${rows}`],
    ["no newline at the end", rows.trimEnd()],
    ["comments and empty lines", `# a\n% b\n\n${rows.replace("\n", "\n\n# c\n")}`],
    ["Fortran exponents", "1.0D+02 0.1D1 1d-1\n2.D2 2 0.2\n-3.005D+02 -3 .3\n"],
    ["Unicode minus and plus signs", rows.replaceAll("-", "\u2212").replace("100", "+100")],
    ["header of words", `H M sd\n${rows}`],
    ["free block before [Data]", `instrument 7\n1 2 3 4\nanything: 5\n[Data]\nH M sd\n${rows}`],
    ["quoted cells", rows.replaceAll(" ", ",").replace("100", '"100"')],
    ["delimiter at the line's end", rows.replaceAll(" ", "\t").replace(/1\n/, "1\n").replaceAll("0.2\n", "0.2\t\n")],
  ];
  it.each(dialects)("%s", (_, text) => {
    const curve = readCurve(bytesOf(text), descriptor());
    // 1 Oe is 1e-4 T of mu0*H to the digits of mu0 (10 significant); emu/g is A.m2/kg exactly.
    for (const [i, field_T] of [0.01, 0.02, -0.03005].entries()) expect(curve.field_T[i] / field_T).toBeCloseTo(1, 8);
    expect([...curve.magnetisation]).toEqual([1, 2, -3]);
    expect([...curve.sigma!]).toEqual([0.1, 0.2, 0.3]);
  });
});

describe("readCurve: what header and descriptor say", () => {
  it.each([
    "field (Oe),moment [emu]\n10,1e-3\n20,2e-3\n",
    "# field (Oe)  moment (emu)\n10 1e-3\n20 2e-3\n",
    "field,moment\nOe,emu\n10,1e-3\n20,2e-3\n",
  ])("needs no descriptor when the header says columns and units, and the dimension says the basis: %j", (text) => {
    const curve = readCurve(bytesOf(text), undefined, { file: "a.csv" });
    expect(curve).toMatchObject({ basis: "whole-sample", magnetisationUnit: "A.m2", assumptions: [], findings: [] });
    expect([...curve.magnetisation]).toEqual([1e-6, 2e-6]); // 1 emu = 1e-3 A.m2
    expect(curve.sigma).toBeUndefined();
  });
  it("converts A/m by mu0", () => {
    const curve = readCurve(bytesOf("1e6 1 1\n"), descriptor({ fieldUnit: stated("A/m") }));
    expect(curve.field_T[0]).toBeCloseTo(1.25663706127, 11);
  });
  it("asks by name for each fact that nobody states, with an example that can be pasted", () => {
    const csv = "10,1,0.1\n20,2,0.2\n";
    const asked = (fact: string, without: CurveDescriptor | "none") => {
      const error = refusal(csv, without);
      expect(error.code).toBe("MissingFact");
      expect(error.place.path).toBe(fact);
      expect(error.accepted).toContain(fact.split(".").at(-1) ?? "");
    };
    asked("columns", "none");
    asked("columns", descriptor({}, { columns: ["magnetisation", "ignore", "sigma"] }));
    asked("facts.fieldUnit", descriptor({ fieldUnit: undefined }));
    asked("facts.magnetisationUnit", descriptor({ magnetisationUnit: undefined }));
    asked("facts.basis", descriptor({ basis: undefined }));
    asked("facts.fieldMeaning", descriptor({ fieldUnit: stated("mT") }));
  });
  it("carries B read as mu0*H as an assumption, and nothing for a stated applied field", () => {
    const inTesla = (meaning: "applied" | "flux-density") =>
      readCurve(bytesOf("0.1 1 1\n"), descriptor({ fieldUnit: stated("T"), fieldMeaning: stated(meaning) }));
    expect(inTesla("applied").assumptions).toEqual([]);
    expect(inTesla("flux-density").assumptions.map(({ fact }) => fact)).toEqual(["fieldMeaning"]);
    expect(inTesla("applied").field_T[0]).toBe(0.1);
  });
  it("carries assumed facts and only these", () => {
    const basis = { value: "per-oxide-mass" as const, status: "assumed" as const, note: "why" };
    const curve = readCurve(bytesOf("1 1 1\n"), descriptor({ basis, temperature: stated("25 Cel") }));
    expect(curve.assumptions).toEqual([{ fact: "basis", value: "per-oxide-mass", note: "why" }]);
    expect(curve.temperature_K).toBeCloseTo(298.15, 10);
  });
  it("refuses what contradicts itself", () => {
    const text = "field (kA/m);M (emu/g);sd\n1;1;1\n";
    expect(refusal(text)).toMatchObject({
      code: "Conflict",
      found: '"Oe" in the descriptor but "kA/m" in the file\'s header',
    });
    expect(refusal("1 1 1\n", descriptor({ basis: stated("per-core-volume") })).code).toBe("UnitMismatch");
    expect(refusal("1 1 1\n", descriptor({ magnetisationUnit: stated("mT") })).code).toBe("UnitMismatch");
    expect(refusal("1 1 1\n", descriptor({ temperature: stated("300") })).message).toContain("facts.temperature");
    expect(refusal("1 1 1\n", descriptor({}, { columns: ["field", "field", "magnetisation"] })).found).toContain(
      "2 columns called field",
    );
  });
});

describe("readCurve: columns", () => {
  it.each(["Std. Err. (emu)", "sd (emu)", "STDEV [emu]", "Moment Std. Err. (emu)", "standard error (emu)"])(
    "reads %s as standard deviations",
    (title) => {
      const curve = readCurve(bytesOf(`field (Oe),moment (emu),${title}\n10,1,0.5\n`), undefined);
      expect([...curve.sigma!]).toEqual([0.5e-3]);
    },
  );
  it("tells of every column that it does not use", () => {
    const curve = readCurve(bytesOf("field (Oe),foo,moment (emu),bar (K)\n10,1,2,3\n"), undefined);
    expect(curve.findings).toEqual([
      'column 2 ("foo") is not used: its name says nothing to us',
      'column 4 ("bar") is not used: its name says nothing to us',
    ]);
  });
  it("refuses standard deviations in another unit than their values", () => {
    expect(refusal("field (Oe),moment (emu),sd (A.m2)\n1,1,1\n", "none").code).toBe("UnitMismatch");
  });
  it.each([
    ["1 2\n3 4\n", '"columns": ["field", "magnetisation"]'],
    ["1 2 3\n", '"columns": ["field", "magnetisation", "sigma"]'],
    ["1 2 3 4\n", '"columns": ["field", "magnetisation", "sigma", "ignore"]'],
  ])("asks for as many names as there are columns: %j", (text, example) => {
    expect(refusal(text, "none").accepted).toContain(`e.g. ${example}`);
  });
  it("blames the descriptor's file for its facts, and the table for its numbers", () => {
    const blamed = (facts: CurveDescriptor, text = "1 1 1\n") => {
      try {
        readCurve(bytesOf(text), facts, { file: "a.txt", descriptorFile: "d.json" });
      } catch (error) {
        return isKnownError(error) ? error.place.file : error;
      }
      return "nobody";
    };
    expect(blamed(descriptor({ fieldUnit: stated("kg") }))).toBe("d.json");
    expect(blamed(descriptor({ basis: stated("per-core-volume") }))).toBe("d.json");
    expect(blamed(descriptor({ temperature: stated("-3 K") }))).toBe("d.json");
    expect(blamed(descriptor(), "1 1e300 1\n")).toBe("a.txt");
  });
});

describe("readCurve: refusals tell line and column", () => {
  it.each([
    ["1 2 3\n4 x5 6\n", 2, 3, '"x5"'],
    ["1 2 3\n4 5\n6 7 8\n", 2, 3, "2 cells where the first row has 3"],
    ["1 2 3\n4 5", 2, 3, "the file looks truncated"],
    ["1 2 3\n4 5 6 7\n", 2, 7, "4 cells"],
    ["1\t2\t3\n4\t1,5\t3\n", 2, 3, "a decimal comma"],
    ["1;2;3\n4;1,234.5;3\n", 2, 3, "thousands"],
    ["1 2 3\n4 5 0\n", 2, 5, "a standard deviation of 0"],
    ["1 2 3\n1e999 5 1\n", 2, 1, "too large"],
    ["1 2x 3\n4 5 6\n", 1, 3, '"2x"'], // a damaged first row is no header
    ["a b c\nNaN NaN NaN\n", undefined, undefined, "no row of numbers"],
    ["1 2 3\n4 \u0000 6\n", 2, 3, "a control byte 0x00: a binary file"],
    ["", undefined, undefined, "an empty file"],
    [" \n\n", undefined, undefined, "a file of blanks only"],
    ["a\nb\nc\nd\n1 2 3\n", 3, undefined, "4 lines of words"],
    ["3e5 1 1\n", 1, undefined, "a field of 30.00 T"],
    ["1 2 1\n1 2e5 1\n", 2, undefined, "a magnetisation of 2.000e+5 A.m2/kg"],
    ["nan 1 1\n1 nan 2\n", 1, undefined, "no complete row"],
  ])("%j", (text, line, column, words) => {
    const error = refusal(text);
    expect(error.place).toMatchObject({ file: "a.txt", ...(line && { line }), ...(column && { column }) });
    expect(error.found).toContain(words);
  });
  it("names the first byte that is not UTF-8, and UTF-16 without a byte order mark", () => {
    expect(refusal(new Uint8Array([0x31, 0x0a, 0x32, 0xff, 0x33]))).toMatchObject({ place: { line: 2, column: 2 } });
    expect(refusal(new Uint8Array([0x31, 0, 0x20, 0, 0x32, 0])).found).toContain("UTF-16 text without");
  });
  it("never leaks another kind of error, whatever the bytes", () => {
    let state = 12345;
    const next = () => {
      state = (state * 1103515245 + 12345) % 2 ** 31;
      return state >> 8;
    };
    const alphabet = "0123456789.,;eED+-\t \n\r#%[]()NaH";
    for (let trial = 0; trial < 500; trial++) {
      const text = Array.from({ length: 40 }, () => alphabet[next() % alphabet.length]).join("");
      try {
        readCurve(bytesOf(text), descriptor());
      } catch (error) {
        expect(isKnownError(error), `${JSON.stringify(text)}: ${error}`).toBe(true);
      }
    }
  });
});

describe("readCurve: findings, order", () => {
  it("keeps the order of acquisition and reports turns, repeats and blank cells by line", () => {
    const curve = readCurve(bytesOf("1;1;1\n3;2;1\n2;;1\n2;2;1\n2;5;1\n0;1;1\n1;0;1\n"), descriptor());
    expect([...curve.magnetisation]).toEqual([1, 2, 2, 5, 1, 0]);
    expect(curve.findings).toEqual([
      "left out for blank or NaN cells: line 3",
      "field equal to that of the row before: line 5",
      "magnetisation exactly equal to that of the row before (processed or clipped values?): line 4",
      "the field turns round at lines 4, 7: a loop, or several branches",
    ]);
  });
});
