import { readFileSync } from "node:fs";
import {
  axialCylinderHeating,
  axialLayersHeating,
  basicRestriction_V_per_m,
  type Drive,
  type DriveWaveform,
  driveSwing,
  ellipticHeating,
  labelledDoses,
  measuredWholeBody,
  referenceLevel_T,
  type SectionHeating,
  sarLimits,
  type TissueLayer,
  thresholdChange_T,
  tissueConductivity,
  torsoThresholds_T,
  transverseField_V_per_m,
  transverseHeating,
  transverseLayersHeating,
  wholeBodyDefault,
  workersPeakField_V_per_m,
} from "../../src/safety/index.js";
import { toUnit } from "../../src/units/index.js";
import { lineLimits, publishedDose_mg_per_kg } from "./lines.js";

/** Shared by the gate and the meter: our values against printed ones and against general solvers. */
interface Truth {
  readonly published: readonly (readonly [string, string, string, number | null])[];
  readonly waveforms: readonly (readonly string[])[];
  readonly sections: readonly (readonly [
    string,
    number,
    number,
    readonly (readonly [number, number, number])[],
    string,
    string,
    string,
    string,
    ...string[],
  ])[];
  readonly cylinders: readonly (readonly [number, string, string])[];
}

export const truth: Truth = readTruth();

export interface Comparison {
  readonly row: string;
  readonly quantity: string;
  readonly found: number;
  readonly expected: number;
  readonly relativeError: number;
  readonly tolerance: number;
}

export function compare(
  [row, quantity]: readonly [string, string],
  [found, expected]: readonly [number, number],
  tolerance: number,
): Comparison {
  return { row, quantity, found, expected, relativeError: Math.abs(found - expected) / Math.abs(expected), tolerance };
}

/** Every printed value; one that we do not compute is a fault of the table and throws. */
export function publishedErrors(): Comparison[] {
  return truth.published.map(([row, quantity, printed, rtol]) => {
    const ours = computed[quantity];
    if (ours === undefined) throw new Error(`nothing computes "${quantity}" of ${row}`);
    return compare([row, quantity], [ours(), Number(printed)], rtol ?? printedTolerance(printed));
  });
}

/** Half a unit of the last printed digit; 1 % on top for a value rounded from the last bit on the other side. */
function printedTolerance(printed: string): number {
  const decimals = printed.split(".")[1]?.length ?? 0;
  return (1.01 * 0.5 * 10 ** -decimals) / Math.abs(Number(printed));
}

const pp_mT = (frequency_Hz: number) => 1e3 * thresholdChange_T(0.5 / frequency_Hz, wholeBodyDefault);
const cylinder = (): SectionHeating =>
  axialCylinderHeating(
    0.2,
    { conductivity_S_per_m: 0.36, density_kg_per_m3: 1000 },
    driveSwing({ axis: "z", amplitude_T: 6e-3, frequency_Hz: 25e3 }),
  );
const asymptote_mT = (axis: "y" | "z") => {
  const fit = measuredWholeBody(axis);
  return fit === null ? Number.NaN : 1e3 * thresholdChange_T(0, fit);
};
const sigma = (tissue: string, frequency_Hz: number) => tissueConductivity(tissue, frequency_Hz).conductivity_S_per_m;
const orNaN = (value: number | null) => value ?? Number.NaN;
const ferumoxytol_kg = () => {
  const [{ dose }] = labelledDoses;
  return "perBody_kg" in dose ? dose.perBody_kg : Number.NaN;
};
const ferumoxides = () => {
  const dose = labelledDoses.find(({ name }) => name.startsWith("ferumoxides"))?.dose;
  return dose !== undefined && "perMass_kg_per_kg" in dose ? dose.perMass_kg_per_kg * 1e6 : Number.NaN;
};
/** IUPAC abridged atomic weight of iron, g/mol: here by hand, so that the conversions are checked too. */
const iron_g_per_mol = 55.845;

const computed: Readonly<Record<string, () => number>> = {
  "first level, mT pp, 1 kHz": () => pp_mT(1e3),
  "first level, mT pp, 10 kHz": () => pp_mT(10e3),
  "first level, mT pp, 25 kHz": () => 1e3 * lineLimits(25e3).firstLevel,
  "first level, mT pp, 100 kHz": () => 1e3 * lineLimits(100e3).firstLevel,
  "normal mode, mT pp, 1 kHz": () => 1e3 * lineLimits(1e3).normal,
  "normal mode, mT pp, 10 kHz": () => 1e3 * lineLimits(10e3).normal,
  "normal mode, mT pp, 25 kHz": () => 1e3 * lineLimits(25e3).normal,
  "normal mode, mT pp, 100 kHz": () => 1e3 * lineLimits(100e3).normal,
  "asymptote, mT pp, default": () => 1e3 * thresholdChange_T(0, wholeBodyDefault),
  "asymptote, mT pp, measured y": () => asymptote_mT("y"),
  "asymptote, mT pp, measured z": () => asymptote_mT("z"),
  "measured threshold at 88.1 kHz over 25 kHz": () => lineLimits(88.1e3).departure / lineLimits(25e3).departure,
  "peak-rate reading with the whole rise, over ours, inverse": () =>
    lineLimits(100e3).normal / lineLimits(100e3).strictest,
  "torso asymptote, low end, mT pp": () => 1e3 * torsoThresholds_T(0).low,
  "torso asymptote, high end, mT pp": () => 1e3 * torsoThresholds_T(0).high,
  "section mean, W/kg": () => cylinder().mean_W_per_kg,
  "surface, W/kg": () => cylinder().highest_W_per_kg,
  "surface electric field, V/m": () => cylinder().peakField_V_per_m,
  "occupational E at 25 kHz, V/m rms": () => orNaN(basicRestriction_V_per_m(25e3, "occupational")),
  "public E at 25 kHz, V/m rms": () => orNaN(basicRestriction_V_per_m(25e3, "public")),
  "peak factor of workers, 1e-4 V/m per Hz": () =>
    (1e4 * Math.SQRT2 * orNaN(basicRestriction_V_per_m(25e3, "occupational"))) / 25e3,
  "occupational B at 1 kHz, mT rms": () => 1e3 * orNaN(referenceLevel_T(1e3, "occupational")),
  "occupational B at 25 kHz, mT rms": () => 1e3 * orNaN(referenceLevel_T(25e3, "occupational")),
  "public B at 1 kHz, mT rms": () => 1e3 * orNaN(referenceLevel_T(1e3, "public")),
  "public B at 25 kHz, mT rms": () => 1e3 * orNaN(referenceLevel_T(25e3, "public")),
  "occupational E at 60 Hz, V/m rms": () => orNaN(basicRestriction_V_per_m(60, "occupational")),
  "public E at 60 Hz, V/m rms": () => orNaN(basicRestriction_V_per_m(60, "public")),
  "workers' E below 3 kHz, V/m peak": () => orNaN(workersPeakField_V_per_m(1e3)),
  "workers' E at 25 kHz, V/m peak": () => orNaN(workersPeakField_V_per_m(25e3)),
  "blood, S/m, 500 Hz": () => sigma("blood", 500),
  "cerebrospinal fluid, S/m, 500 Hz": () => sigma("cerebrospinal fluid", 500),
  "muscle across fibres, S/m, 10 kHz": () => sigma("muscle across fibres", 10e3),
  "muscle along fibres, S/m, 100 kHz": () => sigma("muscle along fibres", 100e3),
  "fat, S/m, 1 MHz": () => sigma("fat", 1e6),
  "whole body, normal, W/kg": () => sarLimits.wholeBodyNormal_W_per_kg,
  "whole body, first level, W/kg": () => sarLimits.wholeBodyFirstLevel_W_per_kg,
  "head, W/kg": () => sarLimits.head_W_per_kg,
  "local trunk, W/kg": () => sarLimits.localTrunk_W_per_kg,
  "510 mg in 70 kg, mg Fe/kg": () => toUnit(ferumoxytol_kg() / 70, "mg/kg"),
  "510 mg, mmol Fe": () => (1e6 * ferumoxytol_kg()) / iron_g_per_mol,
  "10 umol/kg, mg Fe/kg": ferumoxides,
  "mouse, mg Fe": () => publishedDose_mg_per_kg("mouse") * 25e-3,
  "mouse, mg Fe/kg": () => publishedDose_mg_per_kg("mouse"),
  "rabbit, mg Fe/kg": () => publishedDose_mg_per_kg("rabbit"),
  "rat, mg Fe/kg": () => publishedDose_mg_per_kg("rat"),
};

/** Closed forms of a swing against differentiation and quadrature of the waveform. */
export function waveformErrors(tolerance: number): Comparison[] {
  return truth.waveforms.flatMap(([kind, amplitude, frequency, edge, ...expected]) => {
    const drive: Drive = {
      axis: "z",
      amplitude_T: Number(amplitude),
      frequency_Hz: Number(frequency),
      waveform: waveformOf(kind, Number(edge)),
    };
    const { change_T, duration_s, peakRate_T_per_s, meanSquareRate_T2_per_s2 } = driveSwing(drive);
    const found = [change_T, duration_s, peakRate_T_per_s, meanSquareRate_T2_per_s2];
    const names = ["change", "duration", "peak rate", "mean-square rate"];
    return names.map((name, i) => compare([`${kind} ${frequency}`, name], [found[i], Number(expected[i])], tolerance));
  });
}

function waveformOf(kind: string, edge_s: number): DriveWaveform {
  if (kind === "trapezoid") return { kind, rampTime_s: edge_s };
  return kind === "pulsed" ? { kind, riseTime_s: edge_s } : { kind: "sine" };
}

/** Closed forms in sections against finite elements, for unit rate and unit mean-square rate. */
export function sectionErrors(tolerance: number): Comparison[] {
  return truth.sections.flatMap(([name, a, b, rows, ...expected]) => {
    const layers = layersOf(a, rows);
    const [along, across] = sectionOf({ x: a, y: b }, layers);
    const found = [along.mean_W_per_kg, along.highest_W_per_kg, along.peakField_V_per_m, across.mean_W_per_kg];
    const names = ["section mean", "worst point", "field at the short axis' end", "section mean, field across"];
    return names.map((quantity, i) => compare([name, quantity], [found[i], Number(expected[i])], tolerance));
  });
}

function layersOf(radius_m: number, rows: readonly (readonly [number, number, number])[]): TissueLayer[] {
  return rows.map(([part, conductivity_S_per_m, density_kg_per_m3]) => ({
    name: String(part),
    outerRadius_m: part * radius_m,
    conductivity_S_per_m,
    density_kg_per_m3,
  }));
}

/** Field along the cylinder, and along x across it. */
function sectionOf(semiAxes_m: { x: number; y: number }, layers: readonly TissueLayer[]): SectionHeating[] {
  const rate = { peakRate_T_per_s: 1, meanSquareRate_T2_per_s2: 1 };
  const [tissue] = layers;
  if (semiAxes_m.x !== semiAxes_m.y)
    return [ellipticHeating(semiAxes_m, tissue, rate), transverseHeating(semiAxes_m.y, tissue, rate)];
  if (layers.length > 1) return [axialLayersHeating(layers, rate), transverseLayersHeating(layers, rate)];
  return [axialCylinderHeating(semiAxes_m.x, tissue, rate), transverseHeating(semiAxes_m.y, tissue, rate)];
}

/** The endless cylinder against cylinders of finite length: largest field of each over ours. */
export function lengthRatios(): { readonly halfLength: number; readonly middle: number; readonly largest: number }[] {
  const endless = transverseField_V_per_m(1, 1);
  return truth.cylinders.map(([halfLength, middle, largest]) => ({
    halfLength,
    middle: Number(middle) / endless,
    largest: Number(largest) / endless,
  }));
}

function readTruth(): Truth {
  const tables: Readonly<Record<string, readonly never[]>> = JSON.parse(
    readFileSync(new URL("./truth.json", import.meta.url), "utf8"),
  );
  const table = (start: string) => {
    const found = Object.entries(tables).find(([name]) => name.startsWith(start));
    if (found === undefined) throw new Error(`truth.json has no table "${start}"`);
    return found[1];
  };
  return {
    published: table("published"),
    waveforms: table("waveforms"),
    sections: table("sections"),
    cylinders: table("finite cylinders"),
  };
}
