import { describe, expect, it } from "vitest";
import { isKnownError } from "../../errors.js";
import { stream } from "../../numerics/index.js";
import { textBytes } from "./text-bytes.js";
import { firstInvalidUtf8 } from "./utf8.js";

const utf8 = (text: string): Uint8Array => new TextEncoder().encode(text);
const utf16 = (text: string, { littleEndian, mark = true }: { littleEndian: boolean; mark?: boolean }): Uint8Array => {
  const units = mark ? `\ufeff${text}` : text;
  const view = new DataView(new ArrayBuffer(2 * units.length));
  for (let i = 0; i < units.length; i++) view.setUint16(2 * i, units.charCodeAt(i), littleEndian);
  return new Uint8Array(view.buffer);
};

function refusal(bytes: Uint8Array) {
  try {
    textBytes(bytes, { file: "a.txt" });
  } catch (error) {
    if (isKnownError(error, "InvalidFile")) return error;
    throw error;
  }
  throw new Error("not refused");
}

describe("textBytes", () => {
  const table = "Feld \u00b50H (mT)\n1 2\n";
  it.each([
    ["UTF-8", utf8(table)],
    ["UTF-8 with byte order mark", utf8(`\ufeff${table}`)],
    ["UTF-16, little end first", utf16(table, { littleEndian: true })],
    ["UTF-16, big end first", utf16(table, { littleEndian: false })],
  ])("reads %s", (_, bytes) => {
    expect(new TextDecoder().decode(textBytes(bytes))).toBe(table);
  });

  it.each([true, false])("refuses UTF-16 without a mark (little end first: %s) and says what to do", (littleEndian) => {
    const error = refusal(utf16("100 1 0.1\n200 2 0.2\n", { littleEndian, mark: false }));
    expect(error.found).toBe("UTF-16 text without a byte order mark (save the table as UTF-8)");
    expect(error.place).toMatchObject({ file: "a.txt", line: 1, column: littleEndian ? 2 : 1 });
  });

  it("refuses UTF-16 that ends within a character", () => {
    expect(refusal(utf16("1 2\n", { littleEndian: true }).subarray(0, 9)).found).toContain("UTF-16 text with a cut");
    expect(refusal(utf16("1 2\ud800\n", { littleEndian: true })).found).toContain("UTF-16 text with a cut");
  });

  it("names line and column of a control byte and of a byte that is not UTF-8", () => {
    expect(refusal(utf8("1 2\r\n3 \u0000 4\r\n"))).toMatchObject({
      place: { line: 2, column: 3 },
      found: "a control byte 0x00: a binary file",
    });
    expect(refusal(new Uint8Array([0x31, 0x0d, 0x32, 0xff, 0x33]))).toMatchObject({
      place: { line: 2, column: 2 },
      found: "a byte that is not UTF-8",
    });
  });

  it.each([
    ["", "an empty file"],
    [" \t\r\n", "a file of blanks only"],
    ["\ufeff", "a file of blanks only"],
    ["\u00a0\n", "a file of blanks only"],
  ])("refuses %j", (text, words) => {
    expect(refusal(utf8(text)).found).toBe(words);
  });
});

describe("firstInvalidUtf8", () => {
  const isValid = (bytes: Uint8Array): boolean => {
    try {
      new TextDecoder("utf-8", { fatal: true }).decode(bytes);
      return true;
    } catch {
      return false;
    }
  };
  /** The longest valid beginning, found with the decoder alone; a cut last character does not count. */
  const firstFault = (bytes: Uint8Array): number => {
    for (let n = bytes.length; n >= 0; n--) if (isValid(bytes.subarray(0, n))) return n === bytes.length ? -1 : n;
    return 0;
  };
  it("agrees with a text decoder on bytes near the borders of the rule", () => {
    const random = stream(20250, 1, 0);
    const edges = [
      0x41, 0x7f, 0x80, 0x8f, 0x90, 0x9f, 0xa0, 0xbf, 0xc1, 0xc2, 0xdf, 0xe0, 0xe1, 0xed, 0xef, 0xf0, 0xf4, 0xf5,
    ];
    for (let trial = 0; trial < 20_000; trial++) {
      const bytes = Uint8Array.from({ length: 5 }, () => edges[random.integerBelow(edges.length)]);
      expect(firstInvalidUtf8(bytes), [...bytes].map((b) => b.toString(16)).join(" ")).toBe(firstFault(bytes));
    }
  });
});
