// Twin of src/physics/relaxation/legendre-steps.ts, two particles to a vector. The formulas, their validity and their
// source stand there; here only the order of operations matters, and it is the same.
// No allocation, no globals that change: all memory is the host's, by address.
import { add, both, div, mul, storeLanes, sub } from "./vector";

const w00: f64 = 3.2247448713915890491;
const w01: f64 = 1.1678400846904054949;
const w02: f64 = -0.25319726474218082619;
const w10: f64 = -3.5678400846904054949;
const w11: f64 = 0.7752551286084109509;
const w12: f64 = 1.0531972647421808262;
const w20: f64 = 5.5319726474218082619;
const w21: f64 = -7.5319726474218082619;
const w22: f64 = 5;
const sum0: f64 = 4.1393876913398137178;
const sum1: f64 = -1.7393876913398137178;
const sum2: f64 = 3;

/** Bytes that a pair of particles needs for one moment: moment, rate, coupling, e (3), G (9), one vector each. */
const cell: usize = 15 * 16;

/**
 * Pairs that are moved together. Their operations are independent, so that a processor works on one while it waits for
 * another; more of them would leave the nearest cache.
 */
const most: i32 = 2;

/**
 * Addresses of doubles: stageField [steps, 3], stepLength [steps], xi, tau, tail [particles], state [moments, particles],
 * trace [steps, particles]; work: (15 moments + 20) vectors for each of two pairs. Rows may be read, never written,
 * 8 bytes past their end.
 */
export function legendre(
  stageField: usize,
  stepLength: usize,
  xi: usize,
  tau: usize,
  state: usize,
  trace: usize,
  tail: usize,
  work: usize,
  moments: i32,
  steps: i32,
  particles: i32,
): void {
  const row = <usize>particles << 3;
  for (let p = 0; p < particles; p += 2 * most) {
    const pairs = min(most, (particles - p + 1) >> 1);
    const first = <usize>p << 3;
    const stride = <usize>pairs * cell;
    const workEnd = work + <usize>moments * stride;
    // Behind the moments: of every pair xi at the three stages, and the largest last moment.
    const stages = workEnd + stride;
    for (let q = 0; q < pairs; q++) {
      let source = state + first + (<usize>q << 4);
      for (let w = work + <usize>q * cell; w < workEnd; w += stride, source += row) v128.store(w, v128.load(source));
      v128.store(stages + (<usize>q << 6), both(0), 48);
    }
    let length: f64 = -1;
    let out = trace + first;
    let field = stageField;
    for (let s = 0; s < steps; s++, field += 24, out += row) {
      const next = load<f64>(stepLength + (<usize>s << 3));
      if (next != length) {
        length = next;
        for (let q = 0; q < pairs; q++) {
          const twice = mul(both(2), v128.load(tau + first + (<usize>q << 4)));
          setRates(work + <usize>q * cell, workEnd, stride, div(both(length), twice));
        }
      }
      for (let q = 0; q < pairs; q++) {
        const k = v128.load(xi + first + (<usize>q << 4));
        const stage = stages + (<usize>q << 6);
        v128.store(stage, mul(k, both(load<f64>(field))));
        v128.store(stage, mul(k, both(load<f64>(field, 8))), 16);
        v128.store(stage, mul(k, both(load<f64>(field, 16))), 32);
        clearCell(workEnd + <usize>q * cell);
      }
      eliminate(work, workEnd, stride, stages);
      substitute(work, workEnd, stride);
      for (let q = 0; q < pairs; q++) {
        const lanes = lanesOf(particles - p - 2 * q);
        storeLanes(out + (<usize>q << 4), v128.load(work + <usize>q * cell), lanes);
        const stage = stages + (<usize>q << 6);
        const size = v128.abs<f64>(v128.load(workEnd - stride + <usize>q * cell));
        v128.store(stage, v128.pmax<f64>(v128.load(stage, 48), size), 48);
      }
    }
    for (let q = 0; q < pairs; q++) {
      const lanes = lanesOf(particles - p - 2 * q);
      let source = state + first + (<usize>q << 4);
      for (let w = work + <usize>q * cell; w < workEnd; w += stride, source += row)
        storeLanes(source, v128.load(w), lanes);
      storeLanes(tail + first + (<usize>q << 4), v128.load(stages + (<usize>q << 6), 48), lanes);
    }
  }
}

// @ts-ignore: decorator
@inline function lanesOf(left: i32): i32 {
  return left > 1 ? 2 : 1;
}

/** e and G above the highest moment: zero. */
function clearCell(w: usize): void {
  for (let i: usize = 48; i < cell; i += 16) v128.store(w + i, both(0));
}

function setRates(work: usize, workEnd: usize, stride: usize, half: v128): void {
  let n: f64 = 1;
  for (let w = work; w < workEnd; w += stride, n += 1) {
    const d = mul(half, both(n * (n + 1)));
    v128.store(w, d, 16);
    v128.store(w, div(d, both(2 * n + 1)), 32);
  }
}

/** Moments from the highest down, and at each moment pair after pair. */
function eliminate(work: usize, workEnd: usize, stride: usize, stages: usize): void {
  for (let row = workEnd - stride; row >= work; row -= stride) {
    let stage = stages;
    for (let w = row; w < row + stride; w += cell, stage += 64) {
      // What the moment above left.
      const above = w + stride;
      let e0 = v128.load(above, 48);
      let e1 = v128.load(above, 64);
      let e2 = v128.load(above, 80);
      let g00 = v128.load(above, 96);
      let g01 = v128.load(above, 112);
      let g02 = v128.load(above, 128);
      let g10 = v128.load(above, 144);
      let g11 = v128.load(above, 160);
      let g12 = v128.load(above, 176);
      let g20 = v128.load(above, 192);
      let g21 = v128.load(above, 208);
      let g22 = v128.load(above, 224);
      const xi0 = v128.load(stage);
      const xi1 = v128.load(stage, 16);
      const xi2 = v128.load(stage, 32);
      const c = v128.load(w);
      const d = v128.load(w, 16);
      const s = v128.load(w, 32);
      const s0 = mul(s, xi0);
      const s1 = mul(s, xi1);
      const s2 = mul(s, xi2);
      // B = W + d + s Xi G of the moment above
      const b00 = add(add(both(w00), d), mul(s0, g00));
      const b01 = add(both(w01), mul(s0, g01));
      const b02 = add(both(w02), mul(s0, g02));
      const b10 = add(both(w10), mul(s1, g10));
      const b11 = add(add(both(w11), d), mul(s1, g11));
      const b12 = add(both(w12), mul(s1, g12));
      const b20 = add(both(w20), mul(s2, g20));
      const b21 = add(both(w21), mul(s2, g21));
      const b22 = add(add(both(w22), d), mul(s2, g22));
      // adjugate of B
      const a00 = sub(mul(b11, b22), mul(b12, b21));
      const a01 = sub(mul(b02, b21), mul(b01, b22));
      const a02 = sub(mul(b01, b12), mul(b02, b11));
      const a10 = sub(mul(b12, b20), mul(b10, b22));
      const a11 = sub(mul(b00, b22), mul(b02, b20));
      const a12 = sub(mul(b02, b10), mul(b00, b12));
      const a20 = sub(mul(b10, b21), mul(b11, b20));
      const a21 = sub(mul(b01, b20), mul(b00, b21));
      const a22 = sub(mul(b00, b11), mul(b01, b10));
      const inverse = div(both(1), add(add(mul(b00, a00), mul(b01, a10)), mul(b02, a20)));
      const r0 = mul(sub(mul(both(sum0), c), mul(s0, e0)), inverse);
      const r1 = mul(sub(mul(both(sum1), c), mul(s1, e1)), inverse);
      const r2 = mul(sub(mul(both(sum2), c), mul(s2, e2)), inverse);
      e0 = add(add(mul(a00, r0), mul(a01, r1)), mul(a02, r2));
      e1 = add(add(mul(a10, r0), mul(a11, r1)), mul(a12, r2));
      e2 = add(add(mul(a20, r0), mul(a21, r1)), mul(a22, r2));
      const t0 = mul(s0, inverse);
      const t1 = mul(s1, inverse);
      const t2 = mul(s2, inverse);
      g00 = mul(a00, t0);
      g01 = mul(a01, t1);
      g02 = mul(a02, t2);
      g10 = mul(a10, t0);
      g11 = mul(a11, t1);
      g12 = mul(a12, t2);
      g20 = mul(a20, t0);
      g21 = mul(a21, t1);
      g22 = mul(a22, t2);
      v128.store(w, e0, 48);
      v128.store(w, e1, 64);
      v128.store(w, e2, 80);
      v128.store(w, g00, 96);
      v128.store(w, g01, 112);
      v128.store(w, g02, 128);
      v128.store(w, g10, 144);
      v128.store(w, g11, 160);
      v128.store(w, g12, 176);
      v128.store(w, g20, 192);
      v128.store(w, g21, 208);
      v128.store(w, g22, 224);
    }
  }
}

/** Upwards, pair after pair. */
function substitute(work: usize, workEnd: usize, stride: usize): void {
  for (let first = work; first < work + stride; first += cell) {
    let y0 = both(1);
    let y1 = both(1);
    let y2 = both(1);
    for (let w = first; w < workEnd; w += stride) {
      const z0 = add(
        v128.load(w, 48),
        add(add(mul(v128.load(w, 96), y0), mul(v128.load(w, 112), y1)), mul(v128.load(w, 128), y2)),
      );
      const z1 = add(
        v128.load(w, 64),
        add(add(mul(v128.load(w, 144), y0), mul(v128.load(w, 160), y1)), mul(v128.load(w, 176), y2)),
      );
      const z2 = add(
        v128.load(w, 80),
        add(add(mul(v128.load(w, 192), y0), mul(v128.load(w, 208), y1)), mul(v128.load(w, 224), y2)),
      );
      v128.store(w, z2);
      y0 = z0;
      y1 = z1;
      y2 = z2;
    }
  }
}
