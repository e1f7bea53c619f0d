import { readFileSync } from "node:fs";
import { langevin } from "../../src/physics/particle/langevin.js";
import { brownianMagnetisation } from "../../src/physics/relaxation/brownian-fokker-planck.js";
import { debyeMagnetisation } from "../../src/physics/relaxation/debye.js";
import { fieldDependentMagnetisation } from "../../src/physics/relaxation/field-dependent.js";
import { parallelTime, type TimeLaw, transverseTime } from "../../src/physics/relaxation/field-dependent-times.js";
import { fixedAxisEquilibrium, randomAxesEquilibrium } from "../../src/physics/relaxation/fixed-axes-equilibrium.js";
import {
  brownianUnderCosine,
  type Harmonic,
  waveformHarmonic,
} from "../../src/physics/relaxation/fokker-planck-harmonics.js";
import { exactNeelTime_s } from "../../src/physics/relaxation/neel-eigenvalue.js";
import { neelMagnetisation } from "../../src/physics/relaxation/neel-fokker-planck.js";
import { neelAtAngle, neelRandomAxes } from "../../src/physics/relaxation/neel-random-axes.js";
import type { PeriodicMagnetisation } from "../../src/physics/relaxation/periodic-magnetisation.js";
import { quasiStaticHarmonic } from "../../src/physics/relaxation/quasi-static-harmonics.js";
import { cosineDrive, type PeriodicField, pulsedDrive, sineDrive } from "../../src/physics/signal/periodic-field.js";

/** Shared by the gate and the meter: our periodic steady states against general-purpose solvers. */
interface Waveform {
  readonly xi: number;
  readonly omegaTau: number;
  readonly drive?: "cosine" | "sine" | "pulses";
  readonly rise?: number;
  readonly bias?: number;
  readonly sigma?: number;
  readonly psi?: number;
  /** M/Ms at 64 even times. */
  readonly m: readonly number[];
}

interface Truth {
  readonly brownianRadauAgainstLsoda: number;
  readonly brownian: readonly Waveform[];
  readonly neelParallel: readonly Waveform[];
  readonly neelOblique: readonly Waveform[];
  readonly neelAverage: readonly Waveform[];
  /** sigma, xi, random axes, axes along the field. */
  readonly fixedAxes: readonly (readonly [number, number, number, number])[];
  /** xi, along, across, in Brown times. */
  readonly integralTimes: readonly (readonly [number, number, number])[];
  readonly neelEigenvalues: readonly (readonly [number, string])[];
  readonly staticHarmonics: readonly (readonly [number, number, string])[];
}

export const truth: Truth = JSON.parse(readFileSync(new URL("./truth.json", import.meta.url), "utf8"));

const samples = 64;
/** Period 2 pi, so that the frequency is this and tau is w tau. */
const frequency_Hz = 1 / (2 * Math.PI);

function driveOf({ drive = "cosine", rise = 0, bias = 0 }: Waveform): PeriodicField {
  if (drive === "sine") return sineDrive(1, frequency_Hz);
  if (drive === "pulses") return pulsedDrive(1, frequency_Hz, { riseTime_s: rise * 2 * Math.PI });
  return cosineDrive(1, frequency_Hz, { bias_T: bias });
}

export interface WaveformError {
  readonly name: string;
  /** Largest difference of a sample of M/Ms. */
  readonly sample: number;
  /** Largest |difference| of harmonics 1 to 31 (complex, so phase counts). */
  readonly harmonic: number;
  readonly result: PeriodicMagnetisation;
}

function errorOf(kind: string, waveform: Waveform, result: PeriodicMagnetisation): WaveformError {
  const difference = Float64Array.from(waveform.m, (value, k) => result.magnetisation[k] - value);
  const harmonics = Array.from({ length: 31 }, (_, i) => waveformHarmonic(difference, i + 1).amplitude);
  const { xi, omegaTau, drive = "cosine", sigma, psi } = waveform;
  const axis = `${sigma === undefined ? "" : ` sigma ${sigma}`}${psi === undefined ? "" : ` psi ${psi}`}`;
  return {
    name: `${kind} ${drive} xi ${xi} w tau ${omegaTau}${axis}`,
    sample: Math.max(...difference.map(Math.abs)),
    harmonic: Math.max(...harmonics),
    result,
  };
}

/** At the tolerance that callers get when they ask for nothing. */
export function brownianErrors(options: { tolerance?: number } = {}): WaveformError[] {
  return truth.brownian.map((waveform) => {
    const particle = { xiPerTesla: waveform.xi, brownTime_s: waveform.omegaTau };
    const result = brownianMagnetisation(driveOf(waveform), particle, { samples, ...options });
    return errorOf("Brown", waveform, result);
  });
}

const coreOf = ({ xi, sigma = 0, omegaTau }: Waveform) => ({ xiPerTesla: xi, barrier: sigma, freeTime_s: omegaTau });

export function neelErrors(): WaveformError[] {
  const parallel = truth.neelParallel.map((waveform) =>
    errorOf("Neel parallel", waveform, neelMagnetisation(driveOf(waveform), coreOf(waveform), { samples })),
  );
  const oblique = truth.neelOblique.map((waveform) => {
    const core = { ...coreOf(waveform), cosAngle: Math.cos(waveform.psi ?? 0) };
    return errorOf("Neel oblique", waveform, neelAtAngle(driveOf(waveform), core, { samples }));
  });
  const average = truth.neelAverage.map((waveform) =>
    errorOf("Neel random", waveform, neelRandomAxes(driveOf(waveform), coreOf(waveform), { samples })),
  );
  return [...parallel, ...oblique, ...average];
}

/** Absolute errors of the static curves: random axes, and axes along the field. */
export function staticErrors(): { name: string; error: number }[] {
  return truth.fixedAxes.flatMap(([sigma, xi, random, along]) => [
    { name: `random axes sigma ${sigma} xi ${xi}`, error: Math.abs(randomAxesEquilibrium(xi, sigma) - random) },
    {
      name: `axes along sigma ${sigma} xi ${xi}`,
      error: Math.abs(fixedAxisEquilibrium(xi, { barrier: sigma }) - along),
    },
  ]);
}

/** Relative errors of the exact Neel time. */
export function eigenvalueErrors(): { name: string; error: number }[] {
  return truth.neelEigenvalues.map(([sigma, mu]) => ({
    name: `sigma ${sigma}`,
    error: Math.abs((exactNeelTime_s(sigma, 1) * Number(mu)) / 2 - 1),
  }));
}

export function staticHarmonicErrors(): { name: string; error: number }[] {
  return truth.staticHarmonics.map(([xi, n, value]) => ({
    name: `c_${n} at xi ${xi}`,
    error: Math.abs(quasiStaticHarmonic(xi, n) - Number(value)),
  }));
}

/** How far the effective-field times are from the exact areas under the decay, relative. */
export function timeLawDeviations(): { name: string; deviation: number }[] {
  const off = (law: TimeLaw, xi: number, exact: number) => law(xi) / exact - 1;
  return truth.integralTimes.flatMap(([xi, along, across]) => [
    { name: `along, xi ${xi}`, deviation: off(parallelTime, xi, along) },
    { name: `across, xi ${xi}`, deviation: off(transverseTime, xi, across) },
  ]);
}

/** Harmonic n of Brownian particles, of the Debye-filtered Langevin curve, and of the rate equation, at one drive. */
export function threeModels(
  xi: number,
  omegaTau: number,
  order: number,
): Record<"fokkerPlanck" | "debye" | "peak" | "instantaneous", Harmonic> {
  const field = cosineDrive(1, frequency_Hz);
  const particle = { xiPerTesla: xi, brownTime_s: omegaTau };
  const equilibrium = (field_T: Float64Array) => field_T.map((value) => langevin(xi * value));
  const harmonic = ({ magnetisation }: PeriodicMagnetisation) => waveformHarmonic(magnetisation, order);
  return {
    fokkerPlanck: harmonic(brownianUnderCosine(xi, omegaTau)),
    debye: harmonic(debyeMagnetisation(field, equilibrium, { relaxationTime_s: omegaTau })),
    peak: harmonic(fieldDependentMagnetisation(field, particle, { dependence: "peak" })),
    instantaneous: harmonic(fieldDependentMagnetisation(field, particle, { dependence: "instantaneous" })),
  };
}
