import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { FerruleError } from "../../errors.js";
import { canonicalHash, canonicalJson } from "./canonical-json.js";

function refusal(value: unknown): FerruleError {
  try {
    canonicalJson(value);
  } catch (error) {
    if (error instanceof FerruleError) return error;
    throw error;
  }
  throw new Error("accepted");
}

describe("canonicalJson", () => {
  it("orders fields by UTF-16 code units (RFC 8785, 3.2.3, from memory)", () => {
    const example = {
      "\u20ac": "Euro Sign",
      "\r": "Carriage Return",
      "\ufb33": "Hebrew Letter Dalet With Dagesh",
      "1": "One",
      "\ud83d\ude00": "Emoji: Grinning Face",
      "\u0080": "Control",
      "\u00f6": "Latin Small Letter O With Diaeresis",
    };
    const order = [...canonicalJson(example).matchAll(/:"([^"]*)"/g)].map(([, text]) => text.split(" ")[0]);
    expect(order).toEqual(["Carriage", "One", "Control", "Latin", "Euro", "Emoji:", "Hebrew"]);
  });

  it("writes numbers, text and literals as the RFC's sample (3.2.2, from memory)", () => {
    // biome-ignore lint/correctness/noPrecisionLoss: the sample has more digits than a double on purpose
    const numbers = [333333333.33333329, 1e30, 4.5, 2e-3, 0.000000000000000000000000001];
    const value = { numbers, string: '\u20ac$\u000f\nA\'B"\\\\"/', literals: [null, true, false] };
    expect(canonicalJson(value)).toBe(
      '{"literals":[null,true,false],"numbers":[333333333.3333333,1e+30,4.5,0.002,1e-27],' +
        '"string":"€$\\u000f\\nA\'B\\"\\\\\\\\\\"/"}',
    );
  });

  it("hashes as Python's json and hashlib do", () => {
    // python3 -c 'import json,hashlib; v={"b":[1,2.5,"x"],"a":{"d":None,"c":True}};
    //   print(hashlib.sha256(json.dumps(v,sort_keys=True,separators=(",",":")).encode()).hexdigest())'
    expect(canonicalHash({ b: [1, 2.5, "x"], a: { d: null, c: true } })).toBe(
      "5ccd52c83105ca4ef6eac61e7eab5e37f4bcfdbd4574134c7ecce45dca7b34ca",
    );
  });

  it("does not see the order in which fields were written, and sees every value", () => {
    fc.assert(
      fc.property(fc.dictionary(fc.string(), fc.jsonValue()), (object) => {
        const turned = Object.fromEntries(Object.entries(object).reverse());
        expect(canonicalJson(turned)).toBe(canonicalJson(object));
        expect(JSON.parse(canonicalJson(object))).toEqual(JSON.parse(JSON.stringify(object)));
      }),
    );
  });

  it("reads -0 and 0 as one number", () => {
    expect(canonicalJson([-0])).toBe("[0]");
  });
});

describe("refusals", () => {
  const ring: { inner: unknown[] } = { inner: [] };
  ring.inner.push(ring);
  it.each([
    [{ a: { b: [1, Number.NaN] } }, "a.b[1]", "NaN"],
    [{ a: Number.POSITIVE_INFINITY }, "a", "Infinity"],
    [{ step: undefined }, "step", "undefined"],
    [[1, undefined], "[1]", "undefined"],
    [new Array(2), "[0]", "undefined"],
    [undefined, "value", "undefined"],
    [{ "two words": 1n }, '["two words"]', "a bigint"],
    [{ f: () => 1 }, "f", "a function"],
    [{ data: new Float64Array(2) }, "data", "a Float64Array"],
    [{ at: new Date(0) }, "at", "a Date"],
    [{ map: new Map([["a", 1]]) }, "map", "a Map"],
    [ring, "inner[0]", "a value that contains itself"],
  ])("%# names the path", (value, path, found) => {
    const error = refusal(value);
    expect(error.code).toBe("InvalidValue");
    expect(error.place.path).toBe(path);
    expect(error.found).toBe(found);
  });

  it("takes the same object twice, which is no ring", () => {
    const shared = { x: 1 };
    expect(canonicalJson([shared, shared])).toBe('[{"x":1},{"x":1}]');
  });
});
