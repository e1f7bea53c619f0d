import { readFileSync } from "node:fs";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { isKnownError } from "../errors.js";
import { familyNames } from "./families.js";
import { parseDocument } from "./parse-document.js";

type Json = null | boolean | number | string | Json[] | { [key: string]: Json };

const good = Object.fromEntries(
  familyNames.map((family) => [
    family,
    JSON.parse(readFileSync(new URL(`fixtures/${family}.json`, import.meta.url), "utf8")) as Json,
  ]),
);

/** Real sources: coils as in the fixture, and a magnet of each kind outside them. */
const ofCoils = (() => {
  const text = readFileSync(new URL("fixtures/scanner-of-coils.json", import.meta.url), "utf8");
  const scanner = JSON.parse(text) as { selectionField: { magnets?: Json } };
  const ring = { axis: "z", innerRadius: "200 mm", outerRadius: "220 mm", length: "30 mm", remanence: "1 mT" };
  const center = ["0 mm", "0 mm", "0 mm"];
  scanner.selectionField.magnets = [
    { name: "ring", magnet: { kind: "ring", center, ...ring, sense: 1 } },
    { name: "halbach", magnet: { kind: "halbach", center, ...ring, poles: 4, segments: 8, reference: "x" } },
    {
      name: "block",
      magnet: {
        kind: "block",
        center: ["300 mm", "0 mm", "0 mm"],
        size: ["10 mm", "10 mm", "10 mm"],
        magnetisation: "x",
        remanence: "1 T",
      },
    },
  ];
  return scanner as unknown as Json;
})();

/** Every way into a document. */
function pathsOf(value: Json, path: (string | number)[] = []): (string | number)[][] {
  if (typeof value !== "object" || value === null) return [path];
  const entries = Array.isArray(value) ? value.map((each, i) => [i, each] as const) : Object.entries(value);
  return [path, ...entries.flatMap(([key, each]) => pathsOf(each, [...path, key]))];
}

function replaced(value: Json, [head, ...rest]: (string | number)[], by: Json | undefined): Json | undefined {
  if (head === undefined) return by;
  const copy = structuredClone(value) as Record<string | number, Json>;
  const child = replaced(copy[head], rest, by);
  if (child !== undefined) copy[head] = child;
  else if (Array.isArray(copy)) copy.splice(head as number, 1);
  else delete copy[head];
  return copy as Json;
}

const number = fc.oneof(fc.double({ noNaN: true, noDefaultInfinity: true }), fc.integer());
const unit = fc.constantFrom(
  "mm",
  "nm",
  "T",
  "mT",
  "T/m",
  "kHz",
  "S/s",
  "MS/s",
  "%",
  "kA/m",
  "K",
  "Cel",
  "ug",
  "mg/mL",
  "s",
  "",
);
const leaf = fc.oneof(
  fc.tuple(number, unit).map(([value, symbol]) => `${value} ${symbol}`),
  fc.string(),
  fc.constantFrom("x", "z", "single", "point", "sphere", "none", "volume", "__proto__", "constructor", "empty", "a/b"),
  number,
  fc.constant(null),
  fc.boolean(),
);
const anything = fc.oneof(
  leaf,
  fc.array(leaf, { maxLength: 4 }),
  fc.dictionary(fc.string(), leaf),
  fc.constant(undefined),
);

function everyNumberIsFinite(value: unknown): boolean {
  if (typeof value === "number") return Number.isFinite(value);
  if (typeof value !== "object" || value === null) return true;
  return Object.values(value).every(everyNumberIsFinite);
}

/** Reads the text: a model of finite numbers, or a refusal with a place and something to do. */
function readsOrRefuses(text: string): "read" | "refused" {
  try {
    const { model } = parseDocument(text, { file: "a.json" });
    expect(everyNumberIsFinite(model)).toBe(true);
    return "read";
  } catch (error) {
    if (!isKnownError(error, "InvalidDocument")) throw error;
    expect(error.place.line).toBeGreaterThan(0);
    expect(error.found).not.toBe("");
    expect(error.accepted).not.toBe("");
    return "refused";
  }
}

describe("whatever comes", () => {
  it("any JSON is refused with a place, and nothing else is thrown", () => {
    fc.assert(
      fc.property(fc.json({ maxDepth: 5 }), (text) => {
        expect(readsOrRefuses(text)).toBe("refused");
      }),
    );
  });

  it("a scanner of coils and magnets with a value replaced or removed is read or refused", () => {
    const paths = pathsOf(ofCoils).filter((path) => path.length > 0);
    const outcomes = new Set<string>();
    const odd = fc.oneof(anything, fc.constantFrom("0 mm", "-1 mm", "1e3 m", "0 A", "1e-300 A", "0 T", "y", [0, 0, 1]));
    fc.assert(
      fc.property(fc.constantFrom(...paths), odd, (path, value) => {
        outcomes.add(readsOrRefuses(JSON.stringify(replaced(ofCoils, path, value as Json | undefined))));
      }),
      { numRuns: 100 },
    );
    expect([...outcomes].sort()).toEqual(["read", "refused"]);
  });

  it.each(familyNames)("a %s with one or two values replaced or removed is read or refused", (family) => {
    const document = good[family];
    const paths = pathsOf(document).filter((path) => path.length > 0);
    const outcomes = new Set<string>();
    fc.assert(
      fc.property(fc.constantFrom(...paths), fc.constantFrom(...paths), anything, anything, (one, two, a, b) => {
        const first = replaced(document, one, a as Json | undefined)!;
        const reachable = pathsOf(first).some((path) => path.join("/") === two.join("/"));
        const second = reachable ? replaced(first, two, b as Json | undefined)! : first;
        outcomes.add(readsOrRefuses(JSON.stringify(second)));
      }),
      { numRuns: 600 },
    );
    expect(outcomes, "a mutation that never breaks anything would prove nothing").toContain("refused");
  });
});
