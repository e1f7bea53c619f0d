/** Moments below this share of <P_0> are left out. */
const negligible = 1e-8;

/**
 * Legendre moments that a particle in a field up to xi needs: the first n at which the equilibrium moment is negligible,
 * and two more. The moments of the moving particle are no larger than those of the highest field it meets.
 *   <P_n> / <P_n-1> = q_n = xi / (2n + 1 + xi q_n+1)    (equilibrium, continued fraction from far above)
 *
 * Valid for   every xi from 0; 18 at xi 5, 31 at 20, 50 at 60, 194 at 1000, about 6.1 sqrt(xi) far out
 * Source      recurrence of the modified spherical Bessel functions; derived
 * Checked by  brownian-fokker-planck.test.ts (the answer does not move with twice as many)
 */
export function legendreMoments(xi: number): number {
  const top = Math.ceil(40 + 12 * Math.sqrt(xi));
  const ratio = new Float64Array(top + 2);
  for (let n = top; n >= 1; n--) ratio[n] = xi / (2 * n + 1 + xi * ratio[n + 1]);
  let moment = 1;
  let n = 0;
  while (n < top && moment > negligible) moment *= ratio[++n];
  return n + 2;
}
