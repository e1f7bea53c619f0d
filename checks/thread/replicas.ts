import {
  cutIntoPoints,
  directSummation,
  type IronObject,
  type Nuisances,
  recordVoltage,
  tikhonov,
} from "../../src/imaging/index.js";
import {
  answerIronMass,
  applyFunctional,
  calibrationLine,
  type IronMassAnswer,
  type RegionShape,
} from "../../src/measure/index.js";
import { type RandomStream, stream } from "../../src/numerics/index.js";
import { chooseWeight } from "../../src/workbench/thread/choose-weight.js";
import { planRegions, type RegionPlan, readRegions, readVial } from "../../src/workbench/thread/read-regions.js";
import { ironObjects, nuisancesOf } from "../../src/workbench/thread/simulate-scan.js";
import { voltageRows } from "../../src/workbench/thread/voltage-rows.js";
import type { ShippedThread } from "./shipped-study.js";

/**
 * Cheap replicas of the shipped study: the noise-free voltage of every object once, with its derivatives, then everything
 * that the budget names redrawn for each replica - noise, drift, tracer width, position, contour, shape, pipetting, stock.
 */
export interface ReplicaSetup {
  readonly thread: ShippedThread;
  readonly plan: RegionPlan;
  readonly relativeWeight: number;
  readonly objects: readonly ObjectVoltages[];
  readonly vialVoltage: VoltageFamily;
  readonly nuisances: Nuisances;
}

interface ObjectVoltages {
  readonly label: string;
  readonly iron_kg: number;
  readonly voltages: VoltageFamily;
}

/** Noise-free voltage per kg: base, and for each parameter its value one sd up and one sd down. */
interface VoltageFamily {
  readonly base: Float64Array;
  readonly pairs: readonly { readonly up: Float64Array; readonly down: Float64Array }[];
  /** Base with the iron drawn together into the middle third, for the shape line of the budget. */
  readonly core: Float64Array | undefined;
}

export function prepareReplicas(
  thread: ShippedThread,
  {
    offsetGrid_m,
    onProgress,
  }: { offsetGrid_m: readonly [number, number, number]; onProgress?: (text: string) => void },
): ReplicaSetup {
  const { study } = thread.folder;
  const { reconstruction: settings, calibration, simulation, regions, scans } = study.model;
  if (settings === undefined || calibration === undefined || simulation === undefined) throw new Error("study changed");
  const nuisances = nuisancesOf(simulation, thread.problemFor(1).noise_V_per_rtHz);
  const phantom = (role: string) => {
    const source = scans.find((scan) => scan.role === role)?.source;
    const found = source?.kind === "phantom" ? thread.folder.phantoms.get(source.phantomPath) : undefined;
    if (found === undefined) throw new Error(`no phantom for ${role}`);
    return ironObjects(found.model);
  };
  const voltage = (objects: IronObject[], diameterFactor: number) =>
    directSummation(cutIntoPoints(objects, offsetGrid_m), thread.problemFor(diameterFactor));
  const pilot = recordVoltage(
    voltage(phantom("pilot"), simulation.trueDiameterFactor),
    thread.raster,
    nuisances,
    stream(2),
  );
  const { relativeWeight } = chooseWeight(thread.model, voltageRows(pilot, thread.model), thread.wider);
  const solver = tikhonov(thread.model, { relativeWeight });
  const plan = planRegions(thread.model, solver, { regions, calibration, settings, widerGeometry: thread.wider });
  const narrow = (1 + settings.widthRelativeUncertainty) ** (-1 / 3);
  const wide = (1 - settings.widthRelativeUncertainty) ** (-1 / 3);
  const family = (shape: RegionShape, changes: readonly (readonly [RegionShape, RegionShape])[], withCore: boolean) => {
    const unit = (of: RegionShape, factor: number) => voltage([{ ...of, iron_kg: 1 } as IronObject], factor);
    return {
      base: unit(shape, 1),
      pairs: [
        { up: unit(shape, narrow), down: unit(shape, wide) },
        ...changes.map(([up, down]) => ({ up: unit(up, 1), down: unit(down, 1) })),
      ],
      core: withCore ? unit(scaled(shape, 1 / 3), 1) : undefined,
    };
  };
  const objects = phantom("object").map((object, index) => {
    onProgress?.(`object ${index + 1}`);
    const shape = regions[index].shape;
    const moves = [0, 1, 2].map(
      (axis) =>
        [
          moved(shape, axis, settings.positionUncertainty_m),
          moved(shape, axis, -settings.positionUncertainty_m),
        ] as const,
    );
    const grown = [
      resized(shape, settings.contourUncertainty_m),
      resized(shape, -settings.contourUncertainty_m),
    ] as const;
    return { label: regions[index].label, iron_kg: object.iron_kg, voltages: family(shape, [...moves, grown], true) };
  });
  return { thread, plan, relativeWeight, objects, vialVoltage: family(calibration.contour, [], false), nuisances };
}

/** One replica's answers for every region, and for each object the same with its own iron taken out (zero twin). */
export interface Replica {
  readonly answers: readonly IronMassAnswer[];
  /** Twin's value, kg, in the order of the objects */
  readonly twins: readonly number[];
  readonly slope: number;
}

export function replica(setup: ReplicaSetup, seed: number, { noiseFactor = 1, withIron = true } = {}): Replica {
  const { thread, plan, nuisances, objects } = setup;
  const calibration = thread.folder.study.model.calibration;
  if (calibration === undefined) throw new Error("study changed");
  const draw = stream(seed, 1);
  const noisy = { ...nuisances, noise_V_per_rtHz: nuisances.noise_V_per_rtHz * noiseFactor };
  const record = (voltage: Float64Array | undefined, job: number) =>
    voltageRows(recordVoltage(voltage, thread.raster, noisy, stream(seed, job)), thread.model);
  const width = draw.normal();
  const stock = 1 + calibration.stockAssayRelativeUncertainty * draw.normal();
  const vials = calibration.vials.map((vial, i) => {
    // The stated masses are known to within the stock assay (common) and pipetting (own); the vial holds what it holds.
    const held = vial.ironMass_kg * stock + vial.standardUncertainty_kg * draw.normal();
    const scan = record(mix(setup.vialVoltage, held, [width]), 10 + i);
    return readVial(plan, scan, { geometry: thread.geometry, vial });
  });
  const line = calibrationLine(vials, { stockRelativeUncertainty: calibration.stockAssayRelativeUncertainty });
  const parts = objects.map(({ iron_kg, voltages }) =>
    mix(
      voltages,
      withIron ? iron_kg : 0,
      [width, draw.normal(), draw.normal(), draw.normal(), draw.normal()],
      2 * draw.uniform() - 1,
    ),
  );
  const total = parts.reduce((sum, part) => sum.map((value, i) => value + part[i]));
  const scan = record(total, 2);
  const readings = readRegions(plan, scan, { geometry: thread.geometry, name: "object" });
  const answers = readings.map((reading) => answerIronMass(reading, line));
  const noiseFree = (part: Float64Array) => voltageRowsOfSignal(part, setup);
  const twins = parts.map(
    (part, i) => answers[i].value_kg - applyFunctional(plan.regions.estimators[i], noiseFree(part)) / line.slope,
  );
  return { answers, twins, slope: line.slope };
}

/** Second-order expansion about the base in each parameter (no mixed terms), plus a share of the drawn-together shape. */
function mix(family: VoltageFamily, iron_kg: number, parameters: readonly number[], coreShare = 0): Float64Array {
  const out = new Float64Array(family.base.length);
  for (let i = 0; i < out.length; i++) {
    let value = family.base[i];
    parameters.forEach((t, p) => {
      const { up, down } = family.pairs[p];
      value += (t * (up[i] - down[i])) / 2 + (t * t * (up[i] + down[i] - 2 * family.base[i])) / 2;
    });
    if (family.core !== undefined) value += coreShare * (family.core[i] - family.base[i]);
    out[i] = iron_kg * value;
  }
  return out;
}

/** Harmonics of a noise-free signal: what the background subtraction would leave of it. */
function voltageRowsOfSignal(signal: Float64Array, { thread }: ReplicaSetup): Float64Array {
  const still: Nuisances = { noise_V_per_rtHz: 0, feedthrough_V: 0, distortion: 0, driftAmplitude: 0, drift_s: 1 };
  return voltageRows(recordVoltage(signal, thread.raster, still, silence), thread.model).harmonics;
}

/** A stream of zeros: recording without noise. */
const silence: RandomStream = {
  ...stream(0),
  fillNormal: (out: Float64Array) => out.fill(0),
  uniform: () => 0.5,
  normal: () => 0,
};

function moved(shape: RegionShape, axis: number, distance_m: number): RegionShape {
  const center = [...shape.center_m] as [number, number, number];
  center[axis] += distance_m;
  return { ...shape, center_m: center };
}

function resized(shape: RegionShape, distance_m: number): RegionShape {
  if (shape.kind === "sphere") return { ...shape, diameter_m: shape.diameter_m + 2 * distance_m };
  const [x, y, z] = shape.size_m;
  return { ...shape, size_m: [x + 2 * distance_m, y + 2 * distance_m, z + 2 * distance_m] };
}

function scaled(shape: RegionShape, factor: number): RegionShape {
  if (shape.kind === "sphere") return { ...shape, diameter_m: shape.diameter_m * factor };
  return { ...shape, size_m: [shape.size_m[0] * factor, shape.size_m[1] * factor, shape.size_m[2] * factor] };
}
