/**
 * ln(1 + u) − u without cancellation near u = 0.
 *   r = u/(2 + u):  ln(1 + u) = 2·artanh r,  2r − u = −r·u  =>  −r·u + 2·(r³/3 + r⁵/5 + ...)
 *
 * @param u  > −1
 * @param onePlus  1 + u where the caller knows it better than by addition (u near −1)
 *
 * Valid for   every u > −1; relative error below 1e-15.
 * Source      derived
 * Checked by  checks/special-functions (through the distributions), log1p-minus.test.ts
 */
export function logOnePlusMinus(u: number, onePlus = 1 + u): number {
  if (u < -0.4 || u > 0.6) return Math.log(onePlus) - u;
  const r = u / (2 + u);
  const square = r * r;
  let term = r * square;
  let sum = 0;
  for (let k = 3; k < 60; k += 2) {
    sum += term / k;
    term *= square;
    if (Math.abs(term) < 1e-18 * Math.abs(sum)) break;
  }
  return 2 * sum - r * u;
}
