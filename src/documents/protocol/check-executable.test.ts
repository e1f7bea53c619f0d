import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { parseDocument } from "../parse-document.js";
import { checkExecutable } from "./check-executable.js";

const read = (name: string) => readFileSync(new URL(`../fixtures/${name}.json`, import.meta.url), "utf8");
const scannerText = read("scanner");
const protocolText = read("protocol");

type Replacement = readonly [from: string, to: string];

function edited(text: string, replacements: readonly Replacement[]): string {
  return replacements.reduce((current, [from, to]) => {
    if (!current.includes(from)) throw new Error(`nothing to replace: ${from}`);
    return current.replace(from, to);
  }, text);
}

function check({
  scanner = [],
  protocol = [],
}: {
  scanner?: readonly Replacement[];
  protocol?: readonly Replacement[];
}) {
  return checkExecutable(
    parseDocument(edited(scannerText, scanner), { family: "scanner" }).model,
    parseDocument(edited(protocolText, protocol), { family: "protocol" }).model,
  );
}

describe("checkExecutable", () => {
  it("finds nothing in a protocol that the scanner can run", () => {
    expect(check({})).toEqual([]);
  });

  it("asks 280 mT for 80 mm at 7 T/m", () => {
    // Definitions, surprise 12: a shift field that covers 80 mm at 7 T/m is +-280 mT.
    const protocol = [['"from": "-8 mm", "to": "8 mm"', '"from": "-40 mm", "to": "40 mm"']] as const;
    expect(check({ protocol, scanner: [["140 mT", "280 mT"]] })).toEqual([]);
    expect(check({ protocol, scanner: [["140 mT", "279.9 mT"]] })).toEqual([
      {
        code: "NotExecutable",
        path: "raster.axes.z",
        found: "positions that need a shift of 280 mT on axis z",
        accepted: "at most 279.9 mT on axis z: positions nearer to the centre",
      },
    ]);
  });

  it("counts the far end of a raster that lies to one side", () => {
    // 7 T/m * 24 mm = 168 mT, with either sign.
    for (const [from, to] of [
      ["0 mm", "24 mm"],
      ["-24 mm", "0 mm"],
    ])
      expect(
        check({ protocol: [['"from": "-8 mm", "to": "8 mm"', `"from": "${from}", "to": "${to}"`]] }),
      ).toMatchObject([{ path: "raster.axes.z", found: "positions that need a shift of 168 mT on axis z" }]);
  });

  it("refuses positions on an axis without a shift field", () => {
    expect(check({ scanner: [['{ "axis": "x", "range": "70 mT" },', ""]] })).toMatchObject([
      { path: "raster.axes.x", accepted: expect.stringContaining("no shift field on axis x") },
    ]);
  });

  it("takes the largest shift over the raster when axes mix", () => {
    // Row x of G is (0, 0, 2) T/m: the x shift is set by the z positions, 2 T/m * 8 mm = 16 mT.
    const tilted: Replacement = [
      '["-3.5 T/m", "-3.5 T/m", "7 T/m"]',
      '[["0 T/m", "0 T/m", "2 T/m"], ["0 T/m", "-7 T/m", "0 T/m"], ["2 T/m", "0 T/m", "7 T/m"]]',
    ];
    expect(check({ scanner: [tilted, ['"x", "range": "70 mT"', '"x", "range": "16 mT"']] })).toEqual([]);
    expect(check({ scanner: [tilted, ['"x", "range": "70 mT"', '"x", "range": "15.9 mT"']] })).toMatchObject([
      { path: "raster.axes.z", found: "positions that need a shift of 16 mT on axis x" },
    ]);
  });

  it("refuses several positions along a field-free line", () => {
    const scanner = [
      ['["-3.5 T/m", "-3.5 T/m", "7 T/m"]', '["0 T/m", "-7 T/m", "7 T/m"]'],
      ["field-free-point", "field-free-line"],
    ] as const;
    expect(check({ scanner })).toMatchObject([
      { path: "raster.axes.x", found: "21 positions along the field-free line" },
    ]);
  });

  it.each([
    [["20 mT", "20.1 mT"], "drive.amplitude", "20.1 mT", "at most 20 mT (peak) on axis z"],
    [['"drive": { "axis": "z"', '"drive": { "axis": "x"'], "drive.axis", '"x"', 'a drive axis of this scanner: "z"'],
    [["25 kHz", "50 kHz"], "drive.frequency", "50000 Hz", "what drive axis z is tuned to: 25000 Hz"],
  ] as const)("%j is refused at %s", (replacement, path, found, accepted) => {
    expect(check({ protocol: [replacement] })).toEqual([{ code: "NotExecutable", path, found, accepted }]);
  });
});
