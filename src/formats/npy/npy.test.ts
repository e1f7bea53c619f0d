import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { isKnownError } from "../../errors.js";
import { readNpy } from "./read.js";
import type { NpyArray } from "./types.js";
import { writeNpy } from "./write.js";

// Foreign files: written by NumPy (fixtures/make.py), so reader and writer cannot agree on a common mistake.
const fixtures = JSON.parse(readFileSync(new URL("./fixtures/numpy.json", import.meta.url), "utf8")) as {
  files: Record<string, string>;
  refused: Record<string, string>;
};
const bytesOf = (base64: string): Uint8Array => new Uint8Array(Buffer.from(base64, "base64"));
const file = (name: string): Uint8Array => bytesOf(fixtures.files[name]);

function refusal(bytes: Uint8Array, options = {}): string {
  try {
    readNpy(bytes, { file: "a.npy", ...options });
  } catch (error) {
    if (isKnownError(error, "InvalidFile")) return error.message;
    throw error;
  }
  return "not refused";
}

describe("readNpy on files written by NumPy", () => {
  it.each([
    ["f8", "<f8", [2, 3], [0.1, -2.5, Infinity, 1e-300, 3, 4]],
    ["version2", "<f8", [2, 3], [0.1, -2.5, Infinity, 1e-300, 3, 4]],
    ["f4", "<f4", [3], [1.5, -0.25, 3e7]],
    ["i4", "<i4", [2, 2, 2], [-4, -3, -2, -1, 0, 1, 2, 3]],
    ["i8", "<i8", [2], [2n ** 62n, -1n]],
    ["u1", "|u1", [3], [0, 7, 255]],
    ["b1", "|b1", [3], [1, 0, 1]],
    ["scalar", "<f8", [], [2.5]],
    ["empty", "<f8", [0, 3], []],
    ["column", "<f8", [2, 1], [1, 2]],
  ])("%s", (name, type, shape, values) => {
    const array = readNpy(file(name));
    expect(array.type).toBe(type);
    expect(array.shape).toEqual(shape);
    expect([...array.data]).toEqual(values);
  });

  it.each([
    ["fortran", "Fortran order"],
    ["bigEndian", "big-endian"],
    ["complex", '"<c16"'],
    ["structure", "a structure"],
    ["objects", "pickled objects"],
  ])("refuses %s", (name, words) => {
    expect(refusal(bytesOf(fixtures.refused[name]))).toContain(words);
  });
});

describe("readNpy on damaged files", () => {
  it("refuses every truncation, and extra bytes, with the sizes", () => {
    const whole = file("f8");
    for (let n = 0; n < whole.length; n++) expect(refusal(whole.subarray(0, n))).not.toBe("not refused");
    expect(refusal(whole.subarray(0, whole.length - 1))).toContain("47 bytes of data: the file is truncated");
    expect(refusal(new Uint8Array([...whole, 0]))).toContain("1 too many");
  });
  it("refuses a shape that no machine holds before allocating", () => {
    const text = new TextDecoder("latin1").decode(file("f4")).replace("(3,), }     ", "(3000000,), }");
    const long = Uint8Array.from(text, (c) => c.charCodeAt(0));
    expect(refusal(long)).toContain("truncated");
    expect(refusal(file("i4"), { maximumElements: 7 })).toContain("8 elements");
    const negative = text.replace("(3000000,)", "(-300000,)");
    expect(refusal(Uint8Array.from(negative, (c) => c.charCodeAt(0)))).toContain("shape (-300000,)");
  });
  it("names the file", () => expect(refusal(new Uint8Array([1, 2, 3]))).toMatch(/^a\.npy: /));
});

describe("writeNpy", () => {
  it.each(["f8", "f4", "i4", "i8", "u1", "b1", "scalar", "empty"])("writes the bytes that NumPy writes: %s", (name) => {
    expect(Buffer.compare(writeNpy(readNpy(file(name))), file(name))).toBe(0);
  });
  it("writes a view into a larger buffer as just its elements", () => {
    const data = Float64Array.of(9, 1, 2, 9).subarray(1, 3);
    expect([...readNpy(writeNpy({ type: "<f8", shape: [2], data })).data]).toEqual([1, 2]);
  });
  it("refuses a shape that does not fit", () => {
    const wrong: NpyArray = { type: "<f8", shape: [2, 2], data: new Float64Array(3) };
    expect(() => writeNpy(wrong)).toThrow("shape (2, 2) for 3 elements");
  });
});
