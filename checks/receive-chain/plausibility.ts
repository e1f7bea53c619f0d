import { type HarmonicChannel, massDetection } from "../../src/measure/detection/mass-detection.js";
import { coreMaterials, momentPerIron_A_m2_per_kg, xiPerTesla } from "../../src/physics/particle/core.js";
import { bodyLoading } from "../../src/physics/receive/body-loading.js";
import { uniformFeedthroughVoltage_V } from "../../src/physics/receive/feedthrough.js";
import { pointHarmonics_V_per_kg } from "../../src/physics/receive/point-harmonics.js";
import type { ReceiveChain } from "../../src/physics/receive/receive-chain.js";
import { noiseDensity_V_per_sqrtHz } from "../../src/physics/receive/receive-noise.js";
import { quasiStaticHarmonic } from "../../src/physics/relaxation/quasi-static-harmonics.js";
import { vacuumPermeability_T_m_per_A } from "../../src/units/index.js";

/** Orders of magnitude of two invented receive coils beside published detection limits: no fit, no adjustment. */
export interface ScannerCase {
  readonly name: string;
  readonly radius_m: number;
  readonly turns: number;
  readonly driveAmplitude_T: number;
  readonly driveFrequency_Hz: number;
  readonly time_s: number;
  readonly chain: ReceiveChain;
}

export const tracer = { diameter_m: 25e-9, saturation_A_per_m: 446e3, temperature_K: 300 } as const;

const amplifier = { voltageNoise_V_per_sqrtHz: 1e-9, currentNoise_A_per_sqrtHz: 1e-12, gain: 100 };
const digitiser = { bits: 16, range_V: 2, samplingRate_Hz: 2.5e6 };

/** Invented: a single turn of 20 mm radius with 1 nV/Hz^0.5, and the drive of the surprises. */
export const mouseCoil: ScannerCase = {
  name: "mouse, one turn of 20 mm",
  radius_m: 20e-3,
  turns: 1,
  driveAmplitude_T: 20e-3,
  driveFrequency_Hz: 25e3,
  time_s: 2.14,
  chain: {
    coil: { resistance_Ohm: 0.05, inductance_H: 0.1e-6, capacitance_F: 0, temperature_K: 300 },
    filter: { highPass: { corner_Hz: 45e3, order: 3 } },
    amplifier,
    digitiser,
  },
};

/** Invented: 20 turns of 120 mm around a head of 90 mm radius, 6 mT at 26 kHz. */
export const headCoil: ScannerCase = {
  name: "head, 20 turns of 120 mm",
  radius_m: 120e-3,
  turns: 20,
  driveAmplitude_T: 6e-3,
  driveFrequency_Hz: 26e3,
  time_s: 2.14,
  chain: {
    coil: {
      resistance_Ohm: 0.5,
      inductance_H: 150e-6,
      capacitance_F: 0,
      temperature_K: 300,
      body: bodyLoading({ kind: "sphere", radius_m: 90e-3 }, loopSensitivity(120e-3, 20), {
        conductivity_S_per_m: 0.36,
        frequency_Hz: 100e3,
      }),
    },
    filter: { highPass: { corner_Hz: 45e3, order: 3 } },
    amplifier,
    digitiser,
  },
};

/** Odd harmonics 3 to 39 of a point of 25 nm tracer at the field-free point, without relaxation. */
export function channelsOf({
  radius_m,
  turns,
  driveAmplitude_T,
  driveFrequency_Hz,
  chain,
}: ScannerCase): HarmonicChannel[] {
  const driveXi = driveAmplitude_T * xiPerTesla(tracer.diameter_m, tracer.saturation_A_per_m, tracer.temperature_K);
  const relative = Array.from({ length: 39 }, (_, i) => (i % 2 === 0 ? quasiStaticHarmonic(driveXi, i + 1) : 0));
  const signal = pointHarmonics_V_per_kg(relative, {
    sensitivity_T_per_A: loopSensitivity(radius_m, turns),
    momentPerIron_A_m2_per_kg: momentPerIron_A_m2_per_kg(tracer.saturation_A_per_m, coreMaterials.magnetite),
    frequency_Hz: driveFrequency_Hz,
  });
  const feedthrough = uniformFeedthroughVoltage_V(driveAmplitude_T, turns * Math.PI * radius_m ** 2, {
    frequency_Hz: driveFrequency_Hz,
  });
  return Array.from({ length: 19 }, (_, i) => 2 * i + 3).map((order) => ({
    order,
    signal_V_per_kg: signal[order - 1],
    noiseDensity_V_per_sqrtHz: noiseDensity_V_per_sqrtHz(chain, order * driveFrequency_Hz).total,
    // Distortion of the drive: 1e-6 of the feedthrough in every harmonic (surprise 11).
    background_V: 1e-6 * feedthrough,
  }));
}

/** B/I at the centre of a loop: mu0 N / (2 a). */
export function loopSensitivity(radius_m: number, turns: number): number {
  return (vacuumPermeability_T_m_per_A * turns) / (2 * radius_m);
}

export function estimate(scanner: ScannerCase, { time_s = scanner.time_s, instability = 1e-2 } = {}) {
  return massDetection(channelsOf(scanner), { time_s, instability });
}
