import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { DocumentError } from "../document-error.js";
import { parseDocument } from "../parse-document.js";

type Tree = { [key: string]: Tree };

const read = (name: string) =>
  JSON.parse(readFileSync(new URL(`../fixtures/${name}.json`, import.meta.url), "utf8")) as Tree;
const documents = { scanner: read("scanner"), "scanner-of-coils": read("scanner-of-coils") };
const ofCoils = documents["scanner-of-coils"];

type Edits = readonly (readonly [path: string, value: unknown])[];

/** Paths as in "receive.0.noise"; `null` removes. */
function edited(document: Tree, edits: Edits): string {
  const copy = structuredClone(document);
  for (const [path, value] of edits) {
    const keys = path.split(".");
    const parent = keys.slice(0, -1).reduce((at, key) => at[key], copy);
    if (value === null) delete parent[keys[keys.length - 1]];
    else parent[keys[keys.length - 1]] = value as Tree;
  }
  return JSON.stringify(copy, null, 2);
}

function refusal(text: string): DocumentError {
  try {
    parseDocument(text, { file: "a.json" });
  } catch (error) {
    if (error instanceof DocumentError) return error;
    throw error;
  }
  throw new Error("accepted");
}

/** Where a value, or the nearest thing around it that is there, starts: found by writing a mark in its place. */
function placeOf(document: Tree, edits: Edits, path: string) {
  const keys = path.split(".");
  const whole = JSON.parse(edited(document, edits)) as Tree;
  while (keys.length > 0 && keys.reduce<Tree | undefined>((at, key) => at?.[key], whole) === undefined) keys.pop();
  const text = keys.length === 0 ? "@" : edited(whole, [[keys.join("."), "@"]]).replace('"@"', "@");
  const lines = text.slice(0, text.indexOf("@")).split("\n");
  return { line: lines.length, column: lines[lines.length - 1].length + 1 };
}

const dotted = (path: string) => path.replace(/\.(\d+)/g, "[$1]");

interface Case {
  readonly what: string;
  readonly document: "scanner" | "scanner-of-coils";
  readonly edits: Edits;
  readonly path: string;
  readonly found: string;
  readonly accepted: string;
}

/** Each breaks a sound document in one way. */
const cases = JSON.parse(
  readFileSync(new URL("../fixtures/scanner-refusals.json", import.meta.url), "utf8"),
) as readonly Case[];

describe("scanners that cannot be", () => {
  it.each(cases)("$what", ({ document: name, edits, path, found, accepted }) => {
    const document = documents[name];
    const error = refusal(edited(document, edits));
    expect(error.problems.map((each) => each.path)).toEqual([dotted(path)]);
    expect(error.place).toEqual({ file: "a.json", ...placeOf(document, edits, path), path: dotted(path) });
    expect(error.found).toContain(found);
    expect(error.accepted).toContain(accepted);
  });

  it("names the place where the field of two equal loops is least, and how much is left", () => {
    // Two loops of one sense: the middle is a saddle, the least |B| of the bore is on its wall or axis; on the axis
    // B(0) = mu0 N I a^2/(a^2 + d^2)^1.5 with d^2 = 3/4 a^2: mu0 1e4 / (0.1 * 1.75^1.5) = 54.28 mT (facts L1).
    const error = refusal(edited(ofCoils, [["selectionField.coils.1.coil.windings.0.sense", 1]]));
    const [, least_mT, x, y, z] = /at least ([\d.]+) mT, at \((\S+) mm, (\S+) mm, (\S+) mm\)/.exec(error.found) ?? [];
    expect(Number(least_mT)).toBeLessThanOrEqual(54.28);
    expect(Number(least_mT)).toBeGreaterThan(30);
    expect(Math.hypot(Number(x), Number(y))).toBeLessThanOrEqual(30 * (1 + 1e-6));
    expect(Math.abs(Number(z))).toBeLessThanOrEqual(40 * (1 + 1e-6));
  });

  it("takes coils that touch the bore", () => {
    const touching = edited(ofCoils, [["receive.0.windings.0.radius", "30 mm"]]);
    expect(parseDocument(touching).family).toBe("scanner");
  });

  it("tells every coil that stands in the bore at once", () => {
    const error = refusal(
      edited(ofCoils, [
        ["selectionField.coils.0.coil.windings.0.radius", "20 mm"],
        ["driveAxes.0.coil.windings.0.innerRadius", "25 mm"],
        ["receive.0.windings.0.radius", "28 mm"],
      ]),
    );
    expect(error.problems.map(({ path }) => path)).toEqual([
      "selectionField.coils[0].coil.windings[0]",
      "driveAxes[0].coil.windings[0]",
      "receive[0].windings[0]",
    ]);
  });
});
