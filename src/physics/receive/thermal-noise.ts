import { boltzmannConstant_J_per_K, type Formula } from "../../units/index.js";
import { requireBetween } from "../particle/ranges.js";

/**
 * Thermal noise of a resistance, one-sided density.
 *   v = sqrt(4 kB T R)
 *
 * @returns V/Hz^0.5; times sqrt(bandwidth) the rms voltage
 * Valid for   frequencies far below kB T / h (6 THz at 300 K), the resistance at temperature T
 * Source      Nyquist, Phys. Rev. 32:110 (1928); from memory
 * Checked by  checks/receive-chain (facts W42: 0.910159 nV/Hz^0.5 at 50 Ohm, 300 K)
 */
export function thermalNoise_V_per_sqrtHz(resistance_Ohm: number, temperature_K: number): number {
  requireBetween(resistance_Ohm, [0, Number.MAX_VALUE], { path: "resistance_Ohm", example: "50" });
  requireBetween(temperature_K, [0, Number.MAX_VALUE], { path: "temperature_K", example: "300" });
  return Math.sqrt(4 * boltzmannConstant_J_per_K * temperature_K * resistance_Ohm);
}

export const johnsonNoiseFormula: Formula = {
  name: "johnson-noise",
  subject: "noise",
  summary: "thermal noise of a resistance",
  equation: "v = sqrt(4 kB T R) per root hertz; rms = v sqrt(bandwidth)",
  inputs: [
    { name: "resistance", kind: "resistance", summary: "resistance", example: "50 Ohm", minimum: 0 },
    {
      name: "temperature",
      kind: "temperature",
      summary: "absolute temperature of the resistance",
      example: "300 K",
      default: "300 K",
      minimum: 0,
    },
    {
      name: "bandwidth",
      kind: "frequency",
      summary: "bandwidth of the rms voltage",
      example: "1 MHz",
      default: "1 Hz",
      minimum: 0,
    },
  ],
  outputs: [
    { name: "noise-density", kind: "voltageNoise", unit: "nV/Hz^0.5", summary: "one-sided density" },
    { name: "noise-voltage", kind: "voltage", unit: "nV", summary: "rms voltage in the bandwidth" },
  ],
  validity: "frequencies far below kB T / h; white over the bandwidth",
  source: { text: "Nyquist, Phys. Rev. 32:110 (1928); recomputed", status: "from memory" },
  compute: ({ resistance, temperature, bandwidth }) => {
    const density = thermalNoise_V_per_sqrtHz(resistance, temperature);
    return { "noise-density": density, "noise-voltage": density * Math.sqrt(bandwidth) };
  },
};
