import { choleskyFactor, choleskySolve } from "./cholesky.js";

export interface Box {
  readonly lower: Float64Array;
  readonly upper: Float64Array;
}

/**
 * Minimum of a strictly convex quadratic inside a box that contains the origin.
 *   minimise ½·qᵀ·H·q − gᵀ·q   subject to  lower <= q <= upper
 * Primal active set: solve on the free variables, walk until a bound is met, hold it; at a free solution release the
 * held variable whose multiplier has the wrong sign, until none has.
 *
 * @param h  symmetric positive definite, row-major, [n, n]
 * @param g  [n]
 * @param box  bounds with lower <= 0 <= upper
 * @returns q, [n]; components held at a bound equal that bound exactly
 *
 * Valid for   a few dozen variables.
 * Source      Lawson & Hanson, Solving Least Squares Problems, ch. 23; Stark & Parker, Comput. Stat. 10:129 (1995);
 *             from memory.
 * Checked by  box-quadratic.test.ts (every combination of held and free variables tried)
 */
export function minimiseInBox(h: Float64Array, g: Float64Array, { lower, upper }: Box): Float64Array {
  const n = g.length;
  const q = new Float64Array(n);
  const held = new Int8Array(n); // −1 at lower, +1 at upper, 0 free
  // Each pass holds or releases at least one variable; 20·n only guards against cycling through rounding.
  for (let pass = 0; pass < 20 * n + 20; pass++) {
    const target = freeSolution(h, g, { q, held });
    const reached = walkTowards(q, target, { lower, upper, held });
    if (!reached) continue;
    const release = worstMultiplier(h, g, { q, held, lower, upper });
    if (release < 0) break;
    held[release] = 0;
  }
  return q;
}

interface Held {
  readonly q: Float64Array;
  readonly held: Int8Array;
}

function freeSolution(h: Float64Array, g: Float64Array, { q, held }: Held): Float64Array {
  const n = g.length;
  const free = Array.from(held.keys()).filter((j) => held[j] === 0);
  const sub = new Float64Array(free.length ** 2);
  const rhs = new Float64Array(free.length);
  free.forEach((i, a) => {
    rhs[a] = g[i];
    for (let j = 0; j < n; j++) if (held[j] !== 0) rhs[a] = rhs[a] - h[i * n + j] * q[j];
    free.forEach((j, b) => {
      sub[a * free.length + b] = h[i * n + j];
    });
  });
  const factor = choleskyFactor(sub, free.length);
  const target = Float64Array.from(q);
  if (factor === undefined) return target; // not positive definite to rounding: stay, the caller damps more
  const solved = choleskySolve(factor, rhs);
  free.forEach((j, a) => {
    target[j] = solved[a];
  });
  return target;
}

/** Moves q to the target, or as far as the first bound(s), which are then held. True when the target was reached. */
function walkTowards(
  q: Float64Array,
  target: Float64Array,
  { lower, upper, held }: Box & { held: Int8Array },
): boolean {
  const fractions = q.map((start, j) => {
    const step = target[j] - start;
    if (target[j] < lower[j]) return (lower[j] - start) / step;
    if (target[j] > upper[j]) return (upper[j] - start) / step;
    return Number.POSITIVE_INFINITY;
  });
  const fraction = fractions.reduce((least, value) => Math.min(least, value), 1);
  let hit = false;
  for (let j = 0; j < q.length; j++) {
    if (held[j] !== 0) continue;
    if (fractions[j] <= fraction) {
      held[j] = target[j] < lower[j] ? -1 : 1;
      q[j] = held[j] < 0 ? lower[j] : upper[j];
      hit = true;
    } else q[j] = q[j] + fraction * (target[j] - q[j]);
  }
  return !hit;
}

/** Index of the held variable that most wants to come back inside, or −1. */
function worstMultiplier(h: Float64Array, g: Float64Array, { q, held, lower, upper }: Held & Box): number {
  const n = g.length;
  let worst = -1;
  let size = 0;
  for (let j = 0; j < n; j++) {
    if (held[j] === 0 || lower[j] === upper[j]) continue;
    let slope = g[j]; // downhill direction of the quadratic at q
    for (let k = 0; k < n; k++) slope -= h[j * n + k] * q[k];
    const inward = -held[j] * slope;
    if (inward > size && inward > 1e-14 * Math.abs(g[j])) {
      size = inward;
      worst = j;
    }
  }
  return worst;
}
