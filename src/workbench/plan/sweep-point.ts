import type { Prices, ReceiveModel, ScannerModel, TracerModel } from "../../documents/index.js";
import { constantLimits, type HarmonicChannel, massDetection } from "../../measure/index.js";
import { pointHarmonics_V_per_kg } from "../../physics/index.js";
import type { Body } from "../../safety/index.js";
import { noiseAt } from "../scanner/receive-analysis.js";
import type { ReferenceDesign } from "./reference-design.js";
import { type DesignNeeds, type DesignPoint, needsAt, type ResistanceTable } from "./scaled-design.js";
import { type SubjectAt, subjectAt } from "./subject-at.js";
import type { SweepRow } from "./sweep-columns.js";
import { edgeShareOf, type HarmonicsAt } from "./tracer-at-drives.js";

/** What all points of one case share. */
export interface SweepScene {
  readonly design: ReferenceDesign;
  readonly tracer: TracerModel;
  readonly staticWidth_T: number | null;
  readonly harmonics: HarmonicsAt;
  readonly body: Body;
  readonly scanTime_s: number;
  readonly prices: Prices | undefined;
  readonly resistances: ResistanceTable;
  readonly seen: SweepMemory;
}

/** What points of a sweep share: a body knows nothing of the gradient, a receive coil nothing of the amplitude. */
export interface SweepMemory {
  readonly subjects: Map<string, SubjectAt>;
  readonly detections: Map<string, DetectionAt>;
  readonly noise: Map<string, number>;
}

export const emptyMemory = (): SweepMemory => ({ subjects: new Map(), detections: new Map(), noise: new Map() });

interface DetectionAt {
  readonly signal: number;
  readonly noise: number;
  readonly background: number;
}

function remembered<Value>(memory: Map<string, Value>, key: string, make: () => Value): Value {
  const known = memory.get(key);
  if (known !== undefined) return known;
  const value = make();
  memory.set(key, value);
  return value;
}

export interface SweepPoint {
  readonly row: SweepRow;
  readonly subject: SubjectAt;
  /** The largest need over what there is; null: nothing is stated to compare with. */
  readonly hardware: { readonly name: string; readonly ratio: number } | null;
}

/** Every figure of a sweep at one point. */
export function sweepPoint(scene: SweepScene, point: DesignPoint): SweepPoint {
  const { design, staticWidth_T, body } = scene;
  const along = point.gradient_T_per_m * design.shareAlongDrive;
  const needs = needsAt(design, point, scene.resistances);
  const { driveAmplitude_T: amplitude, frequency_Hz: frequency, boreDiameter_m: bore } = point;
  const subject = remembered(scene.seen.subjects, `${amplitude} ${frequency}`, () =>
    subjectAt(body, design.drive, { point, scanner: design.scanner }),
  );
  const hardware = hardwareAt(design, needs);
  const { signal, noise, background } = remembered(scene.seen.detections, `${amplitude} ${frequency} ${bore}`, () =>
    detectionAt(scene, point),
  );
  const known = (value: number | null) => value ?? Number.NaN;
  return {
    subject,
    hardware,
    row: {
      gradient: point.gradient_T_per_m,
      drive_amplitude: point.driveAmplitude_T,
      frequency: point.frequency_Hz,
      bore_diameter: point.boreDiameter_m,
      static_width: staticWidth_T === null ? Number.NaN : staticWidth_T / along,
      patch: (2 * point.driveAmplitude_T) / along,
      shift_for_quarter_bore: needs.shiftForQuarterBore_T,
      signal,
      detection_noise: noise,
      detection_background: background,
      stimulation_low: known(subject.stimulation?.low ?? null),
      stimulation_high: known(subject.stimulation?.high ?? null),
      heating_low: known(subject.heating?.low ?? null),
      heating_high: known(subject.heating?.high ?? null),
      sar: subject.sar_W_per_kg,
      selection_power: known(needs.selectionPower_W),
      stored_energy: known(needs.storedEnergy_J),
      drive_current: known(needs.driveCurrent_A),
      drive_power: known(needs.drivePower_W),
      drive_voltage: known(needs.driveVoltage_V),
      drive_apparent_power: known(needs.driveApparentPower_VA),
      heat: known(needs.heat_W),
      conductor_mass: known(needs.conductorMass_kg),
      magnet_mass: known(needs.magnetMass_kg),
      hardware_ratio: known(hardware?.ratio ?? null),
      cost: costOf(needs, scene.prices),
    },
  };
}

/** Supplies and cooling are the reference scanner's own; magnets cannot be made stronger than they are. */
function hardwareAt({ selection, driveCoil }: ReferenceDesign, needs: DesignNeeds): SweepPoint["hardware"] {
  const supply = driveCoil?.coil.supply;
  const ratios: readonly (readonly [string, number | null, number | null | undefined])[] = [
    ["selection current", needs.selectionCurrentShare, 1],
    ["selection voltage", needs.selectionVoltageShare, 1],
    ["selection power", needs.selectionPower_W, selection.supplyPower_W],
    ["selection cooling", needs.selectionPower_W, selection.cooling_W],
    ["drive current", needs.driveCurrent_A, supply?.maximumCurrent_A],
    ["drive voltage", needs.driveVoltage_V, supply?.maximumVoltage_V],
    ["drive power", needs.drivePower_W, supply?.maximumPower_W],
    ["drive cooling", needs.drivePower_W, driveCoil?.coil.cooling_W],
    ["magnet strength", needs.magnetShare, 1],
  ];
  let worst: SweepPoint["hardware"] = null;
  for (const [name, needed, available] of ratios) {
    if (needed === null || available === null || available === undefined || available === 0) continue;
    const ratio = needed / available;
    if (worst === null || ratio > worst.ratio) worst = { name, ratio };
  }
  return worst;
}

function detectionAt(
  { design, tracer, harmonics, body, scanTime_s, seen }: SweepScene,
  point: DesignPoint,
): DetectionAt {
  const s = point.boreDiameter_m / design.boreDiameter_m;
  const receive = scaledReceive(design.receive, s);
  const { chain, bandwidth_Hz, removesFundamental } = receive;
  const top_Hz = Math.min(bandwidth_Hz ?? Infinity, (chain.digitiser?.rate_per_s ?? Infinity) / 2);
  const amplitude = harmonics(point.driveAmplitude_T, point.frequency_Hz, edgeShareOf(design.drive));
  const signal = pointHarmonics_V_per_kg(amplitude.subarray(1), {
    sensitivity_T_per_A: receive.sensitivity_T_per_A,
    momentPerIron_A_m2_per_kg: tracer.core.momentPerIron_A_m2_per_kg,
    frequency_Hz: point.frequency_Hz,
  });
  const direct_V = (design.feedthrough_V_per_T_Hz ?? 0) * s ** 2 * point.driveAmplitude_T * point.frequency_Hz;
  // The body that loads the coil is the case's, whatever bore it is scaled to.
  const { subject = { part: body.part } } = design.scanner;
  const scanner: ScannerModel = { ...design.scanner, subject, boreDiameter_m: point.boreDiameter_m };
  const channels: HarmonicChannel[] = [];
  // Odd orders only: at the field-free point the response is odd in the field.
  for (
    let order = removesFundamental ? 3 : 1;
    order <= signal.length && order * point.frequency_Hz <= top_Hz;
    order += 2
  )
    channels.push({
      order,
      signal_V_per_kg: signal[order - 1],
      noiseDensity_V_per_sqrtHz: remembered(
        seen.noise,
        `${s} ${order * point.frequency_Hz}`,
        () => noiseAt(receive, scanner, order * point.frequency_Hz).total,
      ),
      background_V: direct_V * (order === 1 ? 1 : (chain.distortion ?? 0)),
    });
  const third = signal[2] ?? Number.NaN;
  const noisy = channels.filter(({ noiseDensity_V_per_sqrtHz }) => noiseDensity_V_per_sqrtHz > 0);
  if (!noisy.some(({ signal_V_per_kg }) => signal_V_per_kg > 0))
    return { signal: third, noise: Number.NaN, background: Number.NaN };
  const isKnown = design.feedthrough_V_per_T_Hz !== null && chain.instability !== undefined;
  const limits = massDetection(noisy, { time_s: scanTime_s, instability: chain.instability ?? 0 });
  return {
    signal: third,
    noise: limits.noise.limits_kg.detection,
    background: isKnown ? constantLimits(limits.worstBackground_kg).detection : Number.NaN,
  };
}

/** The receive coil s times as large, of the same turns: B/I and resistance as 1/s, inductance as s. */
function scaledReceive(receive: ReceiveModel, s: number): ReceiveModel {
  const { resistance_Ohm, inductance_H } = receive.chain;
  return {
    ...receive,
    sensitivity_T_per_A: receive.sensitivity_T_per_A / s,
    chain: {
      ...receive.chain,
      resistance_Ohm: resistance_Ohm === undefined ? undefined : resistance_Ohm / s,
      inductance_H: inductance_H === undefined ? undefined : inductance_H * s,
    },
  };
}

function costOf(needs: DesignNeeds, prices: Prices | undefined): number {
  if (prices === undefined) return Number.NaN;
  const parts: readonly (readonly [number | undefined, number | null])[] = [
    [prices.conductorPerKg, needs.conductorMass_kg],
    [prices.magnetPerKg, needs.magnetMass_kg],
    [prices.amplifierPerKVA, needs.driveApparentPower_VA === null ? null : needs.driveApparentPower_VA / 1e3],
    [prices.coolingPerKW, needs.heat_W === null ? null : needs.heat_W / 1e3],
  ];
  // A price without its quantity would make the sum look complete.
  return parts.reduce((sum, [price, quantity]) => {
    if (price === undefined) return sum;
    return quantity === null ? Number.NaN : sum + price * quantity;
  }, 0);
}
