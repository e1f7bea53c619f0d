import { type PeriodBasis, type PreparedScan, projectFrames } from "../../imaging/index.js";
import type { MassFunctional } from "./mass-functional.js";

/**
 * Variance that background drift between the empties adds to a functional, kg².
 *
 * Each interior block's miss by its neighbours' interpolation, less its own noise, shows how far the background strays
 * from a straight line over twice the gap. Over one gap a smooth drift strays a quarter of that, a random walk 1/√2 of it;
 * the variance of a random walk (half) is taken. The stray is a parabola over the gap, common to its patches, and
 * independent between gaps. The harmonics' own correlation is kept, because whole misses are projected.
 *
 * @returns NaN when there are fewer than three blocks of empties: drift cannot be judged then
 */
export function driftVariance(functional: MassFunctional, scan: PreparedScan, basis: PeriodBasis): number {
  const kept = basis.last - basis.first + 1;
  const n = basis.samplesPerPeriod;
  const misses = scan.leaveOneOut.length / n;
  if (misses === 0) return Number.NaN;
  const harmonics = projectFrames(scan.leaveOneOut, basis.sine, n);
  const gaps = bumpOverGaps(functional, scan, kept);
  const ownNoise = (1.5 * scan.noise_V ** 2 * 2) / n / scan.framesPerEmpty;
  let total = 0;
  for (let gap = 0; gap < scan.blocks - 1; gap++) {
    let squares = 0;
    for (let miss = 0; miss < misses; miss++) {
      let inner = 0;
      for (let h = 0; h < kept; h++) inner += gaps[gap * kept + h] * harmonics[miss * kept + h];
      squares += inner * inner;
    }
    let own = 0;
    for (let h = 0; h < kept; h++) own += ownNoise * gaps[gap * kept + h] ** 2;
    total += squares / misses - own;
  }
  return Math.max(0, total / 2);
}

/** Σ over a gap's patches of 4s(1 − s) z, [gaps × harmonics]. */
function bumpOverGaps({ z }: MassFunctional, { emptyWeights, blocks }: PreparedScan, kept: number): Float64Array {
  const gaps = new Float64Array((blocks - 1) * kept);
  for (let p = 0; p < emptyWeights.block.length; p++) {
    const late = emptyWeights.late[p];
    const bump = 4 * late * (1 - late);
    for (let h = 0; h < kept; h++) gaps[emptyWeights.block[p] * kept + h] += bump * z[p * kept + h];
  }
  return gaps;
}
