import { erfc } from "./erf.js";
import { polynomial } from "./polynomial.js";

/**
 * Cumulative standard normal distribution.
 *   Φ(x) = erfc(−x/√2)/2
 *
 * Valid for   every x. Relative error below 1e-15 for x > −1, growing as x²·1e-16 in the far lower tail (1/√2 is
 *             rounded): 1e-14 at −8, 2e-13 at −37 (measured); 0 below −38.6.
 * Source      definition
 * Checked by  checks/special-functions
 */
export function normalCdf(x: number): number {
  return erfc(-x * Math.SQRT1_2) / 2;
}

/** Density of the standard normal distribution. */
export function normalPdf(x: number): number {
  return Math.exp((-x * x) / 2) * 0.3989422804014327;
}

/**
 * Quantile of the standard normal distribution, the inverse of `normalCdf`.
 *
 * @param p  probability; 0 and 1 give ∓Infinity, outside [0, 1] NaN
 *
 * Valid for   1e-300 < p < 1; relative error below 1e-15 (for p near 1 pass 1 − p and change the sign).
 * Source      Wichura, Appl. Stat. 37:477 (1988), algorithm AS 241 (PPND16); coefficients from memory, confirmed by
 *             the check.
 * Checked by  checks/special-functions
 */
export function normalQuantile(p: number): number {
  if (!(p >= 0 && p <= 1)) return Number.NaN;
  const q = p - 0.5;
  if (Math.abs(q) <= 0.425) {
    const r = 0.180625 - q * q;
    return (q * polynomial(centreP, r)) / polynomial(centreQ, r);
  }
  const nearer = q < 0 ? p : 1 - p;
  if (nearer === 0) return q < 0 ? Number.NEGATIVE_INFINITY : Number.POSITIVE_INFINITY;
  const r = Math.sqrt(-Math.log(nearer));
  const size =
    r <= 5
      ? polynomial(sideP, r - 1.6) / polynomial(sideQ, r - 1.6)
      : polynomial(farP, r - 5) / polynomial(farQ, r - 5);
  return q < 0 ? -size : size;
}

const centreP = [
  3.3871328727963665, 133.14166789178438, 1971.5909503065513, 13731.69376550946, 45921.95393154987, 67265.7709270087,
  33430.57558358813, 2509.0809287301227,
];
const centreQ = [
  1, 42.31333070160091, 687.1870074920579, 5394.196021424751, 21213.794301586597, 39307.89580009271, 28729.085735721943,
  5226.495278852854,
];
const sideP = [
  1.4234371107496835, 4.630337846156546, 5.769497221460691, 3.6478483247632045, 1.2704582524523684, 0.2417807251774506,
  0.022723844989269184, 0.0007745450142783414,
];
const sideQ = [
  1, 2.053191626637759, 1.6763848301838038, 0.6897673349851, 0.14810397642748008, 0.015198666563616457,
  0.0005475938084995345, 1.0507500716444169e-9,
];
const farP = [
  6.657904643501103, 5.463784911164114, 1.7848265399172913, 0.29656057182850487, 0.026532189526576124,
  0.0012426609473880784, 2.7115555687434876e-5, 2.0103343992922881e-7,
];
const farQ = [
  1, 0.599832206555888, 0.1369298809227358, 0.014875361290850615, 0.0007868691311456133, 1.8463183175100548e-5,
  1.421511758316446e-7, 2.0442631033899397e-15,
];
