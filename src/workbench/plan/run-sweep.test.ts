import { describe, expect, it } from "vitest";
import {
  idealScanner,
  receiveDocument,
  shippedFile,
  shippedScanner,
  sweepOf,
} from "../../../test/invented-scanners.js";
import { isKnownError } from "../../errors.js";
import { analyseScanner } from "../scanner/analyse-scanner.js";
import { runSweep, type SweptCase, verdicts } from "./run-sweep.js";
import { type SweepColumnName, sweepColumns } from "./sweep-columns.js";

const mouse = shippedScanner("mouse-point");
const head = shippedScanner("head-concept");

async function swept(parts: Parameters<typeof sweepOf>[0]): Promise<readonly SweptCase[]> {
  return (await runSweep(sweepOf(parts))).cases;
}

const ratioOf = ({ table }: SweptCase, column: SweepColumnName): number => table[column][1] / table[column][0];

describe("the grid", () => {
  it("runs over every combination, the last axis fastest, each case with its own values of what is not swept", async () => {
    const over = {
      gradient: ["1 T/m", "2 T/m"],
      driveAmplitude: ["2 mT", "4 mT", "6 mT"],
      boreDiameter: ["40 mm", "80 mm"],
    };
    const result = await runSweep(sweepOf({ scanners: [mouse, head], over }));
    expect(result.shape).toEqual([2, 3, 1, 2]);
    const [{ table }] = result.cases;
    expect([...table.bore_diameter.subarray(0, 4)]).toEqual([0.04, 0.08, 0.04, 0.08]);
    expect([...table.drive_amplitude.subarray(0, 4)]).toEqual([2e-3, 2e-3, 4e-3, 4e-3]);
    expect([...table.gradient.subarray(4, 8)]).toEqual([1, 1, 2, 2]);
    expect(new Set(table.frequency)).toEqual(new Set([25e3]));
    for (const { name } of sweepColumns) expect(table[name]).toHaveLength(12);
  });

  it("a point alone has every figure of the same point in a sweep, to the bit", async () => {
    const values = {
      gradient: ["0.3 T/m", "2.9 T/m"],
      driveAmplitude: ["3 mT", "11 mT"],
      frequency: ["10 kHz", "60 kHz"],
      boreDiameter: ["35 mm", "90 mm", "300 mm"],
    };
    const many = await swept({ scanners: [mouse, head], over: values });
    for (const index of [0, 7, 13, 23]) {
      const at = [Math.floor(index / 12), Math.floor(index / 6) % 2, Math.floor(index / 3) % 2, index % 3];
      const names = ["gradient", "driveAmplitude", "frequency", "boreDiameter"] as const;
      const one = Object.fromEntries(names.map((name, k) => [name, [values[name][at[k]]]]));
      const single = await swept({ scanners: [mouse, head], over: one });
      for (const [i, alone] of single.entries()) {
        for (const { name } of sweepColumns) expect(alone.table[name][0]).toBe(many[i].table[name][index]);
        expect(alone.verdict[0]).toBe(many[i].verdict[index]);
        expect(alone.firstNames[alone.first[0]]).toBe(many[i].firstNames[many[i].first[index]]);
        expect(alone.hardwareNames[alone.hardware[0]]).toBe(many[i].hardwareNames[many[i].hardware[index]]);
      }
    }
  });

  it("a case scaled to another bore keeps its fields: its gradient falls as the bore grows, unless it is stated", async () => {
    const over = { driveAmplitude: ["5 mT"] };
    const cases = [{}, { boreDiameter: "80 mm" }, { boreDiameter: "80 mm", gradient: "1.5 T/m" }];
    const { bases } = await runSweep(sweepOf({ scanners: [mouse, mouse, mouse], over, cases }));
    const [own, scaled, stated] = bases.map(({ row }) => row.gradient);
    expect(scaled / own).toBeCloseTo(0.5, 12);
    expect(stated).toBe(1.5);
  });
});

describe("detection over the bore", () => {
  const loop = (z: string, sense: number) => ({
    kind: "loop",
    center: ["0 mm", "0 mm", z],
    normal: "z",
    radius: "40 mm",
    turns: 3,
    sense,
  });
  const { sensitivity: _, ...channel } = receiveDocument({ windings: [loop("0 mm", 1)], removesFundamental: true });
  const scanner = idealScanner({
    receive: [{ ...channel, bandwidth: "500 kHz", distortion: 1e-5, instability: 1e-3 }],
    subject: { part: "mouse" },
  });

  it("white noise of one density: sensitivity 1/s, so the limit grows as s; feedthrough s² more, so its limit as s³", async () => {
    const [both] = await swept({ scanners: [scanner], over: { boreDiameter: ["60 mm", "120 mm"] } });
    expect(ratioOf(both, "signal")).toBeCloseTo(0.5, 12);
    expect(ratioOf(both, "detection_noise")).toBeCloseTo(2, 12);
    expect(ratioOf(both, "detection_background")).toBeCloseTo(8, 12);
  });

  it("falls as 1/sqrt of the scan time where noise limits it, not at all where the background does", async () => {
    const over = { driveAmplitude: ["10 mT"] };
    const [short, long] = await Promise.all(
      ["1 s", "100 s"].map((scanTime) => swept({ scanners: [scanner], over, parts: { scanTime } })),
    );
    expect(short[0].table.detection_noise[0] / long[0].table.detection_noise[0]).toBeCloseTo(10, 10);
    // The weights come from noise over time: rounding.
    expect(short[0].table.detection_background[0] / long[0].table.detection_background[0]).toBeCloseTo(1, 12);
  });

  it("counts the same body at every bore, also where none is stated", async () => {
    const { subject: __, ...without } = mouse;
    const over = { boreDiameter: ["40 mm", "400 mm"] };
    const [unstated, stated] = await swept({
      scanners: [without, { ...mouse, subject: { part: "mouse" } }],
      over,
    });
    expect(unstated.subject).toBe("mouse");
    expect(unstated.table.detection_noise).toEqual(stated.table.detection_noise);
  });

  it("width and patch go as 1/G along the drive", async () => {
    const [both] = await swept({ scanners: [scanner], over: { gradient: ["1 T/m", "4 T/m"] } });
    expect(ratioOf(both, "static_width")).toBeCloseTo(0.25, 12);
    expect(ratioOf(both, "patch")).toBeCloseTo(0.25, 12);
    // 2 x 20 mT over 1 T/m.
    expect(both.table.patch[0]).toBeCloseTo(0.04, 12);
  });

  it("a band below the third harmonic leaves nothing to detect: not known, never zero", async () => {
    const [low] = await swept({ scanners: [scanner], over: { frequency: ["25 kHz", "200 kHz"] } });
    expect(low.table.detection_noise[0]).toBeGreaterThan(0);
    expect(low.table.detection_noise[1]).toBeNaN();
  });
});

describe("limits at each point", () => {
  it("a head: below, between and above the sources as the drive grows, about 7.6 mT peak to peak at 25 kHz (W26)", async () => {
    // The strictest source gives 1.94 mT peak, the default of the standard 3.8 mT, the most lenient 5.2 mT.
    const over = { driveAmplitude: ["1.9 mT", "3.8 mT", "5.3 mT"] };
    const [{ verdict, first, firstNames, table, subjectClass }] = await swept({ scanners: [head], over });
    expect(subjectClass).toBe("scan subject");
    expect([...verdict].map((code) => verdicts[code])).toEqual([
      "below every limit in our sources",
      "between the limits of our sources",
      "above every limit in our sources",
    ]);
    expect([...first].map((index) => firstNames[index])).toEqual(
      Array(3).fill("nerve stimulation (peak to peak), drive z"),
    );
    // One body at one frequency: the ratios go as the amplitude.
    expect(table.stimulation_high[1] / table.stimulation_high[0]).toBeCloseTo(3.8 / 1.9, 12);
    expect(table.stimulation_low[2]).toBeGreaterThanOrEqual(1);
    expect(table.stimulation_low[1]).toBeLessThanOrEqual(1);
    expect(table.stimulation_high[1]).toBeGreaterThanOrEqual(1);
  });

  it("heating goes as the square of drive and frequency: one section, one tissue", async () => {
    const [drive] = await swept({ scanners: [head], over: { driveAmplitude: ["2 mT", "6 mT"] } });
    expect(ratioOf(drive, "sar")).toBeCloseTo(9, 10);
    const [frequency] = await swept({ scanners: [head], over: { frequency: ["10 kHz", "30 kHz"] } });
    expect(ratioOf(frequency, "sar")).toBeCloseTo(9, 10);
  });

  it("a mouse: no published threshold in our sources, at every point, and no first limit", async () => {
    const [{ verdict, first, firstNames, table }] = await swept({
      scanners: [mouse],
      over: { driveAmplitude: ["2 mT", "20 mT"] },
    });
    expect([...verdict].map((code) => verdicts[code])).toEqual(Array(2).fill("no published threshold in our sources"));
    expect([...first]).toEqual([-1, -1]);
    expect(firstNames).toEqual([]);
    expect(table.stimulation_high[0]).toBeNaN();
    expect(table.heating_high[0]).toBeNaN();
    expect(table.sar[0]).toBeGreaterThan(0);
  });

  it("hardware: the need that is nearest to its supply is named, and passes 1 where the supply ends", async () => {
    // 320 A make the mouse scanner's own gradient; its supplies end at 350 A.
    const own = await swept({ scanners: [mouse], over: { gradient: ["0.5 T/m", "5 T/m"] } });
    const [{ table, hardware, hardwareNames, design }] = own;
    expect(hardwareNames[hardware[1]]).toBe("selection current");
    expect(table.hardware_ratio[1]).toBeCloseTo(((5 / design.gradient_T_per_m) * 320) / 350, 9);
    // A scanner that states no selection current is judged by its power, 2 x 8 kW.
    const sources = structuredClone(mouse.selectionField.sources);
    for (const { coil } of sources?.coils ?? []) Object.assign(coil.supply, { maximumCurrent_A: undefined });
    const unlimited = { ...mouse, selectionField: { ...mouse.selectionField, sources } };
    const [byPower] = await swept({ scanners: [unlimited], over: { gradient: ["0.5 T/m", "6 T/m"] } });
    expect(byPower.hardwareNames[byPower.hardware[1]]).toBe("selection power");
    expect(byPower.table.hardware_ratio[1]).toBeCloseTo(byPower.table.selection_power[1] / 16e3, 9);
  });
});

describe("pulses", () => {
  it("a scanner that makes pulses is swept with pulses, as inspection takes them", async () => {
    const [drive] = mouse.driveAxes;
    const pulsed = {
      ...mouse,
      driveAxes: [{ ...drive, frequency_Hz: 5e3, waveform: { kind: "pulsed" as const, edge_s: 4e-6 } }],
    };
    const [{ table, advisories }] = await swept({ scanners: [pulsed], over: { driveAmplitude: ["16 mT"] } });
    const { detection } = await analyseScanner(pulsed, {
      time_s: 1,
      tracerFile: shippedFile("studies/four-spheres/tracer/langevin-25-nm.json"),
    });
    // One response, sampled alike; inspection counts more harmonics, of which pulses have many.
    const third = detection[0].channels.find(({ order }) => order === 3);
    expect(table.signal[0] / (third?.signal_V_per_kg ?? 0)).toBeCloseTo(1, 6);
    expect(advisories.some((words) => words.includes("pulses and trapezoids"))).toBe(true);
    const [sine] = await swept({
      scanners: [{ ...pulsed, driveAxes: [{ ...drive, frequency_Hz: 5e3 }] }],
      over: { driveAmplitude: ["16 mT"] },
    });
    expect(Math.abs(sine.table.signal[0] / table.signal[0] - 1)).toBeGreaterThan(0.01);
  });
});

describe("cost", () => {
  const over = { driveAmplitude: ["10 mT"] };
  const prices = { currency: "EUR", conductorPerKg: 40, magnetPerKg: 90, amplifierPerKVA: 500, coolingPerKW: 300 };
  const costOf = async (scanner: typeof mouse, stated?: object) => {
    const [{ table }] = await swept({ scanners: [scanner], over, parts: stated ? { prices: stated } : {} });
    return { cost: table.cost[0], table };
  };

  it("is the sum over what has a price", async () => {
    const { cost, table } = await costOf(mouse, prices);
    const sum =
      40 * table.conductor_mass[0] +
      90 * table.magnet_mass[0] +
      (500 * table.drive_apparent_power[0]) / 1e3 +
      (300 * table.heat[0]) / 1e3;
    expect(cost).toBeCloseTo(sum, 9);
    expect((await costOf(mouse, { currency: "EUR", coolingPerKW: 300 })).cost).toBeCloseTo(
      (300 * table.heat[0]) / 1e3,
      9,
    );
  });

  it("is not known without prices, nor when a quantity that has a price is not known", async () => {
    expect((await costOf(mouse)).cost).toBeNaN();
    const ideal = idealScanner({ subject: { part: "mouse" } });
    for (const name of ["conductorPerKg", "magnetPerKg", "amplifierPerKVA", "coolingPerKW"])
      expect((await costOf(ideal, { currency: "EUR", [name]: 1 })).cost, name).toBeNaN();
  });
});

describe("a long sweep", () => {
  const over = {
    gradient: { from: "0.1 T/m", to: "5 T/m", count: 20, spacing: "ratio" },
    frequency: { from: "5 kHz", to: "50 kHz", count: 20, spacing: "even" },
  };

  it("tells how far it is, rising to 1", async () => {
    const parts: number[] = [];
    await runSweep(sweepOf({ scanners: [mouse], over }), { onProgress: (part) => parts.push(part) });
    expect(parts.length).toBeGreaterThanOrEqual(8);
    expect(parts).toEqual([...parts].sort((a, b) => a - b));
    expect(parts.at(-1)).toBe(1);
  });

  it.each([0, 0.6])("stops when asked to at %s of the way, and says so", async (when) => {
    const abort = new AbortController();
    if (when === 0) abort.abort();
    const many = { ...over, driveAmplitude: { from: "2 mT", to: "20 mT", count: 20, spacing: "even" } };
    const running = runSweep(sweepOf({ scanners: [mouse], over: many }), {
      signal: abort.signal,
      onProgress: (part) => {
        if (part >= when) abort.abort();
      },
    });
    const error = await running.catch((caught: unknown) => caught);
    expect(isKnownError(error, "Cancelled")).toBe(true);
  });
});
