/** What `turnAxes` needs of a time span. */
export interface AxisSpan {
  /** dt / (2 tau_B): time over twice the Brown time. */
  readonly mobility: number;
  /** 2 K V / (kB T). */
  readonly torque: number;
  /** Standard normals, same shape as the axes. */
  readonly noise: Float64Array;
}

/**
 * Turns easy axes that float in a liquid, the moments held still.
 *   de = dt/(2 tau_B) (2KV/kB T) (s . e) (s - (s . e) e) + sqrt(dt/tau_B) N x e,  one Heun step, then unit length
 * The axis is pulled to its moment by the torque with which it pulls the moment, and diffuses with D = 1/(2 tau_B).
 * Alternated with the moments' own steps: each of the two keeps the Boltzmann distribution of the pair.
 *
 * @param state  moments, shape [3, n]
 * @param easyAxis  axes, shape [3, n], changed in place
 *
 * Valid for   spans short against tau_B and tau_B kB T/(2KV); inertia and translation of the core ignored
 * Source      rotational diffusion with the torque of uniaxial anisotropy; derived
 * Checked by  checks/chains (free axes give Langevin's curve)
 */
export function turnAxes(state: Float64Array, easyAxis: Float64Array, { mobility, torque, noise }: AxisSpan): void {
  const n = state.length / 3;
  const pull = mobility * torque;
  const spread = Math.sqrt(2 * mobility);
  for (let x = 0, y = n, z = 2 * n; x < n; x++, y++, z++) {
    const s = [state[x], state[y], state[z]] as const;
    const e = [easyAxis[x], easyAxis[y], easyAxis[z]] as const;
    const turn = [spread * noise[x], spread * noise[y], spread * noise[z]] as const;
    const first = axisChange(s, e, { pull, turn });
    const second = axisChange(s, [e[0] + first[0], e[1] + first[1], e[2] + first[2]], { pull, turn });
    const next = e.map((value, k) => value + 0.5 * (first[k] + second[k]));
    const length = Math.hypot(...next);
    easyAxis[x] = next[0] / length;
    easyAxis[y] = next[1] / length;
    easyAxis[z] = next[2] / length;
  }
}

type Vector = readonly [number, number, number];

function axisChange(s: Vector, e: Vector, { pull, turn }: { pull: number; turn: Vector }): Vector {
  const along = s[0] * e[0] + s[1] * e[1] + s[2] * e[2];
  const drive = pull * along;
  return [
    drive * (s[0] - along * e[0]) + turn[1] * e[2] - turn[2] * e[1],
    drive * (s[1] - along * e[1]) + turn[2] * e[0] - turn[0] * e[2],
    drive * (s[2] - along * e[2]) + turn[0] * e[1] - turn[1] * e[0],
  ];
}
