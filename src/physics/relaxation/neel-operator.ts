import type { LinearMotion } from "./linear-motion.js";

export interface NeelAxis {
  /** sigma = K V/(kB T). */
  readonly barrier: number;
  /** Cosine of the angle between easy axis and field. */
  readonly cosAngle: number;
  /** Free Neel time tau_N0, s. */
  readonly freeTime_s: number;
  /** Degrees and orders of the spherical harmonics kept. */
  readonly degrees: number;
  readonly orders: number;
}

/**
 * Moments c_lm = <R_lm> of a moment that diffuses over the sphere, R_lm real orthonormal harmonics about the *easy axis*, even in the
 * azimuth from the plane of axis and field. For any function f of the direction, and v = -U/(kB T),
 *   2 tau_N0 d<f>/dt = <lap f + grad v . grad f>,  v = sigma cos^2 theta + xi (cos psi cos theta + sin psi sin theta cos phi)
 * and, for the part v_k of degree k,
 *   grad v_k . grad R_l = (1/2) sum_l' [l(l+1) + k(k+1) - l'(l'+1)] (v_k R_l)_l'
 * so only the products of R with cos theta and sin theta cos phi are needed. No precession: see neel-random-axes.ts.
 *
 * Index: orders m = 0, 1, ... in turn, degrees l = max(m, 1) ... L within each; the band is L + 1 wide (2 for m = 0 alone).
 *
 * Source      W. F. Brown, Phys. Rev. 130:1677 (1963), without the gyroscopic term; from memory. Products of harmonics: textbook.
 * Checked by  checks/relaxation (matrices by quadrature of the weak form, field along z)
 */
export function neelMotion({ barrier, cosAngle, freeTime_s, degrees, orders }: NeelAxis): LinearMotion {
  const sinAngle = Math.sqrt(Math.max(0, 1 - cosAngle * cosAngle));
  const top = sinAngle === 0 ? 0 : Math.min(orders, degrees);
  const labels: [number, number][] = [];
  for (let m = 0; m <= top; m++) for (let l = Math.max(m, 1); l <= degrees; l++) labels.push([l, m]);
  const place = new Map(labels.map(([l, m], i) => [key(l, m), i]));
  const size = labels.length;
  const b = top === 0 ? 2 : degrees + 1;
  const width = 2 * b + 1;
  const a0 = new Float64Array(size * width);
  const a1 = new Float64Array(size * width);
  const g0 = new Float64Array(size);
  const g1 = new Float64Array(size);
  const c00 = 1 / Math.sqrt(4 * Math.PI);
  labels.forEach(([l, m], i) => {
    const put = (matrix: Float64Array, start: Float64Array, terms: readonly Term[], k: number) => {
      for (const term of terms) {
        const factor = (l * (l + 1) + k * (k + 1) - term.l * (term.l + 1)) / 2;
        const value = (factor * term.value) / (2 * freeTime_s);
        if (term.l === 0) start[i] += value * c00;
        const j = place.get(key(term.l, term.m));
        if (j !== undefined) matrix[i * width + j - i + b] += value;
      }
    };
    a0[i * width + b] -= (l * (l + 1)) / (2 * freeTime_s);
    put(a0, g0, scaled(barrier, squareTerms(l, m)), 2);
    put(a1, g1, scaled(cosAngle, cosineTerms(l, m)), 1);
    put(a1, g1, scaled(sinAngle, sineTerms(l, m)), 1);
  });
  const observed = new Float64Array(size);
  const unit = Math.sqrt((4 * Math.PI) / 3);
  observed[place.get(key(1, 0)) ?? 0] = unit * cosAngle;
  const across = place.get(key(1, 1));
  if (across !== undefined) observed[across] = unit * sinAngle;
  const edge = labels.flatMap(([l, m], i) => (l === degrees || (m === top && top > 0 && top < degrees) ? [i] : []));
  const parity = Float64Array.from(labels, ([l]) => (l % 2 === 0 ? 1 : -1));
  return { size, halfBand: b, a0, a1, g0, g1, observed, parity, edge };
}

interface Term {
  readonly l: number;
  readonly m: number;
  readonly value: number;
}

const key = (l: number, m: number) => 4096 * m + l;
const scaled = (factor: number, terms: readonly Term[]) =>
  terms.map((term) => ({ ...term, value: factor * term.value }));

/** cos theta R_l-1,m holds R_lm this much. */
const rise = (l: number, m: number) => Math.sqrt((l * l - m * m) / (4 * l * l - 1));

/** cos theta R_lm. */
function cosineTerms(l: number, m: number): Term[] {
  const up = { l: l + 1, m, value: rise(l + 1, m) };
  return l > m ? [up, { l: l - 1, m, value: rise(l, m) }] : [up];
}

/** (cos^2 theta - 1/3) R_lm: the constant third of v has no gradient, and without it v is of degree 2 alone. */
function squareTerms(l: number, m: number): Term[] {
  const twice = cosineTerms(l, m).flatMap((first) =>
    cosineTerms(first.l, m).map((second) => ({ ...second, value: first.value * second.value })),
  );
  return [...twice, { l, m, value: -1 / 3 }];
}

/** sin theta cos phi R_lm; orders 0 and 1 meet with another weight, because R_l0 is normalised without the sqrt 2. */
function sineTerms(l: number, m: number): Term[] {
  const above = (2 * l + 1) * (2 * l + 3);
  const below = (2 * l - 1) * (2 * l + 1);
  const upward = m === 0 ? Math.SQRT1_2 : 0.5;
  const downward = m === 1 ? Math.SQRT1_2 : 0.5;
  const terms: Term[] = [
    { l: l + 1, m: m + 1, value: upward * Math.sqrt(((l + m + 1) * (l + m + 2)) / above) },
    { l: l - 1, m: m + 1, value: -upward * Math.sqrt(((l - m) * (l - m - 1)) / below) },
  ];
  if (m > 0)
    terms.push(
      { l: l + 1, m: m - 1, value: -downward * Math.sqrt(((l - m + 1) * (l - m + 2)) / above) },
      { l: l - 1, m: m - 1, value: downward * Math.sqrt(((l + m) * (l + m - 1)) / below) },
    );
  return terms.filter((term) => term.m <= term.l);
}
