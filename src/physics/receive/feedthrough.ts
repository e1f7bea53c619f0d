import { requireBetween, requirePositive } from "../particle/ranges.js";

/**
 * Voltage that the drive induces directly in the receive coil.
 *   u = 2 pi f |M| I e,  e the share that the balance leaves (1: a single winding)
 *
 * @param mutualInductance_H  of the drive coil with one side of the receive coil
 * @param current_A  peak of the drive current
 * @param options.imbalance  share left after opposing windings or cancellation
 * @returns peak, V
 * Source      Faraday's law; definition. Checked by feedthrough.test.ts
 */
export function feedthroughVoltage_V(
  mutualInductance_H: number,
  current_A: number,
  { frequency_Hz, imbalance = 1 }: { frequency_Hz: number; imbalance?: number },
): number {
  requirePositive(frequency_Hz, "frequency_Hz", "25e3");
  requireImbalance(imbalance);
  return 2 * Math.PI * frequency_Hz * Math.abs(mutualInductance_H * current_A) * imbalance;
}

/**
 * The same where the drive is uniform over the receive coil.
 *   u = 2 pi f A S e,  S the area-turns along the drive (pi a^2 N for a round coil)
 *
 * @param amplitude_T  *peak* mu0*H of the drive
 * @returns peak, V
 * Source      Faraday's law; definition. Checked by checks/receive-chain (20 mm loop, 20 mT, 25 kHz: 3.948 V)
 */
export function uniformFeedthroughVoltage_V(
  amplitude_T: number,
  areaTurns_m2: number,
  { frequency_Hz, imbalance = 1 }: { frequency_Hz: number; imbalance?: number },
): number {
  requirePositive(frequency_Hz, "frequency_Hz", "25e3");
  requireImbalance(imbalance);
  return 2 * Math.PI * frequency_Hz * Math.abs(amplitude_T * areaTurns_m2) * imbalance;
}

function requireImbalance(imbalance: number): void {
  requireBetween(imbalance, [0, 1], { path: "imbalance", example: "0.01 (1 % of one side)" });
}
