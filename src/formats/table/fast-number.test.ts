import { describe, expect, it } from "vitest";
import { stream } from "../../numerics/index.js";
import { fastNumber } from "./fast-number.js";

const read = (text: string, mark = "."): number => {
  const bytes = new TextEncoder().encode(`;${text};`);
  return fastNumber(bytes, 1, { end: bytes.length - 1, mark: mark.charCodeAt(0) });
};

describe("fastNumber", () => {
  it("agrees to the bit with the language's own reading, wherever it answers", () => {
    const random = stream(20250, 0, 0);
    const digit = () => random.integerBelow(10);
    let answered = 0;
    for (let trial = 0; trial < 20_000; trial++) {
      const digits = Array.from({ length: 1 + random.integerBelow(17) }, digit).join("");
      const cut = random.integerBelow(digits.length + 1);
      const exponent = random.uniform() < 0.5 ? "" : `e${random.integerBelow(60) - 30}`;
      const text = `${random.uniform() < 0.3 ? "-" : ""}${digits.slice(0, cut)}.${digits.slice(cut)}${exponent}`;
      const value = read(text);
      if (Number.isNaN(value)) continue;
      answered += 1;
      expect(Object.is(value, Number(text)), text).toBe(true);
    }
    expect(answered).toBeGreaterThan(10_000); // 15 of 17 lengths, and most exponents
  });

  it.each([
    ["1", 1],
    ["-0", -0],
    ["+7", 7],
    [".5", 0.5],
    ["5.", 5],
    ["1.2E-05", 1.2e-5],
    ["1.2D-05", 1.2e-5],
    ["1d3", 1000],
    ["9007199254740.5", 9007199254740.5],
  ])("reads %s", (text, value) => {
    expect(Object.is(read(text), value)).toBe(true);
  });

  it("reads a decimal comma where that is the mark", () => {
    expect(read("1,5", ",")).toBe(1.5);
    expect(read("1.5", ",")).toBeNaN();
  });

  it.each([
    "",
    "-",
    ".",
    "e5",
    "1e",
    "1e+",
    "1e5.5",
    "1,5",
    "nan",
    '"1"',
    "0x10",
    "1 2",
    "1234567890123456",
    "1e400",
    "1f3",
  ])("leaves %j to a closer look", (text) => {
    expect(read(text)).toBeNaN();
  });
});
