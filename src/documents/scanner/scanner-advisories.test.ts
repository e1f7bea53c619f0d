import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { parseDocument } from "../parse-document.js";

type Tree = { [key: string]: Tree };

const read = (name: string) =>
  JSON.parse(readFileSync(new URL(`../fixtures/${name}.json`, import.meta.url), "utf8")) as Tree;
const ideal = read("scanner");
const ofCoils = read("scanner-of-coils");

type Edits = Readonly<Record<string, unknown>>;

function advisories(document: Tree, edits: Edits = {}): readonly string[] {
  const copy = structuredClone(document);
  for (const [path, value] of Object.entries(edits)) {
    const keys = path.split(".");
    const parent = keys.slice(0, -1).reduce((at, key) => at[key], copy);
    parent[keys[keys.length - 1]] = value as Tree;
  }
  const { model } = parseDocument(JSON.stringify(copy), { family: "scanner" });
  return model.advisories.filter((each) => !each.includes("the numbers are invented"));
}

const magnetRings = ["80 mm", "-80 mm"].map((z, i) => ({
  name: `ring ${i}`,
  magnet: {
    kind: "ring",
    center: ["0 mm", "0 mm", z],
    axis: "z",
    innerRadius: "60 mm",
    outerRadius: "100 mm",
    length: "40 mm",
    remanence: "1.3 T",
    sense: i === 0 ? 1 : -1,
  },
}));

const hot = {
  material: "other",
  resistivity: "2e-8 Ohm.m",
  section: "10 mm2",
};

/** what, document, edits, words: one advisory each. */
const odd: readonly (readonly [string, Tree, Edits, string])[] = [
  ["steep gradient", ideal, { "selectionField.gradient": ["-8 T/m", "-8 T/m", "16 T/m"] }, "a gradient of 16.00 T/m"],
  ["bore of four metres", ideal, { boreLength: "4 m" }, "larger than what is usually built (1 m by 3 m)"],
  [
    "bed across the bore",
    ideal,
    { bed: { axis: "x", range: "60 mm", speed: "20 mm/s" } },
    "its bed moves along x, across the bore, whose axis is z",
  ],
  ["slow drive", ideal, { "driveAxes.0.frequency": "200 Hz" }, "drive z at 200.0 Hz is outside what has been used"],
  ["fast drive", ideal, { "driveAxes.0.frequency": "600 kHz", "receive.0.bandwidth": "3 MHz" }, "drive z at 600.0 kHz"],
  ["strong drive", ideal, { "driveAxes.0.maximumAmplitude": "0.3 T" }, "unusually strong"],
  ["weak drive", ideal, { "driveAxes.0.maximumAmplitude": "0.05 mT" }, "drive z of 50.00 µT peak is unusually weak"],
  [
    "tuned coil for trapezoids",
    ofCoils,
    { "driveAxes.0.coil.isResonant": true, "driveAxes.0.waveform": { kind: "trapezoid", rampTime: "5 us" } },
    "pass a sine only, but its waveform is trapezoids",
  ],
  [
    // The solenoid makes 0.5228 mT/A (facts L7).
    "drive supply too small",
    ofCoils,
    { "driveAxes.0.coil.supply": { maximumCurrent: "30 A" } },
    "the 30.00 A of drive coil z reach 15.68 mT, not the stated 20.00 mT",
  ],
  [
    // The pair makes 0.7493 mT/A (facts L4).
    "shift supply too small",
    ofCoils,
    { "shiftFields.0.coil.supply": { maximumCurrent: "20 A" } },
    "the 20.00 A of shift coil x reach 14.99 mT, not the stated 30.00 mT",
  ],
  [
    // 100 turns of 2 pi 0.1 m at 2e-8 Ohm m / 10 mm2: 0.12566 Ohm; at 100 A 1.2566 kW.
    "selection coil hotter than its cooling",
    ofCoils,
    { "selectionField.coils.0.coil.conductor": hot, "selectionField.coils.0.coil.cooling": "1.2 kW" },
    "selection coil front turns 1.257 kW into heat, above its cooling of 1.200 kW",
  ],
  ["large sensitivity", ideal, { "receive.0.sensitivity": "0.2 T/A" }, "is it B_R/I?"],
  ["no noise", ideal, { "receive.0.noise": "0 V/Hz^0.5" }, "receive coil z is stated to be free of noise"],
  [
    "receive coil across the drive",
    ideal,
    { "receive.0.axis": "x" },
    "receive coil x lies across every drive axis: it sees only what the gradient turns its way",
  ],
  ["one harmonic left", ideal, { "receive.0.bandwidth": "60 kHz" }, "only the second is left"],
  ["no harmonic left", ideal, { "receive.0.bandwidth": "40 kHz" }, "no harmonic is left"],
  [
    "a share left of what is not taken out",
    ideal,
    { "receive.0.removesFundamental": false, "receive.0.fundamentalLeft": 1e-3 },
    "states what is left of a fundamental that it does not take out",
  ],
  [
    // One loop 10 % stronger moves the point by G^-1 dB = 3.4 mm.
    "centre off the origin",
    ofCoils,
    { "selectionField.coils.0.current": "110 A" },
    "from the origin, to which positions refer",
  ],
  ["body too large", ideal, { subject: { part: "human-arm" } }, "90.00 mm across, does not fit the bore of 60.00 mm"],
  [
    "own body too large",
    ideal,
    { subject: { part: "own", being: "animal", semiAxes: ["35 mm", "20 mm"] } },
    "does not fit the bore",
  ],
  ["staff in the bore", ideal, { staffDistance: "20 mm" }, "inside the bore"],
];

describe("what is odd but possible", () => {
  it.each([
    ["ideal", ideal],
    ["made of coils", ofCoils],
  ])("is said of no sound scanner: %s", (_name, document) => {
    expect(advisories(document)).toEqual([]);
  });

  it.each(odd)("%s", (_what, document, edits, words) => {
    const said = advisories(document, edits);
    expect(said).toEqual([expect.stringContaining(words)]);
    expect(said[0]).toMatch(/^scanner Example /);
  });

  it("at its bound nothing is said", () => {
    for (const edits of [
      { boreLength: "3 m" },
      { "driveAxes.0.maximumAmplitude": "0.1 mT" },
      { "receive.0.bandwidth": "75 kHz" },
      { subject: { part: "mouse", radius: "30 mm" } },
      { staffDistance: "30 mm" },
    ])
      expect(advisories(ideal, edits)).toEqual([]);
    // 20 mT at 0.5228 mT/A are 38.26 A.
    expect(advisories(ofCoils, { "driveAxes.0.coil.supply": { maximumCurrent: "38.3 A" } })).toEqual([]);
  });

  it("several field-free points within the bore", () => {
    // Two cusps: coils of alternating sense at -d, 0, d leave one zero on the axis between each pair.
    const bands = [-1, 0, 1].map((place) => ({
      name: `band ${place}`,
      current: "100 A",
      coil: {
        windings: [
          {
            kind: "loop",
            center: ["0 mm", "0 mm", `${place * 60} mm`],
            normal: "z",
            radius: "40 mm",
            turns: 100,
            sense: place === 0 ? -1 : 1,
          },
        ],
      },
    }));
    const [first, ...rest] = advisories(ofCoils, {
      boreLength: "110 mm",
      selectionField: { kind: "sources", coils: bands },
    }).filter((each) => each.includes("field-free points"));
    expect(first).toMatch(/its sources leave 2 field-free points within the bore/);
    expect(rest).toEqual([]);
  });

  it("magnets in place of coils say nothing of power", () => {
    expect(advisories(ofCoils, { selectionField: { kind: "sources", magnets: magnetRings } })).toEqual([]);
  });
});
