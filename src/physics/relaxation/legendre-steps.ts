/** One period (or any stretch) of a drive, cut into steps, and the particles that go through it. */
export interface LegendreSteps {
  /** mu0H at the three stage times of every step, T, shape [steps, 3]; the stage times are `radauNodes` of the step. */
  readonly stageField_T: Float64Array;
  /** Length of every step, s, shape [steps]. */
  readonly step_s: Float64Array;
  /** xi per tesla of every particle, 1/T, shape [particles]. */
  readonly xiPerTesla: Float64Array;
  /** Brown time of every particle, s, shape [particles]. */
  readonly brownTime_s: Float64Array;
  /** Moments kept, N. */
  readonly moments: number;
  /** <P_n> for n = 1..N, shape [N, particles], particle fastest: the start on entry, the end on return. */
  readonly state: Float64Array;
  /** Written: <P_1> = M/Ms at the end of every step, shape [steps, particles]. */
  readonly trace: Float64Array;
  /** Written: the largest |<P_N>| at the end of any step, shape [particles]. */
  readonly tail: Float64Array;
}

/** The hot loop of the Brownian Fokker-Planck equation: a definition and its twins have this one signature. */
export type BrownianKernel = (steps: LegendreSteps) => void;

/** Stage times of a step as fractions of its length: (4 - sqrt 6)/10, (4 + sqrt 6)/10, 1. */
export const radauNodes: readonly [number, number, number] = [0.1550510257216822, 0.6449489742783178, 1];

// Inverse of the Radau IIA matrix, with r = sqrt 6: (2 + r/2, -6/5 + 29r/30, 2/5 - 4r/15), (-6/5 - 29r/30, 2 - r/2,
// 2/5 + 4r/15), (-1 + 8r/3, -1 - 8r/3, 5); and its row sums.
const w00 = 3.224744871391589;
const w01 = 1.1678400846904056;
const w02 = -0.25319726474218085;
const w10 = -3.5678400846904057;
const w11 = 0.775255128608411;
const w12 = 1.0531972647421808;
const w20 = 5.531972647421808;
const w21 = -7.531972647421808;
const w22 = 5;
const sum0 = 4.139387691339814;
const sum1 = -1.7393876913398136;
const sum2 = 3;

/** The inverse of the Radau IIA matrix, [3, 3], for other users of the same rule. */
export const radauInverse: readonly number[] = [w00, w01, w02, w10, w11, w12, w20, w21, w22];

/**
 * Rotational diffusion of particles in a field along one axis, by Legendre moments: many particles, one drive.
 *   2 tau d<P_n>/dt = n(n+1) { -<P_n> + xi(t) [<P_n-1> - <P_n+1>] / (2n+1) },  <P_0> = 1, <P_N+1> = 0
 * Three-stage Radau IIA: with y_i the moments at stage i, h the step, d_n = h n(n+1)/(2 tau), s_n = d_n/(2n+1),
 *   sum_j w_ij (y_j,n - c_n) = -d_n y_i,n + s_n xi_i (y_i,n-1 - y_i,n+1)
 * which is tridiagonal in n with 3 x 3 blocks. Eliminated from n = N down (y_n = e_n + G_n y_n-1), then upwards.
 *
 * Only + - * / and comparisons, in a fixed order for each particle: a twin that keeps the order gives the same bits.
 *
 * Valid for   every xi and every h/tau. No pivot can vanish: each block is W + d_n + s_n s_n+1 Xi B^-1 Xi with B the block
 *             above, and W has a positive symmetric part in the diagonal metric b_i/c_i (least eigenvalue of twice it
 *             1.11), in which the diagonal matrix Xi is symmetric; so B, B^-1 and the sum have one too.
 *             Order 5; a step long against tau lands on the equilibrium of the field at its end.
 * Source      equation: Felderhof & Jones, J. Phys. Cond. Mat. 15:4011 (2003), from memory, consistency derived.
 *             Radau IIA: Hairer & Wanner, Solving Ordinary Differential Equations II, IV.5, from memory (inverse
 *             recomputed with 40 digits).
 * Checked by  checks/relaxation (general solver of variable order)
 */
export function legendreSteps(steps: LegendreSteps): void {
  const { xiPerTesla, moments, state } = steps;
  const particles = xiPerTesla.length;
  const work = {
    moments: new Float64Array(moments),
    rate: new Float64Array(moments),
    coupling: new Float64Array(moments),
    e: new Float64Array(3 * moments),
    g: new Float64Array(9 * moments),
  };
  for (let p = 0; p < particles; p++) {
    for (let n = 0; n < moments; n++) work.moments[n] = state[n * particles + p];
    oneParticle(steps, p, work);
    for (let n = 0; n < moments; n++) state[n * particles + p] = work.moments[n];
  }
}

interface Work {
  /** <P_n> of this particle, [N]. */
  readonly moments: Float64Array;
  /** d_n and s_n of this step, [N]. */
  readonly rate: Float64Array;
  readonly coupling: Float64Array;
  /** Elimination: e_n, [N, 3], and G_n, [N, 3, 3]. */
  readonly e: Float64Array;
  readonly g: Float64Array;
}

function oneParticle(steps: LegendreSteps, p: number, work: Work): void {
  const { stageField_T, step_s, xiPerTesla, brownTime_s, trace, tail } = steps;
  const particles = xiPerTesla.length;
  const last = work.moments.length - 1;
  const k = xiPerTesla[p];
  const tau = brownTime_s[p];
  let largest = 0;
  let length_s = -1;
  for (let s = 0; s < step_s.length; s++) {
    if (step_s[s] !== length_s) {
      length_s = step_s[s];
      setRates(work, length_s / (2 * tau));
    }
    eliminate(work, k * stageField_T[3 * s], k * stageField_T[3 * s + 1], k * stageField_T[3 * s + 2]);
    substitute(work);
    trace[s * particles + p] = work.moments[0];
    const size = Math.abs(work.moments[last]);
    if (size > largest) largest = size;
  }
  tail[p] = largest;
}

/** d_n = half n(n+1) and s_n = d_n/(2n+1), with half = h/(2 tau). */
function setRates({ rate, coupling }: Work, half: number): void {
  for (let i = 0; i < rate.length; i++) {
    const n = i + 1;
    const d = half * (n * (n + 1));
    rate[i] = d;
    coupling[i] = d / (2 * n + 1);
  }
}

/** From the highest moment down: y_n = e_n + G_n y_n-1, with G_n = B^-1 s_n Xi, e_n = B^-1 (w c_n - s_n Xi e_n+1). */
function eliminate({ moments, rate, coupling, e, g }: Work, xi0: number, xi1: number, xi2: number): void {
  let g00 = 0;
  let g01 = 0;
  let g02 = 0;
  let g10 = 0;
  let g11 = 0;
  let g12 = 0;
  let g20 = 0;
  let g21 = 0;
  let g22 = 0;
  let e0 = 0;
  let e1 = 0;
  let e2 = 0;
  for (let n = moments.length - 1; n >= 0; n--) {
    const c = moments[n];
    const d = rate[n];
    const s = coupling[n];
    const s0 = s * xi0;
    const s1 = s * xi1;
    const s2 = s * xi2;
    // B = W + d + s Xi G of the moment above
    const b00 = w00 + d + s0 * g00;
    const b01 = w01 + s0 * g01;
    const b02 = w02 + s0 * g02;
    const b10 = w10 + s1 * g10;
    const b11 = w11 + d + s1 * g11;
    const b12 = w12 + s1 * g12;
    const b20 = w20 + s2 * g20;
    const b21 = w21 + s2 * g21;
    const b22 = w22 + d + s2 * g22;
    // adjugate of B
    const a00 = b11 * b22 - b12 * b21;
    const a01 = b02 * b21 - b01 * b22;
    const a02 = b01 * b12 - b02 * b11;
    const a10 = b12 * b20 - b10 * b22;
    const a11 = b00 * b22 - b02 * b20;
    const a12 = b02 * b10 - b00 * b12;
    const a20 = b10 * b21 - b11 * b20;
    const a21 = b01 * b20 - b00 * b21;
    const a22 = b00 * b11 - b01 * b10;
    const inverse = 1 / (b00 * a00 + b01 * a10 + b02 * a20);
    const r0 = (sum0 * c - s0 * e0) * inverse;
    const r1 = (sum1 * c - s1 * e1) * inverse;
    const r2 = (sum2 * c - s2 * e2) * inverse;
    e0 = a00 * r0 + a01 * r1 + a02 * r2;
    e1 = a10 * r0 + a11 * r1 + a12 * r2;
    e2 = a20 * r0 + a21 * r1 + a22 * r2;
    const t0 = s0 * inverse;
    const t1 = s1 * inverse;
    const t2 = s2 * inverse;
    g00 = a00 * t0;
    g01 = a01 * t1;
    g02 = a02 * t2;
    g10 = a10 * t0;
    g11 = a11 * t1;
    g12 = a12 * t2;
    g20 = a20 * t0;
    g21 = a21 * t1;
    g22 = a22 * t2;
    const row = 3 * n;
    e[row] = e0;
    e[row + 1] = e1;
    e[row + 2] = e2;
    const block = 9 * n;
    g[block] = g00;
    g[block + 1] = g01;
    g[block + 2] = g02;
    g[block + 3] = g10;
    g[block + 4] = g11;
    g[block + 5] = g12;
    g[block + 6] = g20;
    g[block + 7] = g21;
    g[block + 8] = g22;
  }
}

/** Upwards from <P_0> = 1: y_n = e_n + G_n y_n-1; the last stage is the end of the step. */
function substitute({ moments, e, g }: Work): void {
  let y0 = 1;
  let y1 = 1;
  let y2 = 1;
  for (let n = 0; n < moments.length; n++) {
    const row = 3 * n;
    const block = 9 * n;
    const z0 = e[row] + (g[block] * y0 + g[block + 1] * y1 + g[block + 2] * y2);
    const z1 = e[row + 1] + (g[block + 3] * y0 + g[block + 4] * y1 + g[block + 5] * y2);
    const z2 = e[row + 2] + (g[block + 6] * y0 + g[block + 7] * y1 + g[block + 8] * y2);
    moments[n] = z2;
    y0 = z0;
    y1 = z1;
    y2 = z2;
  }
}
