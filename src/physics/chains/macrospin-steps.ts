/**
 * One block of work for a `MacrospinKernel`: equal chains of equal moments, side by side in memory and unaware of each other.
 * The chain lies along z; `chains` runs fastest, so that neighbours in memory are the same spin of neighbouring chains.
 */
export interface MacrospinBlock {
  readonly spins: number;
  readonly chains: number;
  readonly steps: number;
  /** Directions of the moments, unit vectors, shape [3, spins, chains]; advanced in place. */
  readonly state: Float64Array;
  /** Easy axes, unit vectors, shape [3, spins, chains]; only read. */
  readonly easyAxis: Float64Array;
  /** Direction of the applied field in the frame of each chain, unit vectors, shape [3, chains]. */
  readonly fieldDirection: Float64Array;
  /** Applied field at the start of every step and at the end of the last, T, shape [steps + 1]. */
  readonly field_T: Float64Array;
  /** mu0 m / (4 pi (n a)^3) of neighbours n places apart, T, shape [spins]; entry 0 is not read. */
  readonly dipoleField_T: Float64Array;
  /** 2 K V / m, T; 0 without anisotropy. */
  readonly anisotropyField_T: number;
  /** Standard deviation of each component of the thermal field over one step, T; 0: deterministic. */
  readonly thermalField_T: number;
  /** Standard normals, shape [steps, 3, spins, chains]; not read when `thermalField_T` is 0. */
  readonly noise: Float64Array;
  /** gamma dt / (1 + alpha^2), rad/T. */
  readonly precession_per_T: number;
  /** alpha. */
  readonly damping: number;
}

/**
 * Advances every chain of a block by its steps. A twin of `macrospinSteps` has this signature and gives the same bits:
 * every operation is + - * / or a square root on doubles, in the order written (no fused multiply-add, no reordered sum).
 */
export type MacrospinKernel = (block: MacrospinBlock) => void;

/**
 * Landau-Lifshitz-Gilbert motion of chains of macrospins, by Heun steps.
 *   ds/dt = -gamma/(1 + alpha^2) [s x B + alpha s x (s x B)]
 *   B_i = B_applied + B_K (s_i . e_i) e_i + sum_j g_|i-j| (3 s_jz z - s_j) + B_thermal
 * Predictor t = s + f(s) dt, corrector s + (f(s) + f(t)) dt/2, then scaled to unit length. The same thermal field serves
 * both stages, which makes the limit the Stratonovich one.
 *
 * Valid for   steps with gamma B dt well below 1 (0.1 and less); order 2 without noise, weak order 1 with it
 *             (bias of averages proportional to dt, see `suggestedStep_s`: compare with half the step)
 * Source      Garcia-Palacios & Lazaro, Phys. Rev. B 58:14937 (1998), stochastic Heun; from memory
 * Checked by  checks/chains (Boltzmann averages, closed forms, scipy), macrospin-steps.test.ts
 */
export const macrospinSteps: MacrospinKernel = (block) => {
  const { spins, chains, steps, state, precession_per_T, damping } = block;
  const length = 3 * spins;
  // Work space of one chain, planes x, y, z: moments, predicted moments, field, slopes at both stages.
  const s = new Float64Array(length);
  const predicted = new Float64Array(length);
  const field = new Float64Array(length);
  const first = new Float64Array(length);
  const second = new Float64Array(length);
  const half = 0.5 * precession_per_T;
  for (let chain = 0; chain < chains; chain++) {
    // [3, spins] of one chain lie `chains` apart: plane and spin are one running index.
    for (let k = 0; k < length; k++) s[k] = state[k * chains + chain];
    for (let step = 0; step < steps; step++) {
      localFields(block, { chain, step, stage: 0 }, { s, field });
      slopes(s, field, { damping, out: first });
      for (let k = 0; k < length; k++) predicted[k] = s[k] - precession_per_T * first[k];
      localFields(block, { chain, step, stage: 1 }, { s: predicted, field });
      slopes(predicted, field, { damping, out: second });
      for (let k = 0; k < length; k++) s[k] = s[k] - half * (first[k] + second[k]);
      for (let x = 0, y = spins, z = 2 * spins; x < spins; x++, y++, z++) {
        const scale = 1 / Math.sqrt(s[x] * s[x] + s[y] * s[y] + s[z] * s[z]);
        s[x] = s[x] * scale;
        s[y] = s[y] * scale;
        s[z] = s[z] * scale;
      }
    }
    for (let k = 0; k < length; k++) state[k * chains + chain] = s[k];
  }
};

/** Field on every spin of one chain at one stage of a step, T, planes x, y, z. */
function localFields(
  block: MacrospinBlock,
  { chain, step, stage }: { chain: number; step: number; stage: number },
  { s, field }: { s: Float64Array; field: Float64Array },
): void {
  const { spins, chains, easyAxis, fieldDirection, dipoleField_T, anisotropyField_T, thermalField_T, noise } = block;
  const applied = block.field_T[step + stage];
  const appliedX = applied * fieldDirection[chain];
  const appliedY = applied * fieldDirection[chains + chain];
  const appliedZ = applied * fieldDirection[2 * chains + chain];
  const plane = spins * chains;
  for (let i = 0; i < spins; i++) {
    const x = i;
    const y = spins + i;
    const z = 2 * spins + i;
    // Neighbours before, then after: sums of g s in the order of their place in the chain.
    let sumX = 0;
    let sumY = 0;
    let sumZ = 0;
    for (let j = 0; j < i; j++) {
      const g = dipoleField_T[i - j];
      sumX += g * s[j];
      sumY += g * s[spins + j];
      sumZ += g * s[2 * spins + j];
    }
    for (let j = i + 1; j < spins; j++) {
      const g = dipoleField_T[j - i];
      sumX += g * s[j];
      sumY += g * s[spins + j];
      sumZ += g * s[2 * spins + j];
    }
    const at = i * chains + chain;
    const ex = easyAxis[at];
    const ey = easyAxis[plane + at];
    const ez = easyAxis[2 * plane + at];
    const easy = anisotropyField_T * (s[x] * ex + s[y] * ey + s[z] * ez);
    field[x] = appliedX + easy * ex - sumX;
    field[y] = appliedY + easy * ey - sumY;
    field[z] = appliedZ + easy * ez + 2 * sumZ;
    if (thermalField_T > 0) {
      const drawn = 3 * plane * step + at;
      field[x] = field[x] + thermalField_T * noise[drawn];
      field[y] = field[y] + thermalField_T * noise[drawn + plane];
      field[z] = field[z] + thermalField_T * noise[drawn + 2 * plane];
    }
  }
}

/** s x B + alpha s x (s x B) of every spin; the motion is minus this times gamma dt / (1 + alpha^2). */
function slopes(s: Float64Array, field: Float64Array, { damping, out }: { damping: number; out: Float64Array }): void {
  const spins = s.length / 3;
  for (let x = 0, y = spins, z = 2 * spins; x < spins; x++, y++, z++) {
    const cx = s[y] * field[z] - s[z] * field[y];
    const cy = s[z] * field[x] - s[x] * field[z];
    const cz = s[x] * field[y] - s[y] * field[x];
    out[x] = cx + damping * (s[y] * cz - s[z] * cy);
    out[y] = cy + damping * (s[z] * cx - s[x] * cz);
    out[z] = cz + damping * (s[x] * cy - s[y] * cx);
  }
}
