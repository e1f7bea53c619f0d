import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { FerruleError, isKnownError } from "../../errors.js";
import { parsePositioned } from "./parse-positioned.js";

function refusal(text: string, options = {}): FerruleError {
  try {
    parsePositioned(text, { file: "a.json", ...options });
  } catch (error) {
    if (error instanceof FerruleError) return error;
    throw error;
  }
  throw new Error(`accepted: ${text}`);
}

describe("positions", () => {
  const text = '{\n  "a": [1, {"b": "x"}],\r\n  "c d":\n    null\n}';
  const { value, locate } = parsePositioned(text);

  it("reads what JSON.parse reads", () => {
    expect(value).toEqual(JSON.parse(text));
  });

  it.each([
    [[], "value", 1, 1],
    [["a"], "value", 2, 8],
    [["a"], "key", 2, 3],
    [["a", 0], "value", 2, 9],
    [["a", 1], "value", 2, 12],
    [["a", 1, "b"], "key", 2, 13],
    [["a", 1, "b"], "value", 2, 18],
    [["c d"], "key", 3, 3],
    [["c d"], "value", 4, 5],
  ] as const)("%j (%s) is at %i:%i", (path, part, line, column) => {
    expect(locate(path, part)).toEqual({ line, column });
  });

  it("answers a path that was not written with its nearest written ancestor", () => {
    expect(locate(["a", 1, "missing", "deeper"])).toEqual({ line: 2, column: 12 });
  });

  it("skips a byte order mark without counting it", () => {
    expect(parsePositioned('\uFEFF{"a":1}').locate(["a"], "key")).toEqual({ line: 1, column: 2 });
  });

  it("agrees with JSON.parse on any JSON text", () => {
    fc.assert(
      fc.property(fc.json({ maxDepth: 6 }), fc.boolean(), (json, isIndented) => {
        const written = isIndented ? JSON.stringify(JSON.parse(json), null, 2) : json;
        let expected: unknown;
        try {
          expected = parsePositioned(written).value;
        } catch (error) {
          // The one thing that JSON.parse takes and we do not, among texts that fast-check makes.
          expect(isKnownError(error, "InvalidDocument") && error.found).toMatch(/a second time$/);
          return;
        }
        expect(JSON.stringify(expected)).toBe(JSON.stringify(JSON.parse(written)));
      }),
    );
  });
});

describe("refusals", () => {
  it.each([
    ['{"a":1,}', 1, 8, "", 'a comma before "}"'],
    ["[1,\n]", 2, 1, "[1]", 'a comma before "]"'],
    ['{\n "a": 1 // x\n}', 2, 9, "", "// x"],
    ["/* x */ {}", 1, 1, "", "/* x */"],
    ['{"a":1,\n "b":2, "a":3}', 2, 9, "a", '"a" a second time'],
    ['{"a":{"b":1 "c":2}}', 1, 13, "a", '"c"'],
    ['{"a" 1}', 1, 6, "a", "1"],
    ["{a:1}", 1, 2, "", "a"],
    ["{'a':1}", 1, 2, "", "'a'"],
    ['{"a":NaN}', 1, 6, "a", "NaN"],
    ['{"a":[1e999]}', 1, 7, "a[0]", "1e999"],
    ['{"a":01}', 1, 7, "", "1"],
    ['{"a":.5}', 1, 6, "a", ".5"],
    ['{"a":"\\x"}', 1, 6, "a", '"\\x"'],
    ['{"a":1', 1, 7, "", "the end of the text"],
    ['{"a":"b\n"}', 1, 6, "a", '"b'],
    ['{"a":"\t"}', 1, 6, "a", '"\t"'],
    ["{} x", 1, 4, "", "x"],
    ["{} {}", 1, 4, "", "{"],
    ["", 1, 1, "", "the end of the text"],
  ])("%j at %i:%i, path %j", (text, line, column, path, found) => {
    const error = refusal(text);
    expect(error.code).toBe("InvalidDocument");
    expect(error.place).toEqual({ file: "a.json", line, column, path });
    expect(error.found).toBe(found);
    expect(() => JSON.parse(text) as unknown, "JSON.parse is no stricter than we, but for two rules").toSatisfy(
      (parse: () => unknown) => /a second time|1e999/.test(found) || throws(parse),
    );
  });

  it("names deep nesting before the stack ends", () => {
    const error = refusal(`${"[".repeat(200_000)}`);
    expect(error.place).toMatchObject({ line: 1, column: 201 });
    expect(error.accepted).toContain("at most 200");
    expect(() => parsePositioned(`${"[".repeat(200)}${"]".repeat(200)}`)).not.toThrow();
  });

  it("limits the length", () => {
    expect(refusal('{"a":1}', { maximumLength_chars: 6 }).found).toBe("a text of 7 characters");
    expect(() => parsePositioned('{"a":1}', { maximumLength_chars: 7 })).not.toThrow();
  });

  it("keeps __proto__ a name like any other", () => {
    const { value, locate } = parsePositioned('{"__proto__": {"polluted": 1}}');
    expect(Object.keys(value as object)).toEqual(["__proto__"]);
    expect((value as { polluted?: number }).polluted).toBeUndefined();
    expect(({} as { polluted?: number }).polluted).toBeUndefined();
    expect(locate(["__proto__", "polluted"])).toEqual({ line: 1, column: 28 });
  });

  it("throws nothing but FerruleError, whatever the text", () => {
    const shreds = fc.array(
      fc.constantFrom("{", "}", "[", "]", ",", ":", '"a"', "1", "-", "//", "/*", "\\", "\n", "tru", '"'),
    );
    fc.assert(
      fc.property(
        fc.oneof(
          fc.string(),
          fc.string({ unit: "binary" }),
          shreds.map((all) => all.join("")),
        ),
        (text) => {
          try {
            parsePositioned(text);
          } catch (error) {
            expect(isKnownError(error, "InvalidDocument")).toBe(true);
          }
        },
      ),
      { numRuns: 500 },
    );
  });
});

function throws(run: () => unknown): boolean {
  try {
    run();
    return false;
  } catch {
    return true;
  }
}
