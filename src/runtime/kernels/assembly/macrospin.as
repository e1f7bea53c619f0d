// Twin of src/physics/chains/macrospin-steps.ts, two chains to a vector. The formulas, their validity and their source
// stand there; here only the order of operations matters, and it is the same for each chain.
// No allocation, no globals that change: all memory is the host's, by address.
import { add, both, div, mul, root, storeLanes, sub } from "./vector";

/** Bytes of the x, y and z of one spin of a pair of chains. */
const spin: usize = 3 * 16;

/**
 * Addresses of doubles: state and easyAxis [3, spins, chains], direction [3, chains], fields [steps + 1], dipole [spins],
 * noise [steps, 3, spins, chains]; work: 13 vectors for each spin. Rows may be read, never written, 8 bytes past their
 * end.
 */
export function macrospin(
  state: usize,
  easyAxis: usize,
  direction: usize,
  fields: usize,
  dipole: usize,
  noise: usize,
  work: usize,
  spins: i32,
  chains: i32,
  steps: i32,
  anisotropy: f64,
  thermal: f64,
  precession: f64,
  damping: f64,
): void {
  const row = <usize>chains << 3;
  const plane = row * <usize>spins;
  const size = <usize>spins * spin;
  // Work space: of every spin moment, predicted moment, slope and easy axis; then g of every distance.
  const moments = work;
  const predicted = moments + size;
  const slopes = predicted + size;
  const axes = slopes + size;
  const couplings = axes + size;
  for (let n = 0; n < spins; n++) v128.store(couplings + (<usize>n << 4), both(load<f64>(dipole + (<usize>n << 3))));
  const half = both(0.5 * precession);
  const whole = both(precession);
  const alpha = both(damping);
  for (let chain = 0; chain < chains; chain += 2) {
    const lanes = chains - chain > 1 ? 2 : 1;
    const column = <usize>chain << 3;
    for (let i = 0; i < spins; i++) {
      const from = column + <usize>i * row;
      const to = <usize>i * spin;
      for (let axis: usize = 0; axis < 3; axis++) {
        v128.store(moments + to + (axis << 4), v128.load(state + from + axis * plane));
        v128.store(axes + to + (axis << 4), v128.load(easyAxis + from + axis * plane));
      }
    }
    const ux = v128.load(direction + column);
    const uy = v128.load(direction + row + column);
    const uz = v128.load(direction + 2 * row + column);
    for (let step = 0; step < steps; step++) {
      const drawn = noise + column + <usize>step * 3 * plane;
      for (let stage = 0; stage < 2; stage++) {
        const applied = both(load<f64>(fields + (<usize>(step + stage) << 3)));
        const ax = mul(applied, ux);
        const ay = mul(applied, uy);
        const az = mul(applied, uz);
        const s = stage == 0 ? moments : predicted;
        const own = s + size;
        let number = drawn;
        let coupling = couplings;
        for (let at: usize = 0; at < size; at += spin, number += row, coupling += 16) {
          // Neighbours before, then after, as in the definition.
          let sumX = both(0);
          let sumY = both(0);
          let sumZ = both(0);
          let g = coupling;
          let j = s;
          for (; j < s + at; j += spin, g -= 16) {
            const strength = v128.load(g);
            sumX = add(sumX, mul(strength, v128.load(j)));
            sumY = add(sumY, mul(strength, v128.load(j, 16)));
            sumZ = add(sumZ, mul(strength, v128.load(j, 32)));
          }
          g = couplings + 16;
          for (j += spin; j < own; j += spin, g += 16) {
            const strength = v128.load(g);
            sumX = add(sumX, mul(strength, v128.load(j)));
            sumY = add(sumY, mul(strength, v128.load(j, 16)));
            sumZ = add(sumZ, mul(strength, v128.load(j, 32)));
          }
          const x = v128.load(s + at);
          const y = v128.load(s + at, 16);
          const z = v128.load(s + at, 32);
          const ex = v128.load(axes + at);
          const ey = v128.load(axes + at, 16);
          const ez = v128.load(axes + at, 32);
          const easy = mul(both(anisotropy), add(add(mul(x, ex), mul(y, ey)), mul(z, ez)));
          let bx = sub(add(ax, mul(easy, ex)), sumX);
          let by = sub(add(ay, mul(easy, ey)), sumY);
          let bz = add(add(az, mul(easy, ez)), mul(both(2), sumZ));
          if (thermal > 0) {
            bx = add(bx, mul(both(thermal), v128.load(number)));
            by = add(by, mul(both(thermal), v128.load(number + plane)));
            bz = add(bz, mul(both(thermal), v128.load(number + 2 * plane)));
          }
          const cx = sub(mul(y, bz), mul(z, by));
          const cy = sub(mul(z, bx), mul(x, bz));
          const cz = sub(mul(x, by), mul(y, bx));
          const fx = add(cx, mul(alpha, sub(mul(y, cz), mul(z, cy))));
          const fy = add(cy, mul(alpha, sub(mul(z, cx), mul(x, cz))));
          const fz = add(cz, mul(alpha, sub(mul(x, cy), mul(y, cx))));
          if (stage == 0) {
            v128.store(slopes + at, fx);
            v128.store(slopes + at, fy, 16);
            v128.store(slopes + at, fz, 32);
            v128.store(predicted + at, sub(x, mul(whole, fx)));
            v128.store(predicted + at, sub(y, mul(whole, fy)), 16);
            v128.store(predicted + at, sub(z, mul(whole, fz)), 32);
          } else {
            const m = moments + at;
            const f = slopes + at;
            const nx = sub(v128.load(m), mul(half, add(v128.load(f), fx)));
            const ny = sub(v128.load(m, 16), mul(half, add(v128.load(f, 16), fy)));
            const nz = sub(v128.load(m, 32), mul(half, add(v128.load(f, 32), fz)));
            const scale = div(both(1), root(add(add(mul(nx, nx), mul(ny, ny)), mul(nz, nz))));
            v128.store(m, mul(nx, scale));
            v128.store(m, mul(ny, scale), 16);
            v128.store(m, mul(nz, scale), 32);
          }
        }
      }
    }
    for (let i = 0; i < spins; i++)
      for (let axis: usize = 0; axis < 3; axis++)
        storeLanes(
          state + column + <usize>i * row + axis * plane,
          v128.load(moments + <usize>i * spin + (axis << 4)),
          lanes,
        );
  }
}
