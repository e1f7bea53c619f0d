import { readFileSync } from "node:fs";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { parseDocument } from "../../parse-document.js";
import { checkExecutable } from "../check-executable.js";

type Tree = { [key: string]: Tree };

const read = (name: string) =>
  JSON.parse(readFileSync(new URL(`../../fixtures/${name}.json`, import.meta.url), "utf8")) as Tree;
const ideal = read("scanner");
const ofCoils = read("scanner-of-coils");
const raster = read("protocol");

type Edits = Readonly<Record<string, unknown>>;

function edited(document: Tree, edits: Edits): string {
  const copy = structuredClone(document);
  for (const [path, value] of Object.entries(edits)) {
    const keys = path.split(".");
    const parent = keys.slice(0, -1).reduce((at, key) => at[key], copy);
    if (value === undefined) delete parent[keys[keys.length - 1]];
    else parent[keys[keys.length - 1]] = value as Tree;
  }
  return JSON.stringify(copy);
}

function check(scanner: Tree, { scanner: ofScanner = {}, protocol = {} }: { scanner?: Edits; protocol?: Edits } = {}) {
  return checkExecutable(
    parseDocument(edited(scanner, ofScanner), { family: "scanner" }).model,
    parseDocument(edited(raster, protocol), { family: "protocol" }).model,
  );
}

/** First number in a message: it must agree with the hand calculation to the six digits that are shown. */
const numberIn = (text: string, before: RegExp) => Number(before.exec(text)?.[1]);
const sixDigits = 5e-6;

describe("slew and settle time", () => {
  // z is the drive axis: back from 8 mm to -8 mm at 7 T/m in 2 ms is 112 mT, 56 T/s.
  it("counts the way back to the first position of the fast axis", () => {
    const slew = (value: string) => check(ideal, { scanner: { "shiftFields.2.slew": value } });
    expect(slew("56 T/s")).toEqual([]);
    expect(slew("50 T/s")).toEqual([
      {
        code: "NotExecutable",
        path: "settleTime",
        found: "0.002 s for a move of 112 mT on axis z: 56 T/s",
        accepted: "at least 0.00224 s at 50 T/s",
      },
    ]);
  });

  it("asks only a step of the slowest axis, which never goes back", () => {
    // x steps by 1 mm at 3.5 T/m: 3.5 mT in 2 ms, 1.75 T/s.
    expect(check(ideal, { scanner: { "shiftFields.0.slew": "1.75 T/s" } })).toEqual([]);
    expect(check(ideal, { scanner: { "shiftFields.0.slew": "1.7 T/s" } })).toMatchObject([
      { path: "settleTime", found: "0.002 s for a move of 3.5 mT on axis x: 1.75 T/s" },
    ]);
    // With two positions of y behind it, it goes back over 70 mT: 35 T/s.
    const planes = { "raster.axes.y": { from: "0 mm", to: "1 mm", step: "1 mm" } };
    expect(check(ideal, { scanner: { "shiftFields.0.slew": "34 T/s" }, protocol: planes })).toMatchObject([
      { path: "settleTime", found: "0.002 s for a move of 70 mT on axis x: 35 T/s" },
    ]);
  });

  it("refuses a move without time where the slew is known, and says nothing where it is not", () => {
    const protocol = { settleTime: undefined };
    expect(check(ideal, { protocol })).toEqual([]);
    expect(check(ideal, { protocol, scanner: { "shiftFields.2.slew": "1000 T/s" } })).toEqual([
      {
        code: "NotExecutable",
        path: "settleTime",
        found: "0 s for a move of 112 mT on axis z: at once",
        accepted: "at least 0.000112 s at 1000 T/s",
      },
    ]);
  });

  it("needs no time to stay where it is", () => {
    const still = { from: "4 mm", to: "4 mm" };
    const protocol = { settleTime: undefined, "raster.axes.z": still, "raster.axes.x": still };
    const scanner = { "shiftFields.0.slew": "1 T/s", "shiftFields.2.slew": "1 T/s" };
    expect(check(ideal, { scanner, protocol })).toEqual([]);
  });
});

describe("bed", () => {
  const moved = { "raster.bed": "z", settleTime: "1 s" };
  const bed = { axis: "z", range: "60 mm", speed: "20 mm/s" };

  it("moves instead of a shift field", () => {
    // 8 mm from the centre and back over 16 mm: 0.8 s at 20 mm/s. No shift field on z.
    const scanner = { bed, shiftFields: [{ axis: "x", range: "70 mT" }] };
    expect(check(ideal, { scanner, protocol: moved })).toEqual([]);
  });

  it("must be there, along its axis, within its range and in time", () => {
    expect(check(ideal, { protocol: moved })).toMatchObject([
      { path: "raster.bed", found: '"z"', accepted: expect.stringContaining("no bed that moves") },
    ]);
    expect(check(ideal, { scanner: { bed }, protocol: { ...moved, "raster.bed": "x" } })).toMatchObject([
      { path: "raster.bed", found: '"x"', accepted: '"z", the axis along which this scanner\'s bed moves' },
    ]);
    expect(check(ideal, { scanner: { bed: { ...bed, range: "7.9 mm" } }, protocol: moved })).toEqual([
      {
        code: "NotExecutable",
        path: "raster.axes.z",
        found: "positions that need the bed at 8 mm",
        accepted: "at most 7.9 mm either way",
      },
    ]);
    expect(check(ideal, { scanner: { bed }, protocol: { ...moved, settleTime: "0.8 s" } })).toEqual([]);
    expect(check(ideal, { scanner: { bed }, protocol: { ...moved, settleTime: "0.79 s" } })).toEqual([
      {
        code: "NotExecutable",
        path: "settleTime",
        found: "0.79 s for a bed move of 16 mm",
        accepted: "at least 0.8 s at 20 mm/s",
      },
    ]);
  });

  it("only steps when its axis is the slowest", () => {
    // x, 1 mm a step: 50 ms.
    const along = { ...bed, axis: "x" };
    const protocol = { "raster.bed": "x", settleTime: "50 ms" };
    expect(check(ideal, { scanner: { bed: along }, protocol })).toEqual([]);
    expect(check(ideal, { scanner: { bed: along }, protocol: { ...protocol, settleTime: "49 ms" } })).toHaveLength(1);
  });

  it("reaches along a field-free line, where no field does", () => {
    const line = { topology: "field-free-line", "selectionField.gradient": ["0 T/m", "-7 T/m", "7 T/m"] };
    const scanner = { ...line, bed: { ...bed, axis: "x" } };
    expect(check(ideal, { scanner, protocol: { settleTime: "50 ms" } })).toMatchObject([{ path: "raster.axes.x" }]);
    expect(check(ideal, { scanner, protocol: { settleTime: "50 ms", "raster.bed": "x" } })).toEqual([]);
  });
});

describe("receive channel", () => {
  const noDriveCoil = { "driveAxes.0.coil": undefined };

  it("digitiser rate", () => {
    expect(check(ofCoils, { scanner: { "receive.0.digitiser.rate": "2.5 MS/s" } })).toEqual([]);
    const scanner = { "receive.0.digitiser.rate": "2.4 MS/s" };
    expect(check(ofCoils, { scanner })).toEqual([
      {
        code: "NotExecutable",
        path: "sampling.rate",
        found: "2500000 S/s",
        accepted: "at most 2400000 S/s on receive channel z",
      },
    ]);
  });

  it("feedthrough that the filter leaves, against the range: 2 pi f B N pi a^2", () => {
    // 20 mT uniform through 10 turns of 32 mm: 101.06 V; the filter leaves 20 % of it, the gain is 2.
    const direct_V = 2 * Math.PI * 25e3 * 0.02 * 10 * Math.PI * 0.032 ** 2;
    const chain = { ...noDriveCoil, "receive.0.fundamentalLeft": 0.2, "receive.0.digitiser.gain": 2 };
    const problems = check(ofCoils, { scanner: chain });
    expect(problems).toMatchObject([{ path: "drive.amplitude", accepted: "at most 10 V" }]);
    const said = numberIn(problems[0].found, /^a feedthrough that leaves ([\d.]+) V/);
    expect(Math.abs(said / (direct_V * 0.2 * 2) - 1)).toBeLessThan(sixDigits);
    // A compensation that leaves a quarter keeps it within 10.1 V of 10.2 V.
    const within = { "receive.0.imbalance": 0.25, "receive.0.digitiser.range": "10.2 V" };
    expect(check(ofCoils, { scanner: { ...chain, ...within } })).toEqual([]);
    expect(check(ofCoils, { scanner: noDriveCoil })).toEqual([]); // the filter takes all of it
  });

  it("takes the coil of the drive that is used, of two on one axis", () => {
    const scanner = {
      ...noDriveCoil,
      "driveAxes.1": { ...(ofCoils.driveAxes as unknown as Tree[])[0], frequency: "10 kHz" },
      "receive.0.fundamentalLeft": 0.05,
    };
    const uniform_V = 2 * Math.PI * 10e3 * 0.02 * 10 * Math.PI * 0.032 ** 2 * 0.05;
    const swapped = { "drive.frequency": "10 kHz", "sampling.rate": "1 MS/s" };
    const left = (protocol: Edits, range: string) =>
      check(ofCoils, { scanner: { ...scanner, "receive.0.digitiser.range": range }, protocol })[0]?.found ?? "";
    // Through a real solenoid the flux of a wide loop is below that of the centre's field everywhere.
    const ofCoil_V = numberIn(left(swapped, "0.1 V"), /leaves ([\d.]+) V/);
    expect(ofCoil_V).toBeGreaterThan(0);
    expect(Math.abs(ofCoil_V / uniform_V - 1)).toBeGreaterThan(1e-3);
    const uniform25_V = numberIn(left({}, "0.1 V"), /leaves ([\d.]+) V/);
    expect(Math.abs(uniform25_V / (2.5 * uniform_V) - 1)).toBeLessThan(sixDigits);
  });

  it("does not judge a channel without a digitiser or windings", () => {
    expect(check(ideal, { scanner: { "receive.0.digitiser": { bits: 16, range: "1 nV", rate: "3 MS/s" } } })).toEqual(
      [],
    );
    expect(check(ofCoils, { scanner: { "receive.0.digitiser": undefined, "receive.0.fundamentalLeft": 1 } })).toEqual(
      [],
    );
  });
});

describe("asking for less", () => {
  const supply = { maximumCurrent: "25 A", maximumVoltage: "400 V", maximumPower: "100 W" };
  const scanner = parseDocument(
    edited(ofCoils, {
      "driveAxes.0.coil.supply": supply,
      "driveAxes.0.coil.cooling": "60 W",
      "receive.0.fundamentalLeft": 0.1,
      "shiftFields.0.coil.supply": { maximumCurrent: "6 A", maximumVoltage: "4 V", maximumPower: "9 W" },
      "shiftFields.0.slew": "0.5 T/s",
    }),
    { family: "scanner" },
  ).model;
  const model = parseDocument(JSON.stringify(raster), { family: "protocol" }).model;
  const kinds = (amplitude_T: number, scale = 1) => {
    const axes = Object.fromEntries(
      Object.entries(model.raster.axes).map(([axis, each]) => [
        axis,
        { ...each, from_m: each.from_m * scale, to_m: each.to_m * scale },
      ]),
    ) as unknown as typeof model.raster.axes;
    const protocol = { ...model, drive: { ...model.drive, amplitude_T }, raster: { ...model.raster, axes } };
    return checkExecutable(scanner, protocol).map(({ path, accepted }) => `${path}: ${accepted.split(" ")[2]}`);
  };

  it("never adds a problem: amplitude", () => {
    const amplitude = fc.double({ min: 1e-5, max: 0.05, noNaN: true });
    const share = fc.double({ min: 0.01, max: 1, noNaN: true });
    fc.assert(
      fc.property(amplitude, share, (amplitude_T, part) => {
        const before = kinds(amplitude_T);
        for (const each of kinds(amplitude_T * part)) expect(before).toContain(each);
      }),
    );
    expect(kinds(0.05).length).toBeGreaterThan(kinds(1e-4).length); // the property is not empty
  });

  it("never makes worse: a raster drawn in towards the centre", () => {
    const share = fc.double({ min: 0.01, max: 1, noNaN: true });
    const scale = fc.double({ min: 0.1, max: 5, noNaN: true });
    fc.assert(
      fc.property(scale, share, (large, part) => {
        if (kinds(1e-3, large).length === 0) expect(kinds(1e-3, large * part)).toEqual([]);
      }),
    );
    expect(kinds(1e-3, 5)).not.toEqual([]);
    expect(kinds(1e-3, 0.1)).toEqual([]);
  });
});

describe("the selection field", () => {
  it("refuses every scan when a coil heats more than its cooling carries away, I^2 R", () => {
    // 100 turns of 10 mm2 on a 100 mm loop: 62.83 m at 2e-8 Ohm m, 0.12566 Ohm, 1256.6 W at 100 A.
    const conductor = { material: "other", resistivity: "2e-8 Ohm.m", section: "10 mm2" };
    const cooled = (cooling: string) => ({
      "selectionField.coils.0.coil.conductor": conductor,
      "selectionField.coils.0.coil.cooling": cooling,
    });
    expect(check(ofCoils, { scanner: cooled("1.2 kW") })).toMatchObject([
      { code: "NotExecutable", path: "raster", found: expect.stringMatching(/a steady heat of 1\.256/) },
    ]);
    expect(check(ofCoils, { scanner: cooled("1.3 kW") })).toEqual([]);
  });
});
