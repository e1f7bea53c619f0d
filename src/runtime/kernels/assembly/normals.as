// Twin of `fillNormal` of src/numerics/random/stream.ts (SFC64 of sfc64.ts, ziggurat of ziggurat.ts; source and checks
// there). The 64-bit words are whole here, the tables and the two transcendental functions come from the host, so that
// every draw has the same bits.
// No allocation, no globals that change: all memory is the host's, by address.

// @ts-ignore: decorator
@external("env", "exp") declare function exp(x: f64): f64;
// @ts-ignore: decorator
@external("env", "log1p") declare function log1p(x: f64): f64;

const edge: f64 = 3.654152885361009;
const unit: f64 = 1.0 / 9007199254740992.0;
const positions: u64 = (1 << 52) - 1;

/** One step of the generator: words a, b, c, counter and the output, low half first. */
// @ts-ignore: decorator
@inline function draw(state: usize): u64 {
  const a = load<u64>(state);
  const b = load<u64>(state, 8);
  const c = load<u64>(state, 16);
  const counter = load<u64>(state, 24);
  const out = a + b + counter;
  store<u64>(state, b ^ (b >> 11));
  store<u64>(state, c + (c << 3), 8);
  store<u64>(state, rotl<u64>(c, 24) + out, 16);
  store<u64>(state, counter + 1, 24);
  store<u64>(state, out, 32);
  return out;
}

function nextUnit(state: usize): f64 {
  return <f64>(draw(state) >> 11) * unit;
}

/** The tail beyond the edge. */
function tail(state: usize): f64 {
  let beyond: f64;
  let y: f64;
  do {
    beyond = -log1p(-nextUnit(state)) / edge;
    y = -log1p(-nextUnit(state));
  } while (!(2 * y > beyond * beyond));
  return edge + beyond;
}

/** Addresses: state of 5 words of 64 bits; bound, width, height [256] and out [count] of doubles. */
export function normals(state: usize, bound: usize, width: usize, height: usize, out: usize, count: i32): void {
  const end = out + (<usize>count << 3);
  // The generator's words stay out of memory but for the rare draws.
  let a = load<u64>(state);
  let b = load<u64>(state, 8);
  let c = load<u64>(state, 16);
  let counter = load<u64>(state, 24);
  let bits = load<u64>(state, 32);
  while (out < end) {
    bits = a + b + counter;
    a = b ^ (b >> 11);
    b = c + (c << 3);
    c = rotl<u64>(c, 24) + bits;
    counter += 1;
    const strip = <usize>(bits & 0xff) << 3;
    const place = (bits >> 9) & positions;
    const position = <f64>place;
    let x = position * load<f64>(width + strip);
    let sign = bits;
    if (position >= load<f64>(bound + strip)) {
      save(state, a, b, c, counter, bits);
      let isTaken = true;
      if (strip == 0) {
        x = tail(state);
        sign = place;
      } else {
        const low = load<f64>(height + strip);
        const y = (load<f64>(height + strip - 8) - low) * nextUnit(state) + low;
        isTaken = y < exp((-x * x) / 2);
      }
      a = load<u64>(state);
      b = load<u64>(state, 8);
      c = load<u64>(state, 16);
      counter = load<u64>(state, 24);
      bits = load<u64>(state, 32);
      if (!isTaken) continue;
    }
    // Bit 8 is the sign: set without a branch, for it would be guessed wrong every other time.
    store<u64>(out, reinterpret<u64>(x) | ((sign & 0x100) << 55));
    out += 8;
  }
  save(state, a, b, c, counter, bits);
}

// @ts-ignore: decorator
@inline function save(state: usize, a: u64, b: u64, c: u64, counter: u64, out: u64): void {
  store<u64>(state, a);
  store<u64>(state, b, 8);
  store<u64>(state, c, 16);
  store<u64>(state, counter, 24);
  store<u64>(state, out, 32);
}
